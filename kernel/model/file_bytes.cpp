#include "model/file_bytes.hpp"

#include "model/json_cursor.hpp"

#include <array>
#include <filesystem>
#include <fstream>
#include <system_error>

namespace ridgeward::model {

Result<std::string> file_bytes(const std::string& path) {
  std::error_code error;
  const std::filesystem::file_status status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) {
    return Fault{"file.missing", "", "there is no file " + path, "check the name and the folder"};
  }
  if (std::filesystem::is_directory(status)) {
    return Fault{"file.folder", "", path + " is a folder", "name a file in it"};
  }
  std::ifstream file(path, std::ios::binary);
  const Fault unreadable{"file.unreadable", "", path + " can't be read", "check who may read it"};
  if (error || !file) {
    return unreadable;
  }
  std::string bytes;
  std::array<char, 65536> block{};
  while (file) {
    file.read(block.data(), block.size());
    bytes.append(block.data(), static_cast<std::size_t>(file.gcount()));
    if (bytes.size() > largest_text) {
      return Fault{"file.too_large", "", path + " is larger than 64 MiB",
                   "give one building a file"};
    }
  }
  if (file.bad()) {
    return unreadable;
  }
  return bytes;
}

}  // namespace ridgeward::model

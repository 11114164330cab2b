#include "command/output_file.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <system_error>
#include <unistd.h>

namespace ridgeward::command {

namespace {

Fault unwritable(const std::string& path, const std::string& why) {
  return {"file.unwritable", "", path + " can't be written: " + why,
          "check that its folder is there and that you may write in it"};
}

bool write_bytes(const std::filesystem::path& path, std::string_view bytes) {
  std::ofstream file(path, std::ios::binary | std::ios::trunc);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  return !file.fail();
}

}  // namespace

std::optional<Fault> write_output(const std::string& path, std::string_view bytes) {
  if (path == "-") {
    const bool is_written = std::fwrite(bytes.data(), 1, bytes.size(), stdout) == bytes.size() &&
                            std::fflush(stdout) == 0;
    return is_written ? std::nullopt : std::optional(unwritable("stdout", "it is closed"));
  }
  std::error_code error;
  if (std::filesystem::is_directory(path, error)) {
    return unwritable(path, "it is a folder");
  }
  // A device or a pipe can't be replaced; a file or a link to one is.
  const auto status = std::filesystem::status(path, error);
  if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status)) {
    return write_bytes(path, bytes) ? std::nullopt
                                    : std::optional(unwritable(path, "the device refuses"));
  }
  std::filesystem::path target = std::filesystem::weakly_canonical(path, error);
  target = error ? std::filesystem::path(path) : target;
  const std::filesystem::path beside = target.string() + fmt::format(".{}.part", getpid());
  if (!write_bytes(beside, bytes)) {
    std::filesystem::remove(beside, error);
    return unwritable(path, "no room, no folder or no right");
  }
  std::filesystem::rename(beside, target, error);
  if (error) {
    const std::string why = error.message();
    std::filesystem::remove(beside, error);
    return unwritable(path, why);
  }
  return std::nullopt;
}

}  // namespace ridgeward::command

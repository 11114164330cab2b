#include "papers/file.hpp"

#include <cerrno>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <system_error>
#include <unistd.h>

namespace ridgeward::papers {

namespace {

Fault unwritable(const std::string& path, const std::string& why) {
  return {"file.unwritable", path, "can't be written: " + why,
          "name a file in a folder that exists and that you may write to"};
}

/// All of it, or why not.
std::string put(const std::string& path, const std::string& bytes) {
  errno = 0;
  std::ofstream out(path, std::ios::binary | std::ios::trunc);
  out << bytes;
  out.close();
  if (out) {
    return {};
  }
  return errno != 0 ? std::generic_category().message(errno) : "the disk took only a part";
}

}  // namespace

Result<bool> write_whole(const std::string& path, const std::string& bytes) {
  if (path == "-") {
    std::cout << bytes << std::flush;
    return std::cout ? Result<bool>(true)
                     : Result<bool>(unwritable("standard output", "it is closed"));
  }
  std::error_code error;
  if (path.empty() || std::filesystem::is_directory(path, error)) {
    return unwritable(path, path.empty() ? "the name is empty" : "it is a folder");
  }
  // A pipe or a device is written to, never replaced; a link keeps pointing where it points.
  const std::filesystem::file_status there = std::filesystem::status(path, error);
  if (std::filesystem::exists(there) && !std::filesystem::is_regular_file(there)) {
    const std::string why = put(path, bytes);
    return why.empty() ? Result<bool>(true) : Result<bool>(unwritable(path, why));
  }
  std::string target = path;
  if (std::filesystem::is_regular_file(there)) {
    const std::filesystem::path full = std::filesystem::canonical(path, error);
    target = error ? path : full.string();
  }
  const std::string beside = target + ".part" + std::to_string(::getpid());
  if (const std::string why = put(beside, bytes); !why.empty()) {
    std::filesystem::remove(beside, error);
    return unwritable(path, why);
  }
  std::filesystem::rename(beside, target, error);
  if (error) {
    const std::string why = error.message();
    std::filesystem::remove(beside, error);
    return unwritable(path, why);
  }
  return true;
}

}  // namespace ridgeward::papers

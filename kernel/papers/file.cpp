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
  const std::string beside = path + ".part" + std::to_string(::getpid());
  {
    errno = 0;
    std::ofstream out(beside, std::ios::binary | std::ios::trunc);
    out << bytes;
    out.flush();
    if (!out) {
      const std::string why = errno != 0 ? std::generic_category().message(errno)
                                         : std::string("the disk took only a part");
      out.close();
      std::filesystem::remove(beside, error);
      return unwritable(path, why);
    }
  }
  std::filesystem::rename(beside, path, error);
  if (error) {
    const std::string why = error.message();
    std::filesystem::remove(beside, error);
    return unwritable(path, why);
  }
  return true;
}

}  // namespace ridgeward::papers

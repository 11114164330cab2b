#include "papers/file.hpp"

#include <cerrno>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace ridgeward::papers {

namespace {

Fault unwritable(const std::string& path, const std::string& why) {
  return {"file.unwritable", path, "can't be written: " + why,
          "name a file in a folder that exists and that you may write to"};
}

std::string why_not() {
  return errno != 0 ? std::generic_category().message(errno) : "the disk took only a part";
}

}  // namespace

struct WholeFile::Held {
  std::string path;
  std::string beside;  ///< written first; empty where `path` itself is
  std::string target;  ///< what `beside` becomes
  std::ofstream file;
  std::ostream* out = nullptr;
  std::string trouble;
  int nameless = -1;  ///< what is written first where `beside` is no file yet
};

namespace {

/// A file without a name in that folder: nothing is left of it if the program is killed. -1 where
/// the file system knows no such files.
int nameless_in(const std::filesystem::path& folder) {
  constexpr mode_t as_umask_lets = 0666;
  return ::open(folder.empty() ? "." : folder.c_str(), O_TMPFILE | O_RDWR | O_CLOEXEC,
                as_umask_lets);
}

std::string path_of(int handle) { return "/proc/self/fd/" + std::to_string(handle); }

}  // namespace

WholeFile::WholeFile(std::unique_ptr<Held> held) : held_(std::move(held)) {}

WholeFile::~WholeFile() {
  std::error_code error;
  if (!held_->beside.empty()) {
    held_->file.close();
    std::filesystem::remove(held_->beside, error);
  }
  if (held_->nameless >= 0) {
    ::close(held_->nameless);
  }
}

Result<std::unique_ptr<WholeFile>> WholeFile::open(const std::string& path) {
  auto held = std::make_unique<Held>();
  held->path = path == "-" ? "standard output" : path;
  held->out = &held->file;
  std::error_code error;
  if (path == "-") {
    held->out = &std::cout;
    return std::unique_ptr<WholeFile>(new WholeFile(std::move(held)));
  }
  if (path.empty() || std::filesystem::is_directory(path, error)) {
    return unwritable(path, path.empty() ? "the name is empty" : "it is a folder");
  }
  // A pipe or a device is written to, never replaced; a link keeps pointing where it points.
  const std::filesystem::file_status there = std::filesystem::status(path, error);
  held->target = path;
  if (std::filesystem::is_regular_file(there)) {
    const std::filesystem::path full = std::filesystem::canonical(path, error);
    held->target = error ? path : full.string();
  }
  if (!std::filesystem::exists(there) || std::filesystem::is_regular_file(there)) {
    held->beside = held->target + ".part" + std::to_string(::getpid());
  }
  errno = 0;
  if (!held->beside.empty()) {
    held->nameless = nameless_in(std::filesystem::path(held->target).parent_path());
  }
  errno = 0;
  held->file.open(held->nameless >= 0    ? path_of(held->nameless)
                  : held->beside.empty() ? path
                                         : held->beside,
                  std::ios::binary | std::ios::trunc);
  if (!held->file) {
    return unwritable(path, why_not());
  }
  return std::unique_ptr<WholeFile>(new WholeFile(std::move(held)));
}

bool WholeFile::add(std::string_view bytes) {
  errno = 0;
  held_->out->write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  if (!*held_->out && held_->trouble.empty()) {
    held_->trouble = held_->out == &std::cout ? "it is closed" : why_not();
  }
  return held_->trouble.empty();
}

Result<bool> WholeFile::finish() {
  errno = 0;
  held_->out->flush();
  if (held_->out == &held_->file) {
    held_->file.close();
  }
  if (!*held_->out && held_->trouble.empty()) {
    held_->trouble = held_->out == &std::cout ? "it is closed" : why_not();
  }
  if (held_->trouble.empty() && !held_->beside.empty()) {
    std::error_code error;
    if (held_->nameless >= 0) {
      std::filesystem::remove(held_->beside, error);  // of a program that was killed and had our id
    }
    if (held_->nameless >= 0 && ::linkat(AT_FDCWD, path_of(held_->nameless).c_str(), AT_FDCWD,
                                         held_->beside.c_str(), AT_SYMLINK_FOLLOW) != 0) {
      error.assign(errno, std::generic_category());
    }
    if (!error) {
      std::filesystem::rename(held_->beside, held_->target, error);
    }
    if (!error) {
      held_->beside.clear();
    } else {
      held_->trouble = error.message();
    }
  }
  return held_->trouble.empty() ? Result<bool>(true)
                                : Result<bool>(unwritable(held_->path, held_->trouble));
}

Result<bool> write_whole(const std::string& path, const std::string& bytes) {
  const Result<std::unique_ptr<WholeFile>> file = WholeFile::open(path);
  if (!file) {
    return file.faults();
  }
  file.value()->add(bytes);
  return file.value()->finish();
}

}  // namespace ridgeward::papers

#include "model/file_bytes.hpp"

#include "model/json_cursor.hpp"

#include <array>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <sys/mman.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace ridgeward::model {

namespace {

Fault unreadable(const std::string& path) {
  return {"file.unreadable", "", path + " can't be read", "check who may read it"};
}

/// Why there is nothing to read at `path`; empty when there is.
Faults nothing_at(const std::string& path) {
  std::error_code error;
  const std::filesystem::file_status status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) {
    return {{"file.missing", "", "there is no file " + path, "check the name and the folder"}};
  }
  if (std::filesystem::is_directory(status)) {
    return {{"file.folder", "", path + " is a folder", "name a file in it"}};
  }
  return error ? Faults{unreadable(path)} : Faults{};
}

}  // namespace

Result<std::string> file_bytes(const std::string& path) {
  if (Faults faults = nothing_at(path); !faults.empty()) {
    return faults;
  }
  std::ifstream file(path, std::ios::binary);
  if (!file) {
    return unreadable(path);
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
    return unreadable(path);
  }
  return bytes;
}

Result<FileView> FileView::open(const std::string& path) {
  if (Faults faults = nothing_at(path); !faults.empty()) {
    return faults;
  }
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) {  // opening a pipe would wait for its writer
    return Fault{"file.unreadable", "", path + " is a pipe or a device, no file",
                 "write what comes from it into a file first"};
  }
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  struct stat status {};
  if (file < 0 || fstat(file, &status) != 0 || !S_ISREG(status.st_mode)) {
    if (file >= 0) {
      close(file);
    }
    return unreadable(path);
  }
  const auto size = static_cast<std::size_t>(status.st_size);
  void* data = size == 0 ? nullptr : mmap(nullptr, size, PROT_READ, MAP_PRIVATE, file, 0);
  close(file);
  if (data == MAP_FAILED) {
    return unreadable(path);
  }
  return FileView(static_cast<const char*>(data), size);
}

FileView::FileView(FileView&& other) noexcept
    : data_(std::exchange(other.data_, nullptr)), size_(std::exchange(other.size_, 0)) {}

FileView& FileView::operator=(FileView&& other) noexcept {
  std::swap(data_, other.data_);
  std::swap(size_, other.size_);
  return *this;
}

FileView::~FileView() {
  if (data_ != nullptr) {
    munmap(const_cast<char*>(data_), size_);  // NOLINT(cppcoreguidelines-pro-type-const-cast): C
  }
}

}  // namespace ridgeward::model

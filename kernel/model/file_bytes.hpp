#pragma once
// The bytes of an input file, or the fault in words.

#include "base/fault.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace ridgeward::model {

/// Reads all of `path`. Faults (where is empty): file.missing, file.folder, file.unreadable,
/// file.too_large (over 64 MiB).
Result<std::string> file_bytes(const std::string& path);

/// A file's bytes without reading them in: pages come and go as they are looked at. The file must
/// not shrink meanwhile.
class FileView {
 public:
  /// Faults as those of file_bytes, but any size will do; pipes and devices are file.unreadable.
  static Result<FileView> open(const std::string& path);
  FileView(FileView&& other) noexcept;
  FileView& operator=(FileView&& other) noexcept;
  FileView(const FileView&) = delete;
  FileView& operator=(const FileView&) = delete;
  ~FileView();

  std::string_view bytes() const { return {data_, size_}; }

 private:
  FileView(const char* data, std::size_t size) : data_(data), size_(size) {}
  const char* data_ = nullptr;
  std::size_t size_ = 0;
};

}  // namespace ridgeward::model

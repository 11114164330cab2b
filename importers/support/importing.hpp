#pragma once
// C++ comfort over the C contract of importers: texts as strings, faults as exceptions that never
// leave the importer.

#include "base/utf8.hpp"
#include "plugin/importer_abi.h"

#include <algorithm>
#include <cctype>
#include <cstddef>
#include <exception>
#include <map>
#include <new>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

namespace ridgeward::importing {

/// Length of the UTF-8 character at the front of `text`; 0 where there is none, or a control
/// character other than a line's end. REQUIRES text that is not empty.
inline std::size_t character_length(std::string_view text) {
  const auto first = static_cast<unsigned char>(text[0]);
  return first < 0x20U && first != '\n' ? 0 : utf8_length(text);
}

/// What a damaged file brings into a note or a fault: other bytes become "?".
inline std::string as_utf8(std::string text) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = character_length(std::string_view(text).substr(at));
    if (length == 0) {
      text[at] = '?';
    }
    at += std::max<std::size_t>(1, length);
  }
  return text;
}

/// At most `most` bytes of a text, which ends with a whole character.
inline std::string shortened(const std::string& text, std::size_t most) {
  std::size_t size = std::min(text.size(), most);
  while (size > 0 && size < text.size() &&
         (static_cast<unsigned char>(text[size]) & 0xC0U) == 0x80U) {
    --size;
  }
  return text.substr(0, size);
}

/// Thrown inside an importer for something wrong with the input.
class Refused : public std::runtime_error {
 public:
  Refused(std::string place, const std::string& words, std::string remedy)
      : std::runtime_error(words), where(std::move(place)), cure(std::move(remedy)) {}
  std::string where;
  std::string cure;
};

/// The host of one read().
class Host {
 public:
  explicit Host(const ridgeward_host& host) : host_(&host) {}
  void emit(std::string_view json) const { host_->emit(host_->context, json.data(), json.size()); }
  /// Whether the buildings of the file are wanted one by one.
  bool takes_each() const {
    constexpr std::size_t end = offsetof(ridgeward_host, emit_next) + sizeof(host_->emit_next);
    return host_->size >= end && host_->emit_next != nullptr;
  }
  /// REQUIRES takes_each().
  void emit_next(std::string_view json) const {
    host_->emit_next(host_->context, json.data(), json.size());
  }
  void note(const std::string& words) const { host_->note(host_->context, as_utf8(words).c_str()); }
  void fault(const std::string& where, const std::string& what, const std::string& cure) const {
    host_->fault(host_->context, as_utf8(where).c_str(), as_utf8(what).c_str(),
                 as_utf8(cure).c_str());
  }
  bool go_on(double share_done) const { return host_->go_on(host_->context, share_done) != 0; }

 private:
  const ridgeward_host* host_;
};

/// Lines "key=value".
inline std::map<std::string, std::string> options_of(const char* text) {
  std::map<std::string, std::string> options;
  std::string_view left = text == nullptr ? "" : text;
  while (!left.empty()) {
    const std::string_view line = left.substr(0, left.find('\n'));
    left.remove_prefix(std::min(left.size(), line.size() + 1));
    if (const std::size_t equals = line.find('='); equals != std::string_view::npos) {
      options[std::string(line.substr(0, equals))] = std::string(line.substr(equals + 1));
    }
  }
  return options;
}

/// Runs `body`; what it throws becomes a fault. Returns what read() has to return.
template <class Body>
int guarded(const ridgeward_host& host, Body body) noexcept {
  try {
    try {
      body(Host(host));
      return 0;
    } catch (const Refused& refused) {
      Host(host).fault(refused.where, refused.what(), refused.cure);
    } catch (const std::bad_alloc&) {
      Host(host).fault("", "there is not enough memory", "import a part of the file");
    } catch (const std::exception&) {
      Host(host).fault("", "the importer failed", "report the file to whoever wrote the importer");
    }
  } catch (...) {  // even telling it failed
  }
  return 1;
}

/// The read() of a table for importers that take bytes and options.
template <void (*import_bytes)(std::string_view, const std::map<std::string, std::string>&,
                               const Host&)>
int read_with(const char* bytes, std::size_t size, const char* options,
              const ridgeward_host* host) {
  return guarded(*host, [&](const Host& to) {
    import_bytes(std::string_view(bytes, size), options_of(options), to);
  });
}

/// "1 plane", "2 planes".
inline std::string counted(std::size_t count, const std::string& noun) {
  return std::to_string(count) + " " + noun + (count == 1 ? "" : "s");
}

/// "is" of one, "are" of any other number.
inline std::string is_or_are(std::size_t count) { return count == 1 ? "is" : "are"; }

/// In small letters, for names of files and layers.
inline std::string small(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

}  // namespace ridgeward::importing

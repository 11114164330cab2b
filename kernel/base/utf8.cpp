#include "base/utf8.hpp"

namespace ridgeward {

std::size_t first_not_utf8(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t length = utf8_length(text.substr(at));
    if (length == 0) {
      return at;
    }
    at += length;
  }
  return std::string_view::npos;
}

std::string as_line(std::string_view words) {
  std::string line;
  for (std::size_t at = 0; at < words.size();) {
    const std::size_t length = utf8_length(words.substr(at));
    const auto first = static_cast<unsigned char>(words[at]);
    const bool is_control = first < 0x20U || first == 0x7FU ||
                            (first == 0xC2U && static_cast<unsigned char>(words[at + 1]) < 0xA0U);
    if (length == 0) {
      line += '?';
    } else if (is_control) {
      line += ' ';
    } else {
      line += words.substr(at, length);
    }
    at += length == 0 ? 1 : length;
  }
  return line;
}

}  // namespace ridgeward

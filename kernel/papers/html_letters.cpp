// Texts and bytes made safe for HTML.
#include "papers/html.hpp"

#include <algorithm>
#include <cstdint>

namespace ridgeward::papers {

namespace {

/// Bytes of the letter that `text` starts with; 0 where it is no UTF-8 (RFC 3629, section 4) or a
/// control character that HTML does not allow.
std::size_t letter_length(std::string_view text) {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : std::uint32_t{0};
  };
  const std::uint32_t first = byte(0);
  if (first < 0x80) {
    const bool is_blank = first == '\t' || first == '\n';
    return (first >= 0x20 && first != 0x7F) || is_blank ? 1 : 0;
  }
  const std::size_t length = first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  if (length == 0 || first > 0xF4 || text.size() < length) {
    return 0;
  }
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80) {
      return 0;
    }
  }
  const std::uint32_t second = byte(1);
  const bool is_too_long = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool is_no_letter = (first == 0xED && second > 0x9F) || (first == 0xF4 && second > 0x8F);
  return is_too_long || is_no_letter ? 0 : length;
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = letter_length(text.substr(i));
    const std::string_view letter = text.substr(i, length);
    i += length == 0 ? 1 : length;
    if (letter.empty()) {
      out += "\xEF\xBF\xBD";
    } else if (letter == "&") {
      out += "&amp;";
    } else if (letter == "<") {
      out += "&lt;";
    } else if (letter == ">") {
      out += "&gt;";
    } else if (letter == "\"") {
      out += "&quot;";
    } else if (letter == "'") {
      out += "&#39;";
    } else {
      out += letter;
    }
  }
  return out;
}

std::string base64(std::string_view bytes) {
  static constexpr std::string_view letters =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - i);
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      three = three << 8U | (k < count ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    }
    for (std::size_t k = 0; k < 4; ++k) {
      out += k <= count ? letters[three >> (18U - 6U * k) & 0x3FU] : '=';
    }
  }
  return out;
}

}  // namespace ridgeward::papers

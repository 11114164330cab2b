#include "units/scan.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <utility>

namespace ridgeward::units {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return c >= 'a' && c <= 'z'; }
bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

using Spelling = std::pair<std::string_view, std::string_view>;

// UTF-8 bytes on the left. Vulgar fractions get a space before them, so that "6½" is "6 1/2".
constexpr std::array<Spelling, 21> spellings{{
    {"\xE2\x80\xB2", "'"},    {"\xE2\x80\x99", "'"},    {"\xE2\x80\x98", "'"},
    {"\xE2\x80\xB3", "\""},   {"\xE2\x80\x9D", "\""},   {"\xE2\x80\x9C", "\""},
    {"\xE2\x88\x92", "-"},    {"\xE2\x80\x93", "-"},    {"\xC2\xB2", "2"},
    {"\xC2\xB0", "deg"},      {"\xC2\xA0", " "},        {"\xE2\x80\xAF", " "},
    {"\xE2\x81\x84", "/"},    {"\xC2\xBD", " 1/2"},     {"\xC2\xBC", " 1/4"},
    {"\xC2\xBE", " 3/4"},     {"\xE2\x85\x9B", " 1/8"}, {"\xE2\x85\x9C", " 3/8"},
    {"\xE2\x85\x9D", " 5/8"}, {"\xE2\x85\x9E", " 7/8"}, {"\xE2\x80\x89", " "},
}};

}  // namespace

std::string plain_ascii(std::string_view text) {
  std::string plain;
  plain.reserve(text.size());
  while (!text.empty()) {
    const char c = text.front();
    if (static_cast<unsigned char>(c) < 0x80U) {
      plain += (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
      text.remove_prefix(1);
      continue;
    }
    bool known = false;
    for (const auto& [bytes, ascii] : spellings) {
      if (text.starts_with(bytes)) {
        plain += ascii;
        text.remove_prefix(bytes.size());
        known = true;
        break;
      }
    }
    if (!known) {
      plain += c;
      text.remove_prefix(1);
    }
  }
  return plain;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_space(text.front())) {
    text.remove_prefix(1);
  }
  while (!text.empty() && is_space(text.back())) {
    text.remove_suffix(1);
  }
  return text;
}

void Scan::skip_spaces() {
  while (!left_.empty() && is_space(left_.front())) {
    left_.remove_prefix(1);
  }
}

bool Scan::take(std::string_view word) {
  if (!left_.starts_with(word)) {
    return false;
  }
  left_.remove_prefix(word.size());
  return true;
}

std::string_view Scan::take_letters() {
  std::size_t n = 0;
  while (n < left_.size() && is_letter(left_[n])) {
    ++n;
  }
  const std::string_view word = left_.substr(0, n);
  left_.remove_prefix(n);
  return word;
}

std::optional<long> Scan::take_digits() {
  std::size_t n = 0;
  while (n < left_.size() && is_digit(left_[n])) {
    ++n;
  }
  if (n == 0 || n > 9) {
    return std::nullopt;
  }
  long value = 0;
  std::from_chars(left_.data(), left_.data() + n, value);
  left_.remove_prefix(n);
  return value;
}

std::optional<double> Scan::take_decimal() {
  std::size_t n = 0;
  bool has_digit = false;
  bool has_point = false;
  while (n < left_.size() && (is_digit(left_[n]) || (left_[n] == '.' && !has_point))) {
    has_point = has_point || left_[n] == '.';
    has_digit = has_digit || is_digit(left_[n]);
    ++n;
  }
  if (!has_digit) {
    return std::nullopt;
  }
  double value = 0.0;
  const auto [end, error] =
      std::from_chars(left_.data(), left_.data() + n, value, std::chars_format::fixed);
  if (error != std::errc{} || end != left_.data() + n || !std::isfinite(value)) {
    return std::nullopt;
  }
  left_.remove_prefix(n);
  return value;
}

std::optional<double> Scan::take_fraction() {
  const std::string_view start = left_;
  const std::optional<long> top = take_digits();
  if (top && take("/")) {
    const std::optional<long> bottom = take_digits();
    if (bottom && *bottom <= 1024 && *top > 0 && *top < *bottom) {
      return static_cast<double>(*top) / static_cast<double>(*bottom);
    }
  }
  left_ = start;
  return std::nullopt;
}

std::optional<double> Scan::take_mixed() {
  if (const std::optional<double> alone = take_fraction()) {
    return alone;
  }
  const std::string_view start = left_;
  const std::optional<double> whole = take_decimal();
  if (!whole) {
    return std::nullopt;
  }
  const std::string_view taken = start.substr(0, start.size() - left_.size());
  if (taken.find('.') != std::string_view::npos) {
    return whole;
  }
  const std::string_view after_whole = left_;
  skip_spaces();
  const bool is_apart = left_.size() < after_whole.size() || take("-");
  if (const std::optional<double> part = is_apart ? take_fraction() : std::nullopt) {
    return *whole + *part;
  }
  left_ = after_whole;
  return whole;
}

}  // namespace ridgeward::units

#pragma once
// Finds pieces of JSON text without parsing the whole, so that a large file needs no more memory
// than its largest piece. Brackets and strings are followed; what stands between is left to whoever
// parses the piece.

#include "support/importing.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>

namespace ridgeward::importing {

/// Walks over the members of the object, or the items of the list, that a text holds.
class Pieces {
 public:
  struct Piece {
    std::string_view key;  ///< as written, without its quotes; of an object
    std::string_view text;
  };
  /// Refused, with `where`, when the text is no object and no list.
  Pieces(std::string_view text, std::string where) : text_(text), where_(std::move(where)) {
    if (text_.starts_with("\xEF\xBB\xBF")) {
      at_ = 3;
    }
    skip_blanks();
    close_ = peek() == '{' ? '}' : ']';
    if (peek() != '{' && peek() != '[') {
      damaged();
    }
    ++at_;
  }

  /// How far it has come, in bytes.
  std::size_t at() const { return at_; }

  /// Gives the next piece; false after the last. Refused where the text is no JSON.
  bool next(Piece& piece) {
    skip_blanks();
    if (peek() == ',' && !is_first_) {
      ++at_;
      skip_blanks();
    } else if (peek() == close_) {
      return false;
    } else if (!is_first_) {
      damaged();
    }
    is_first_ = false;
    piece = {};
    if (close_ == '}') {
      const std::string_view quoted = string();
      piece.key = quoted.substr(1, quoted.size() - 2);
      skip_blanks();
      if (peek() != ':') {
        damaged();
      }
      ++at_;
      skip_blanks();
    }
    piece.text = value();
    return true;
  }

 private:
  [[noreturn]] void damaged() const {
    throw Refused(where_, "the text breaks off or is no JSON at byte " + std::to_string(at_),
                  "the file is damaged; get it anew");
  }
  char peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  void skip_blanks() { at_ = std::min(text_.size(), text_.find_first_not_of(" \t\r\n", at_)); }

  /// The next of `marks` from here on; the text must have one.
  void find(const char* marks) {
    at_ = text_.find_first_of(marks, at_);
    if (at_ == std::string_view::npos) {
      at_ = text_.size();
      damaged();
    }
  }

  std::string_view string() {
    const std::size_t start = at_;
    if (peek() != '"') {
      damaged();
    }
    ++at_;
    for (find("\"\\"); text_[at_] != '"'; find("\"\\")) {
      at_ += 2;  // what is escaped
    }
    ++at_;
    return text_.substr(start, at_ - start);
  }

  std::string_view value() {
    const std::size_t start = at_;
    if (peek() == '"') {
      return string();
    }
    if (peek() != '{' && peek() != '[') {
      at_ = std::min(text_.size(), text_.find_first_of(",]} \t\r\n", at_));
      return at_ > start ? text_.substr(start, at_ - start) : (damaged(), text_);
    }
    std::size_t depth = 0;
    do {
      if (peek() == '"') {
        string();
      } else {
        depth += peek() == '{' || peek() == '[' ? 1U : static_cast<std::size_t>(-1);
        ++at_;
      }
      if (depth > 0) {
        find("\"{}[]");
      }
    } while (depth > 0);
    return text_.substr(start, at_ - start);
  }

  std::string_view text_;
  std::string where_;
  std::size_t at_ = 0;
  char close_ = '}';
  bool is_first_ = true;
};

}  // namespace ridgeward::importing

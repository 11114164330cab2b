#include "dxf/text.hpp"

#include "support/importing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

namespace ridgeward::dxf {

namespace {

using importing::Refused;

constexpr double farthest = 1e9;
constexpr std::size_t most_quoted = 40;

/// Lines without the blanks around them, counted.
class Lines {
 public:
  explicit Lines(std::string_view bytes) : left_(bytes) {}

  bool is_at_end() const { return left_.empty(); }
  std::size_t count() const { return count_; }
  std::string_view next() {
    const std::size_t size = std::min(left_.find('\n'), left_.size());
    const std::string_view line = left_.substr(0, size);
    left_.remove_prefix(std::min(size + 1, left_.size()));
    ++count_;
    const std::size_t first = line.find_first_not_of(blanks);
    if (first == std::string_view::npos) {
      return {};
    }
    return line.substr(first, line.find_last_not_of(blanks) + 1 - first);
  }

 private:
  static constexpr std::string_view blanks{" \t\r\0\x1A", 5};  // some writers fill up
  std::string_view left_;
  std::size_t count_ = 0;
};

std::optional<int> code_of(std::string_view text) {
  int code = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), code);
  return error == std::errc{} && end == text.data() + text.size() ? std::optional(code)
                                                                  : std::nullopt;
}

/// A number with a point or a comma; not one of those that are none, as "nan".
std::optional<double> number_of(std::string_view text) {
  std::string plain(text.substr(text.starts_with('+') ? 1 : 0));
  std::replace(plain.begin(), plain.end(), ',', '.');
  double value = 0.0;
  const char* last = plain.data() + plain.size();
  const auto [end, error] = std::from_chars(plain.data(), last, value);
  if (error == std::errc::result_out_of_range) {
    return HUGE_VAL;
  }
  return error == std::errc{} && end == last && std::isfinite(value) ? std::optional(value)
                                                                     : std::nullopt;
}

bool is_read(std::string_view entity) {
  constexpr std::array<std::string_view, 9> read{
      "LINE", "LWPOLYLINE", "POLYLINE", "VERTEX", "3DFACE", "ARC", "CIRCLE", "INSERT", "BLOCK"};
  return std::find(read.begin(), read.end(), entity) != read.end();
}

/// What a group of numbers gives, by the DXF reference.
const char* meaning(int code) {
  constexpr std::array<const char*, 3> axes{"an x", "a y", "a z"};
  if (code >= 10 && code < 40) {
    return axes.at(static_cast<std::size_t>(code / 10 - 1));
  }
  if (code >= 40 && code < 60) {
    return code < 50 ? "a size, scale or bulge" : "an angle";
  }
  return code >= 210 && code < 240 ? "a direction" : nullptr;
}

std::string cut(std::string_view text) {
  return std::string(text.substr(0, most_quoted)) + (text.size() > most_quoted ? "..." : "");
}

/// Judges groups one after the other.
class Judge {
 public:
  Text told;
  bool has_section = false;

  void group(int code, std::string_view value, std::size_t line) {
    if (code == 0) {
      start(value);
    } else if (code == 2 && entity_ == "SECTION") {
      told.section = cut(value);
    } else if (code == 8) {
      layer_ = cut(value);
    } else if (code == 9) {
      variable_ = value;
    } else if (code == 70 && variable_ == "$INSUNITS" && told.section == "HEADER") {
      if (!code_of(value)) {
        throw Refused(place(line, code), "the unit $INSUNITS is \"" + cut(value) + "\"",
                      "give its number: 1 inch, 2 foot, 4 mm, 5 cm, 6 m");
      }
    } else if (const char* what = is_read(entity_) ? meaning(code) : nullptr) {
      number(what, code, value, line);
    }
  }

 private:
  static std::string place(std::size_t line, int code) {
    return fmt::format("line {}, group {}", line, code);
  }
  void start(std::string_view value) {
    entity_ = value;
    has_section = has_section || value == "SECTION";
    told.is_whole = value == "EOF";
    if (value == "ENDSEC") {
      told.section.clear();
    }
    layer_.clear();
    variable_ = {};
  }
  void number(const char* what, int code, std::string_view value, std::size_t line) const {
    const std::optional<double> number = number_of(value);
    if (number && std::abs(*number) < farthest) {
      return;
    }
    const std::string of =
        fmt::format("{} of a {}{}", what, entity_, layer_.empty() ? "" : " on layer " + layer_);
    if (number) {
      throw Refused(place(line, code), fmt::format("{} is {}, beyond 1e9", of, cut(value)),
                    "move the drawing near 0, 0, or check that the file is whole");
    }
    throw Refused(place(line, code),
                  fmt::format("{} is \"{}\", which is no number", of, cut(value)),
                  "give a number in figures, such as 12.5");
  }

  std::string_view entity_;
  std::string layer_;
  std::string_view variable_;
};

Refused no_dxf() {
  return {"", "this is no DXF: it does not start with a group code and SECTION",
          "give a DXF drawing as text, which starts with the lines 0 and SECTION"};
}

/// What is plainly no DXF as text.
void refuse_others(std::string_view bytes) {
  if (bytes.starts_with("AutoCAD Binary DXF")) {
    throw Refused("", "this is a binary DXF", "save the drawing as text (ASCII) DXF");
  }
  if (bytes.starts_with("AC10") && bytes.size() > 5 && bytes[4] >= '0' && bytes[4] <= '9') {
    throw Refused("", "this is a DWG drawing, no DXF", "save the drawing as text (ASCII) DXF");
  }
  if (bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF")) {
    throw Refused("", "the file is UTF-16", "save the drawing as DXF again, or as text in UTF-8");
  }
  if (bytes.starts_with("PK\x03\x04") || bytes.starts_with("\x1F\x8B")) {
    throw Refused("", "this is a packed file (ZIP or gzip), no DXF",
                  "unpack it, and give the drawing in it");
  }
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  if (first != std::string_view::npos && (bytes[first] == '{' || bytes[first] == '<')) {
    throw Refused(
        "",
        fmt::format("this is no DXF: it starts as {} does", bytes[first] == '{' ? "JSON" : "XML"),
        "give the file the ending of what it holds, or name its importer (--with)");
  }
}

std::string_view without_mark(std::string_view bytes) {
  constexpr std::string_view mark = "\xEF\xBB\xBF";  // of UTF-8
  return bytes.substr(bytes.starts_with(mark) ? mark.size() : 0);
}

}  // namespace

void each_group(std::string_view bytes,
                const std::function<void(int code, std::string_view value)>& take) {
  Lines lines(without_mark(bytes));
  bool is_over = false;
  while (!lines.is_at_end() && !is_over) {
    const std::optional<int> code = code_of(lines.next());
    const bool is_cut = lines.is_at_end();
    const std::string_view value = lines.next();
    if (code && !is_cut) {
      take(*code, value);
    }
    is_over = code == 0 && value == "EOF";
  }
}

Text check_text(std::string_view bytes) {
  refuse_others(bytes);
  Lines lines(without_mark(bytes));
  Judge judge;
  while (!lines.is_at_end() && !judge.told.is_whole) {
    const std::string_view code_text = lines.next();
    const std::size_t code_line = lines.count();
    if (lines.is_at_end()) {
      break;  // cut between the two lines of a group, or blank lines at the end
    }
    const std::optional<int> code = code_of(code_text);
    if (!code && !judge.has_section) {
      throw no_dxf();
    }
    if (!code) {
      throw Refused(fmt::format("line {}", code_line),
                    fmt::format("\"{}\" stands where the number of a group is due", cut(code_text)),
                    "check that no line before it is missing or was put in");
    }
    const std::string_view value = lines.next();
    if (!lines.is_at_end() || value == "EOF") {
      judge.group(*code, value, lines.count());
    }
  }
  if (!judge.has_section) {
    throw no_dxf();
  }
  judge.told.lines = lines.count();
  return judge.told;
}

}  // namespace ridgeward::dxf

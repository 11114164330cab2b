#include "ifc/text.hpp"

#include "support/vectors.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <utility>

namespace ridgeward::ifc {
namespace {

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::Point;
using importing::scaled;

/// How far the next statement reaches: to its ";" outside strings, which may hold any mark.
std::size_t statement_size(std::string_view text) {
  bool in_string = false;
  std::size_t end = 0;
  for (; end < text.size() && (in_string || text[end] != ';'); ++end) {
    in_string = text[end] == '\'' ? !in_string : in_string;
  }
  return end;
}

/// The word between "=" and "("; empty where there is none. `open`: where "(" stands.
std::string_view kind_in(std::string_view statement, std::size_t& open) {
  const std::size_t equals = statement.find('=');
  open = statement.find('(');
  if (equals == std::string_view::npos || open == std::string_view::npos || open < equals) {
    return {};
  }
  std::string_view kind = statement.substr(equals + 1, open - equals - 1);
  kind.remove_prefix(std::min(kind.size(), kind.find_first_not_of(" \t\r\n")));
  return kind.substr(0, kind.find_first_of(" \t\r\n"));
}

/// The word before "=".
std::string_view name_in(std::string_view statement) {
  std::string_view name = statement.substr(0, statement.find('='));
  name.remove_prefix(std::min(name.size(), name.find_first_not_of(" \t\r\n")));
  return name.substr(0, name.find_first_of(" \t\r\n"));
}

/// The number of "IFCLENGTHMEASURE(0.5)" or of "0.5".
std::optional<double> measure_in(std::string_view text) {
  text.remove_prefix(text.find('(') == std::string_view::npos ? 0 : text.find('(') + 1);
  const std::vector<double> numbers = numbers_in(text);
  return numbers.empty() ? std::nullopt : std::optional(numbers.front());
}

/// Power of ten of a prefix (ISO 16739-1, IfcSIPrefix).
std::optional<int> power_of(std::string_view prefix) {
  static const std::map<std::string_view, int> powers{
      {"$", 0},         {".EXA.", 18},   {".PETA.", 15},  {".TERA.", 12}, {".GIGA.", 9},
      {".MEGA.", 6},    {".KILO.", 3},   {".HECTO.", 2},  {".DECA.", 1},  {".DECI.", -1},
      {".CENTI.", -2},  {".MILLI.", -3}, {".MICRO.", -6}, {".NANO.", -9}, {".PICO.", -12},
      {".FEMTO.", -15}, {".ATTO.", -18}};
  const auto at = powers.find(prefix);
  return at == powers.end() ? std::nullopt : std::optional(at->second);
}

/// What stands between points or quotes: ".METRE." gives "METRE".
std::string bare(const std::string& word) {
  return word.size() > 2 && word.front() == '.' ? word.substr(1, word.size() - 2) : "";
}

std::optional<LengthUnit> unit_of(const Statements& all, const std::string& name, int deepest) {
  const auto at = all.find(name);
  if (at == all.end() || deepest == 0) {
    return std::nullopt;
  }
  const std::vector<std::string> values = at->second.values();
  if (values.size() < 4 || values[1] != ".LENGTHUNIT.") {
    return std::nullopt;
  }
  if (at->second.kind == "IFCSIUNIT") {
    const std::optional<int> power = power_of(values[2]);
    return power ? std::optional(LengthUnit{std::pow(10.0, *power), bare(values[2]) + "METRE"})
                 : std::nullopt;
  }
  const auto factor = all.find(values[3]);
  if (factor == all.end() || factor->second.kind != "IFCMEASUREWITHUNIT") {
    return std::nullopt;
  }
  const std::vector<std::string> of = factor->second.values();
  const std::optional<double> count = measure_in(of.front());
  const auto base = of.size() > 1 ? unit_of(all, of[1], deepest - 1) : std::nullopt;
  const double metres = count && base ? *count * base->metres : 0.0;
  constexpr double least = 1e-9;
  constexpr double most = 1e9;
  return metres > least && metres < most
             ? std::optional(LengthUnit{metres, values[2].substr(0, 40), true})
             : std::nullopt;
}

/// A place in space: its axes and its origin.
struct Frame {
  Point x{1.0, 0.0, 0.0};
  Point y{0.0, 1.0, 0.0};
  Point z{0.0, 0.0, 1.0};
  Point origin{0.0, 0.0, 0.0};
};

Point turned(const Frame& frame, const Point& p) {
  Point at{};
  for (std::size_t k = 0; k < 3; ++k) {
    at.at(k) = frame.x.at(k) * p[0] + frame.y.at(k) * p[1] + frame.z.at(k) * p[2];
  }
  return at;
}

/// Reckons where the objects of a file stand.
class Places {
 public:
  explicit Places(std::string_view text)
      : lines_(statements_of(text, {"IFCLOCALPLACEMENT", "IFCAXIS2PLACEMENT3D", "IFCDIRECTION"})) {
    std::set<std::string> wanted;
    for (const auto& [name, line] : lines_) {
      if (line.kind == "IFCAXIS2PLACEMENT3D") {
        wanted.insert(line.values().front());
      }
    }
    each_statement(text, [&](const Statement& it) {
      if (it.kind == "IFCCARTESIANPOINT" && wanted.contains(std::string(it.name))) {
        lines_.emplace(it.name, it);
      }
    });
  }

  /// Of each IfcLocalPlacement, by name; none where one can't be reckoned.
  std::optional<std::map<std::string_view, Frame>> all() const {
    std::map<std::string_view, Frame> found;
    for (const auto& [name, line] : lines_) {
      if (line.kind != "IFCLOCALPLACEMENT") {
        continue;
      }
      const std::optional<Frame> frame = world(name, most_nested);
      if (!frame) {
        return std::nullopt;
      }
      found.emplace(name, *frame);
    }
    return found;
  }

 private:
  static constexpr int most_nested = 40;

  std::optional<Point> triple(const std::string& name, std::string_view kind) const {
    const auto at = lines_.find(name);
    if (at == lines_.end() || at->second.kind != kind) {
      return std::nullopt;
    }
    const std::vector<double> numbers = numbers_in(at->second.values().front());
    return numbers.size() < 3 ? std::nullopt
                              : std::optional(Point{numbers[0], numbers[1], numbers[2]});
  }
  std::optional<Point> direction(const std::vector<std::string>& values, std::size_t place,
                                 const Point& otherwise) const {
    if (values.size() <= place || values[place] == "$") {
      return otherwise;
    }
    const std::optional<Point> way = triple(values[place], "IFCDIRECTION");
    const double size = way ? length(*way) : 0.0;
    return size > 1e-12 ? std::optional(scaled(*way, 1.0 / size)) : std::nullopt;
  }
  /// ISO 16739-1, IfcAxis2Placement3D: the third axis, and the first made square to it.
  std::optional<Frame> axes(const std::string& name) const {
    const auto at = lines_.find(name);
    if (at == lines_.end() || at->second.kind != "IFCAXIS2PLACEMENT3D") {
      return std::nullopt;
    }
    const std::vector<std::string> values = at->second.values();
    const auto origin = triple(values.front(), "IFCCARTESIANPOINT");
    const auto z = direction(values, 1, {0.0, 0.0, 1.0});
    const auto toward = direction(values, 2, {1.0, 0.0, 0.0});
    if (!origin || !z || !toward) {
      return std::nullopt;
    }
    const Point x = minus(*toward, scaled(*z, dot(*toward, *z)));
    if (length(x) < 1e-6) {
      return std::nullopt;
    }
    const Point square = scaled(x, 1.0 / length(x));
    return Frame{square, cross(*z, square), *z, *origin};
  }
  std::optional<Frame> world(std::string_view name, int deepest) const {
    const auto at = lines_.find(name);
    if (at == lines_.end() || at->second.kind != "IFCLOCALPLACEMENT" || deepest == 0) {
      return std::nullopt;
    }
    const std::vector<std::string> values = at->second.values();
    const std::optional<Frame> own = values.size() > 1 ? axes(values[1]) : std::nullopt;
    if (!own || values.front() == "$") {
      return own;
    }
    const std::optional<Frame> above = world(values.front(), deepest - 1);
    if (!above) {
      return std::nullopt;
    }
    return Frame{turned(*above, own->x), turned(*above, own->y), turned(*above, own->z),
                 importing::plus(above->origin, turned(*above, own->origin))};
  }

  Statements lines_;
};

std::string written(const Point& p, int digits) {
  std::array<char, 160> text{};
  std::snprintf(text.data(), text.size(), "((%.*f,%.*f,%.*f));\n", digits, p[0], digits, p[1],
                digits, p[2]);
  return text.data();
}

/// A GlobalId has 22 characters (ISO 16739-1) of an alphabet of its own.
bool is_global_id(std::string_view id) {
  return id.size() == 22 && id.front() >= '0' && id.front() <= '3' &&
         std::all_of(id.begin(), id.end(),
                     [](unsigned char c) { return std::isalnum(c) != 0 || c == '_' || c == '$'; });
}

/// Where the "$" of a missing owner history stands in the text; npos where none is missing.
std::size_t missing_owner(std::string_view text, const Statement& it) {
  const std::size_t open = it.list.find('\'');
  const std::size_t close = it.list.find('\'', open + 1);
  if (open == std::string_view::npos || close == std::string_view::npos ||
      it.list.substr(0, open).find_first_not_of(" \t\r\n") != std::string_view::npos ||
      !is_global_id(it.list.substr(open + 1, close - open - 1))) {
    return std::string_view::npos;
  }
  const std::size_t comma = it.list.find_first_not_of(" \t\r\n", close + 1);
  const std::size_t owner =
      comma == std::string_view::npos ? comma : it.list.find_first_not_of(" \t\r\n", comma + 1);
  return owner != std::string_view::npos && it.list[comma] == ',' && it.list[owner] == '$'
             ? static_cast<std::size_t>(it.list.data() - text.data()) + owner
             : std::string_view::npos;
}

/// Collects changes of a text, then makes it.
class Rewriter {
 public:
  explicit Rewriter(std::string_view text) : text_(text) {
    each_statement(text, [&](const Statement& it) {
      std::uint64_t number = 0;
      if (it.name.starts_with('#')) {
        std::from_chars(it.name.data() + 1, it.name.data() + it.name.size(), number);
        last_ = std::max(last_, number);
      }
      if (it.kind == "IFCOWNERHISTORY" && owner_.empty()) {
        owner_ = it.name;
      }
      if (const std::size_t at = missing_owner(text_, it); at != std::string_view::npos) {
        ownerless_.push_back(at);
      }
    });
  }

  void give_owners() {
    if (ownerless_.empty()) {
      return;
    }
    if (owner_.empty()) {
      const std::string person = add("IFCPERSON($,'-',$,$,$,$,$,$);\n");
      const std::string firm = add("IFCORGANIZATION($,'-',$,$,$);\n");
      const std::string both = add("IFCPERSONANDORGANIZATION(" + person + "," + firm + ",$);\n");
      const std::string tool = add("IFCAPPLICATION(" + firm + ",'-','-','-');\n");
      owner_ = add("IFCOWNERHISTORY(" + both + "," + tool + ",$,.ADDED.,$,$,$,0);\n");
    }
    for (const std::size_t at : ownerless_) {
      changes_.emplace_back(at, 1, owner_);
    }
  }

  /// Writes every place as one that hangs on no other, less `by`.
  void place(const std::map<std::string_view, Frame>& places, const Point& by) {
    each_statement(text_, [&](const Statement& it) {
      const auto at = places.find(it.name);
      if (it.kind != "IFCLOCALPLACEMENT" || at == places.end()) {
        return;
      }
      const std::string origin =
          add("IFCCARTESIANPOINT" + written(minus(at->second.origin, by), 9));
      const std::string z = add("IFCDIRECTION" + written(at->second.z, 15));
      const std::string x = add("IFCDIRECTION" + written(at->second.x, 15));
      const std::string axes = add("IFCAXIS2PLACEMENT3D(" + origin + "," + z + "," + x + ");\n");
      const auto start = static_cast<std::size_t>(it.list.data() - text_.data());
      changes_.emplace_back(start, it.list.size(), "$," + axes + ")");
    });
  }

  std::string text() {
    const std::size_t data = text_.find("DATA;");
    if (changes_.empty() || data == std::string_view::npos) {
      return {};
    }
    changes_.emplace_back(data + 5, 0, "\n" + added_);
    std::sort(changes_.begin(), changes_.end(),
              [](const Change& a, const Change& b) { return a.at < b.at; });
    std::string made;
    std::size_t done = 0;
    for (const Change& change : changes_) {
      if (change.at < done) {
        continue;
      }
      made += text_.substr(done, change.at - done);
      made += change.words;
      done = change.at + change.size;
    }
    return made += text_.substr(done);
  }

 private:
  struct Change {
    Change(std::size_t place, std::size_t count, std::string with)
        : at(place), size(count), words(std::move(with)) {}
    std::size_t at;
    std::size_t size;
    std::string words;
  };
  std::string add(const std::string& words) {
    std::string name = "#" + std::to_string(++last_);
    added_ += name + "=" + words;
    return name;
  }

  std::string_view text_;
  std::uint64_t last_ = 0;
  std::string owner_;
  std::vector<std::size_t> ownerless_;
  std::string added_;
  std::vector<Change> changes_;
};

}  // namespace

std::vector<std::string> Statement::values() const {
  std::vector<std::string> found{""};
  int depth = 0;
  bool in_string = false;
  for (const char c : list) {
    in_string = c == '\'' ? !in_string : in_string;
    depth += in_string ? 0 : (c == '(' ? 1 : 0) - (c == ')' ? 1 : 0);
    if (depth < 0) {
      break;
    }
    const bool is_blank = !in_string && (c == ' ' || c == '\n' || c == '\r');
    if (c == ',' && depth == 0 && !in_string) {
      found.emplace_back();
    } else if (c != '\'' && !is_blank) {
      found.back() += c;
    }
  }
  return found;
}

void each_statement(std::string_view text, const std::function<void(const Statement&)>& take) {
  while (!text.empty()) {
    const std::string_view line = text.substr(0, statement_size(text));
    text.remove_prefix(std::min(text.size(), line.size() + 1));
    std::size_t open = 0;
    const std::string_view kind = kind_in(line, open);
    if (!kind.empty()) {
      take(Statement{name_in(line), kind, line.substr(open + 1)});
    }
  }
}

Statements statements_of(std::string_view text, const std::set<std::string_view>& kinds) {
  Statements found;
  each_statement(text, [&](const Statement& it) {
    if (kinds.contains(it.kind)) {
      found.emplace(it.name, it);
    }
  });
  return found;
}

std::vector<double> numbers_in(std::string_view list) {
  std::vector<double> numbers;
  list.remove_prefix(list.starts_with('(') ? 1 : 0);
  while (!list.empty()) {
    const std::string_view word = list.substr(0, list.find_first_of(",)"));
    double value = 0.0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) {
      break;
    }
    numbers.push_back(value);
    list.remove_prefix(std::min(list.size(), word.size() + 1));
  }
  return numbers;
}

std::optional<double> north_deg_in(std::string_view text) {
  constexpr std::size_t true_north = 5;  // the sixth attribute
  std::string wanted;
  std::optional<double> north_deg;
  each_statement(text, [&](const Statement& it) {
    if (!wanted.empty() || it.kind != "IFCGEOMETRICREPRESENTATIONCONTEXT") {
      return;
    }
    const std::vector<std::string> values = it.values();
    if (values.size() > true_north && values[true_north].starts_with('#')) {
      wanted = values[true_north];
    }
  });
  if (wanted.empty()) {
    return north_deg;
  }
  each_statement(text, [&](const Statement& it) {
    if (it.kind != "IFCDIRECTION" || it.name != wanted) {
      return;
    }
    const std::vector<double> way = numbers_in(it.values().front());
    if (way.size() < 2 || !(std::hypot(way[0], way[1]) > 1e-9)) {
      return;
    }
    constexpr double step_deg = 1e-6;  // finer than directions are written
    const double turned_deg = std::atan2(way[0], way[1]) * 180.0 / M_PI;
    const double rounded = std::round(turned_deg / step_deg) * step_deg;
    north_deg = rounded < 0.0 ? rounded + 360.0 : std::abs(rounded);
  });
  return north_deg;
}

std::optional<LengthUnit> length_unit_in(std::string_view text) {
  const Statements all =
      statements_of(text, {"IFCPROJECT", "IFCUNITASSIGNMENT", "IFCSIUNIT", "IFCCONVERSIONBASEDUNIT",
                           "IFCCONVERSIONBASEDUNITWITHOFFSET", "IFCMEASUREWITHUNIT"});
  for (const auto& [name, project] : all) {
    if (project.kind != "IFCPROJECT") {
      continue;
    }
    const auto units = all.find(project.values().back());  // the last attribute, UnitsInContext
    if (units == all.end() || units->second.kind != "IFCUNITASSIGNMENT") {
      continue;
    }
    std::string listed = units->second.values().front();
    std::replace(listed.begin(), listed.end(), ')', ',');
    for (std::size_t at = listed.find('#'); at != std::string::npos; at = listed.find('#', at)) {
      const std::size_t end = std::min(listed.size(), listed.find(',', at));
      if (auto unit = unit_of(all, listed.substr(at, end - at), 4)) {
        return unit;
      }
      at = end;
    }
  }
  return std::nullopt;
}

Fitted fitted(std::string_view text, double far) {
  Fitted made;
  Rewriter rewriter(text);
  rewriter.give_owners();
  const auto places = Places(text).all();
  std::vector<double> across;
  std::vector<double> along;
  if (places) {
    for (const auto& [name, frame] : *places) {
      if (std::hypot(frame.origin[0], frame.origin[1]) > far) {
        across.push_back(frame.origin[0]);
        along.push_back(frame.origin[1]);
      }
    }
  }
  if (!across.empty()) {
    const auto middle = [](std::vector<double>& values) {
      std::nth_element(values.begin(),
                       values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2),
                       values.end());
      return std::round(values[values.size() / 2]);
    };
    made.moved = {middle(across), middle(along)};
    rewriter.place(*places, {made.moved[0], made.moved[1], 0.0});
  }
  made.bytes = rewriter.text();
  return made;
}

}  // namespace ridgeward::ifc

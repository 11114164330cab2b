#include "ifc/fitted.hpp"

#include "ifc/text.hpp"
#include "support/vectors.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::ifc {
namespace {

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::Point;
using importing::scaled;

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

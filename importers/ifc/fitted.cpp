#include "ifc/fitted.hpp"

#include "ifc/places.hpp"
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

using importing::minus;
using importing::Point;
using Placements = std::map<std::string_view, Place>;

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

/// The place of an object whose shape has come nearer by `by`.
Place farther(const Placements& places, const FarShape& shape, const Point& by) {
  const auto at = places.find(shape.placement);
  Place frame = at == places.end() ? Place{} : at->second;
  frame.origin = importing::plus(frame.origin, frame.turned(by));
  return frame;
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
  void place(const Placements& places, const Point& by) {
    each_statement(text_, [&](const Statement& it) {
      const auto at = places.find(it.name);
      if (it.kind != "IFCLOCALPLACEMENT" || at == places.end()) {
        return;
      }
      const auto start = static_cast<std::size_t>(it.list.data() - text_.data());
      changes_.emplace_back(start, it.list.size(), "$," + axes(at->second, by) + ")");
    });
  }

  /// Gives shapes that lie far away in themselves nearer ones, and places farther by as much.
  void bring_near(FarShapes& shapes, const Placements& places, const Point& by) {
    for (const FarShape& shape : shapes.all()) {
      const Place at = farther(places, shape, shapes.by());
      replace(shape.representation, shapes.nearer(shape.representation, last_, added_));
      replace(shape.placement, add("IFCLOCALPLACEMENT($," + axes(at, by) + ");\n"));
    }
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
  std::string axes(const Place& frame, const Point& by) {
    const std::string origin = add("IFCCARTESIANPOINT" + written(minus(frame.origin, by), 9));
    const std::string z = add("IFCDIRECTION" + written(frame.z, 15));
    const std::string x = add("IFCDIRECTION" + written(frame.x, 15));
    return add("IFCAXIS2PLACEMENT3D(" + origin + "," + z + "," + x + ");\n");
  }
  /// `was`: a piece of the text.
  void replace(std::string_view was, std::string with) {
    changes_.emplace_back(static_cast<std::size_t>(was.data() - text_.data()), was.size(),
                          std::move(with));
  }
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
  const std::optional<Placements> places = placements_in(text);
  if (!places) {
    made.bytes = rewriter.text();
    return made;
  }
  FarShapes shapes(text, far);
  std::vector<double> across;
  std::vector<double> along;
  const auto weigh = [&](const Place& frame) {
    if (std::hypot(frame.origin[0], frame.origin[1]) > far) {
      across.push_back(frame.origin[0]);
      along.push_back(frame.origin[1]);
    }
  };
  for (const FarShape& shape : shapes.all()) {
    weigh(farther(*places, shape, shapes.by()));
  }
  if (across.empty()) {
    for (const auto& [name, frame] : *places) {
      weigh(frame);
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
    const Point by{made.moved[0], made.moved[1], 0.0};
    rewriter.place(*places, by);
    rewriter.bring_near(shapes, *places, by);
  }
  made.bytes = rewriter.text();
  return made;
}

}  // namespace ridgeward::ifc

#include "ifc/shapes.hpp"

#include "ifc/clipping.hpp"
#include "support/importing.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <map>
#include <unordered_set>
#include <utility>
#include <vector>

namespace ridgeward::ifc {
namespace {

using importing::Point;
using importing::Refused;
using Names = std::unordered_set<Name>;

constexpr std::size_t most_loops = 400000;
constexpr int most_nested = 300;

/// Shapes, and pieces of shapes, that came with IFC4 (ISO 16739-1:2018) and later.
const std::set<std::string_view>& newer() {
  static const std::set<std::string_view> kinds{"IFCADVANCEDBREP",
                                                "IFCADVANCEDBREPWITHVOIDS",
                                                "IFCADVANCEDFACE",
                                                "IFCBOUNDARYCURVE",
                                                "IFCBSPLINECURVEWITHKNOTS",
                                                "IFCBSPLINESURFACEWITHKNOTS",
                                                "IFCCOMPOSITECURVEONSURFACE",
                                                "IFCCURVEBOUNDEDSURFACE",
                                                "IFCCURVESEGMENT",
                                                "IFCCYLINDRICALSURFACE",
                                                "IFCDIRECTRIXCURVESWEPTAREASOLID",
                                                "IFCDIRECTRIXDERIVEDREFERENCESWEPTAREASOLID",
                                                "IFCEXTRUDEDAREASOLIDTAPERED",
                                                "IFCFIXEDREFERENCESWEPTAREASOLID",
                                                "IFCGRADIENTCURVE",
                                                "IFCINDEXEDPOLYCURVE",
                                                "IFCINTERSECTIONCURVE",
                                                "IFCMIRROREDPROFILEDEF",
                                                "IFCOUTERBOUNDARYCURVE",
                                                "IFCPCURVE",
                                                "IFCPOLYGONALFACESET",
                                                "IFCPOLYNOMIALCURVE",
                                                "IFCRATIONALBSPLINECURVEWITHKNOTS",
                                                "IFCRATIONALBSPLINESURFACEWITHKNOTS",
                                                "IFCREPARAMETRISEDCOMPOSITECURVESEGMENT",
                                                "IFCREVOLVEDAREASOLIDTAPERED",
                                                "IFCSEAMCURVE",
                                                "IFCSECTIONEDSOLIDHORIZONTAL",
                                                "IFCSECTIONEDSURFACE",
                                                "IFCSPHERICALSURFACE",
                                                "IFCSURFACECURVE",
                                                "IFCSWEPTDISKSOLIDPOLYGONAL",
                                                "IFCTOROIDALSURFACE",
                                                "IFCTRIANGULATEDFACESET",
                                                "IFCTRIANGULATEDIRREGULARNETWORK"};
  return kinds;
}

bool is_face_set(std::string_view kind) {
  return kind == "IFCTRIANGULATEDFACESET" || kind == "IFCPOLYGONALFACESET" ||
         kind == "IFCTRIANGULATEDIRREGULARNETWORK";
}

/// Writes new statements after the one that they take the place of.
class Writer {
 public:
  explicit Writer(Name last) : last_(last) {}

  std::string point(const Point& p) {
    std::array<char, 120> text{};
    std::snprintf(text.data(), text.size(), "IFCCARTESIANPOINT((%.15E,%.15E,%.15E))", p[0], p[1],
                  p[2]);
    return add(text.data());
  }
  /// A face of loops of points' names, the outer one first.
  void face(const std::vector<std::vector<std::string>>& loops) {
    std::string bounds;
    for (const std::vector<std::string>& loop : loops) {
      if (++loops_ > most_loops) {
        throw Refused("", "there are more than 400000 faces",
                      "pick the roof with the option objects=NAME, or thin the mesh out");
      }
      std::string corners;
      for (const std::string& corner : loop) {
        corners += (corners.empty() ? "" : ",") + corner;
      }
      const std::string ring = add("IFCPOLYLOOP((" + corners + "))");
      const std::string kind = bounds.empty() ? "IFCFACEOUTERBOUND(" : ",IFCFACEBOUND(";
      bounds += (bounds.empty() ? "" : ",") +
                add(kind.substr(kind.front() == ',' ? 1 : 0) + ring + ",.T.)");
    }
    faces_ += (faces_.empty() ? "" : ",") + add("IFCFACE((" + bounds + "))");
  }
  /// The faces so far as one shape.
  std::string surface() {
    const std::string set = add("IFCCONNECTEDFACESET((" + std::exchange(faces_, "") + "))");
    return "IFCFACEBASEDSURFACEMODEL((" + set + "))" + std::exchange(added_, "");
  }
  std::string polyline(const Loop& corners) {
    std::string names;
    for (const Point& p : corners) {
      names += point(p) + ",";
    }
    const std::string first = names.substr(0, names.find(','));
    return "IFCPOLYLINE((" + names + first + "))" + std::exchange(added_, "");
  }
  bool has_faces() const { return !faces_.empty(); }

 private:
  std::string add(const std::string& words) {
    std::string name = "#" + std::to_string(++last_);
    added_ += ";\n" + name + "=" + words;
    return name;
  }

  Name last_;
  std::size_t loops_ = 0;
  std::string added_;
  std::string faces_;
};

class Shaper {
 public:
  Shaper(std::string_view text, const std::function<bool(std::string_view)>& is_wanted)
      : text_(text), table_(text), writer_(table_.last()) {
    std::vector<Name> wanted;
    std::multimap<Name, Name> parts;
    std::multimap<Name, Name> openings;
    for (const auto& [name, it] : table_.all()) {
      const std::size_t quote = it.list.find_first_not_of(" \t\r\n");
      if (quote != std::string_view::npos && it.list[quote] == '\'' &&
          is_wanted(it.list.substr(quote + 1, it.list.find('\'', quote + 1) - quote - 1))) {
        wanted.push_back(name);
      }
      if (it.kind == "IFCRELAGGREGATES" || it.kind == "IFCRELNESTS") {
        relate(it, parts);
      } else if (it.kind == "IFCRELVOIDSELEMENT") {
        relate(it, openings);
      }
    }
    for (std::size_t i = 0; i < wanted.size() && i < table_.all().size(); ++i) {
      const auto [from, to] = parts.equal_range(wanted[i]);
      for (auto part = from; part != to; ++part) {
        wanted.push_back(part->second);
      }
    }
    std::vector<Name> pierced;
    for (const Name name : wanted) {
      const auto [from, to] = openings.equal_range(name);
      if (from != to) {
        pierced.push_back(name);
      }
      for (auto opening = from; opening != to; ++opening) {
        openings_.push_back(opening->second);
      }
    }
    wanted.insert(wanted.end(), openings_.begin(), openings_.end());
    needed_ = all_below(std::move(wanted));
    pierced_ = all_below(std::move(pierced));
  }

  Shaped run() {
    for (const auto& [name, it] : table_.all()) {
      if (it.kind == "IFCSHAPEREPRESENTATION") {
        look_at(it, needed_.contains(name));
      } else if (is_cut(it.kind)) {
        const std::vector<std::string> values = it.values();
        const std::vector<Name> bodies = names_in(values.size() > 1 ? values[1] : "");
        operands_.insert(bodies.begin(), bodies.end());
      }
    }
    std::size_t done = 0;
    std::string made;
    each_statement(text_, [&](const Statement& it) {
      const std::vector<Name> name = names_in(it.name);
      const std::string words = name.size() == 1 ? instead_of(name.front(), it) : "";
      if (words.empty()) {
        return;
      }
      const auto at = static_cast<std::size_t>(it.kind.data() - text_.data());
      made += text_.substr(done, at - done);
      made += words;
      done = static_cast<std::size_t>(it.list.data() - text_.data()) + it.list.size();
    });
    if (done > 0) {
      shaped_.bytes = std::move(made += text_.substr(done));
    }
    return std::move(shaped_);
  }

 private:
  /// GlobalId, OwnerHistory, Name, Description, one, others.
  static void relate(const Statement& it, std::multimap<Name, Name>& to) {
    const std::vector<std::string> values = it.values();
    const std::vector<Name> one = names_in(values.size() < 6 ? "" : values[4]);
    for (const Name other : one.empty() ? std::vector<Name>{} : names_in(values[5])) {
      to.emplace(one.front(), other);
    }
  }
  Names all_below(std::vector<Name> open) const {
    Names found(open.begin(), open.end());
    while (!open.empty()) {
      const Statement* it = table_.at(open.back());
      open.pop_back();
      for (const Name name : it == nullptr ? std::vector<Name>{} : names_in(it->list)) {
        if (found.insert(name).second) {
          open.push_back(name);
        }
      }
    }
    return found;
  }
  bool is_written(Name name, std::string_view kind) const {
    return needed_.contains(name) && (is_face_set(kind) || kind == "IFCINDEXEDPOLYCURVE");
  }
  /// The kind within a shape that can't be read; empty where there is none.
  std::string_view unread_in(Name name, int deepest) {
    const Statement* it = table_.at(name);
    if (it == nullptr || deepest == 0) {
      return {};
    }
    const auto [known, is_new] = unread_.emplace(name, std::string_view{});
    if (!is_new) {
      return known->second;
    }
    if (newer().contains(it->kind) && !is_written(name, it->kind)) {
      return known->second = it->kind;
    }
    for (const Name below : names_in(it->list)) {
      if (const std::string_view kind = unread_in(below, deepest - 1); !kind.empty()) {
        return unread_[name] = kind;
      }
    }
    return {};
  }
  /// IfcShapeRepresentation: ContextOfItems, RepresentationIdentifier, RepresentationType, Items.
  void look_at(const Statement& it, bool is_needed) {
    static const std::set<std::string> aside{"Annotation", "Axis",      "Box",         "Clearance",
                                             "CoG",        "FootPrint", "Footprint",   "Lighting",
                                             "Profile",    "Reference", "SurveyPoints"};
    const std::vector<std::string> values = it.values();
    for (const Name item : names_in(values.size() < 4 ? "" : values[3])) {
      const std::string_view kind = unread_in(item, most_nested);
      if (kind.empty()) {
        continue;
      }
      dropped_.insert(item);
      if (is_needed && !aside.contains(values[1])) {
        shaped_.unread.emplace(kind);
      }
    }
  }
  /// What the statement says from now on; empty: the same.
  std::string instead_of(Name name, const Statement& it) {
    if (dropped_.contains(name)) {
      return "IFCCARTESIANPOINT((0.,0.,0.))";
    }
    if (!needed_.contains(name)) {
      return {};
    }
    if (is_face_set(it.kind)) {
      write_faces(name, it);
      return writer_.surface();
    }
    if (it.kind == "IFCINDEXEDPOLYCURVE") {
      const Loop corners = corners_of_curve(table_, "#" + std::to_string(name));
      need(corners.size() > 1, name, it);
      return writer_.polyline(corners);
    }
    return is_cut(it.kind) && !operands_.contains(name) ? cut(it, pierced_.contains(name)) : "";
  }
  std::string cut(const Statement& it, bool is_pierced) {
    const Clipped body = clipped(table_, it);
    if (is_pierced && !body.is_sloped) {
      return {};
    }
    if (!body.is_done || body.faces.empty()) {
      shaped_.open += body.is_sloped ? 1U : 0U;
      return {};
    }
    std::map<Point, std::string> names;
    for (const Loop& face : body.faces) {
      std::vector<std::string> loop;
      for (const Point& p : face) {
        std::string& name = names[p];
        name = name.empty() ? writer_.point(p) : name;
        loop.push_back(name);
      }
      writer_.face({loop});
    }
    shaped_.filled += is_pierced ? 1U : 0U;
    return writer_.surface();
  }
  static void need(bool is_there, Name name, const Statement& it) {
    if (!is_there) {
      throw Refused(
          "#" + std::to_string(name),
          "this " + std::string(it.kind) + " has corners or faces that are not in the file",
          "check that the file is whole, or export it again");
    }
  }
  /// IfcTriangulatedFaceSet: Coordinates, Normals, Closed, CoordIndex, PnIndex;
  /// IfcPolygonalFaceSet: Coordinates, Closed, Faces, PnIndex. Where there are PnIndices, corners
  /// are counted in them.
  void write_faces(Name name, const Statement& it) {
    const std::vector<std::string> values = it.values();
    const bool is_polygons = it.kind == "IFCPOLYGONALFACESET";
    const std::size_t faces = is_polygons ? 2 : 3;
    need(values.size() > faces, name, it);
    const Statement* list = table_.at(values.front(), "IFCCARTESIANPOINTLIST3D");
    need(list != nullptr, name, it);
    // The first edition of IFC4 had lists of normals in the place of the indices.
    const bool has_others = values.size() > faces + 1 && values[faces + 1].starts_with('(') &&
                            !values[faces + 1].starts_with("((");
    Corners corners{tuples_in(list->values().front()),
                    has_others ? whole(numbers_in(values[faces + 1])) : std::vector<std::size_t>{},
                    {}};
    if (!is_polygons) {
      for (const std::vector<double>& triangle : tuples_in(values[faces])) {
        const auto loop = loop_of(corners, whole(triangle));
        need(loop.size() == 3, name, it);
        writer_.face({loop});
      }
    }
    for (const Name number : is_polygons ? names_in(values[faces]) : std::vector<Name>{}) {
      const Statement* face = table_.at(number);
      need(face != nullptr && face->kind.starts_with("IFCINDEXEDPOLYGONALFACE"), name, it);
      std::vector<std::vector<std::string>> loops;
      for (const std::vector<double>& ring : tuples_in(face->list)) {
        loops.push_back(loop_of(corners, whole(ring)));
        need(loops.back().size() > 2, name, it);
      }
      need(!loops.empty(), name, it);
      writer_.face(loops);
    }
    need(writer_.has_faces(), name, it);
  }
  struct Corners {
    std::vector<std::vector<double>> points;
    std::vector<std::size_t> others;  ///< PnIndex
    std::map<std::size_t, std::string> names;
  };
  static std::vector<std::size_t> whole(const std::vector<double>& numbers) {
    std::vector<std::size_t> counted;
    counted.reserve(numbers.size());
    for (const double number : numbers) {
      counted.push_back(number >= 1.0 && number < 1e9 ? static_cast<std::size_t>(number) : 0);
    }
    return counted;
  }
  /// Empty where a corner is not in the file.
  std::vector<std::string> loop_of(Corners& from, const std::vector<std::size_t>& numbers) {
    std::vector<std::string> loop;
    for (std::size_t number : numbers) {
      if (!from.others.empty()) {
        number = number == 0 || number > from.others.size() ? 0 : from.others[number - 1];
      }
      if (number == 0 || number > from.points.size() || from.points[number - 1].size() != 3) {
        return {};
      }
      const std::vector<double>& p = from.points[number - 1];
      std::string& known = from.names[number];
      known = known.empty() ? writer_.point({p[0], p[1], p[2]}) : known;
      loop.push_back(known);
    }
    return loop;
  }

  std::string_view text_;
  Table table_;
  Writer writer_;
  std::vector<Name> openings_;
  Names needed_;
  Names pierced_;
  Names dropped_;
  Names operands_;
  std::map<Name, std::string_view> unread_;
  Shaped shaped_;
};

}  // namespace

Shaped shaped(std::string_view text, const std::function<bool(std::string_view id)>& is_wanted) {
  bool has_any = false;
  each_statement(text, [&](const Statement& it) {
    has_any = has_any || is_cut(it.kind) || newer().contains(it.kind);
  });
  return has_any ? Shaper(text, is_wanted).run() : Shaped{};
}

}  // namespace ridgeward::ifc

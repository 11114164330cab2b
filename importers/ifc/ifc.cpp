// Reads IFC (ISO 16739, as a STEP physical file, ISO 10303-21): the roofs of a building model.
// Open Asset Import makes the geometry; which slabs are roof it does not tell, so that is read from
// the text here.
#include "plugin/importer_abi.h"

#include "ifc/fitted.hpp"
#include "ifc/shapes.hpp"
#include "ifc/text.hpp"
#include "mesh/gather.hpp"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <optional>
#include <set>
#include <unordered_set>
#include <vector>

namespace ridgeward::ifc {
namespace {

using importing::Host;
using importing::Refused;
using Options = std::map<std::string, std::string>;

constexpr double usual_tolerance_m = 0.01;
/// Single precision keeps a tenth of the tolerance up to here.
constexpr double far_m = 5000.0;

/// What the text says of the building's elements.
struct Told {
  std::set<std::string> roofs;  ///< global ids of roofs and of slabs that are roof
  std::size_t slabs = 0;        ///< that are roof
  std::size_t whole = 0;        ///< roofs
  std::vector<std::string> storeys;
};

/// "Dachgeschoss at 2.7"; the height in metres.
std::string storey_words(const std::vector<std::string>& values, double unit_m) {
  // GlobalId, OwnerHistory, Name, ..., Elevation.
  const std::string name = values.size() > 2 ? values[2] : "";
  const std::vector<double> height = numbers_in(values.back());
  return (name.empty() || name == "$" ? values.front() : name).substr(0, 60) +
         (height.empty() ? "" : " at " + importing::shortly(height.front() * unit_m));
}

Told told_in(std::string_view text, double unit_m) {
  Told told;
  each_statement(text, [&](const Statement& it) {
    if (it.kind != "IFCSLAB" && it.kind != "IFCROOF" && it.kind != "IFCBUILDINGSTOREY") {
      return;
    }
    const std::vector<std::string> values = it.values();
    const bool is_roof_slab =
        it.kind == "IFCSLAB" && std::find(values.begin(), values.end(), ".ROOF.") != values.end();
    if (it.kind == "IFCBUILDINGSTOREY") {
      told.storeys.push_back(storey_words(values, unit_m));
    } else if (is_roof_slab || it.kind == "IFCROOF") {
      told.roofs.insert(values.front());
      told.slabs += is_roof_slab ? 1U : 0U;
      told.whole += is_roof_slab ? 0U : 1U;
    }
  });
  return told;
}

void tell(const Told& told, const Host& host) {
  std::string storeys;
  for (const std::string& storey : told.storeys) {
    storeys += (storeys.empty() ? "" : ", ") + storey;
  }
  host.note("storeys of the file: " + (storeys.empty() ? "none" : storeys.substr(0, 400)) +
            " (heights in metres)");
  host.note("taken are roofs, with all that they are put together of, and slabs that are roof: " +
            importing::counted(told.whole, "roof") + ", " +
            importing::counted(told.slabs, "such slab"));
}

/// Names are unique (ISO 10303-21), and a file has one project (ISO 16739-1). Which of two the
/// library takes hangs on where memory lies: the same file would give another roof now and then.
void refuse_twice(std::string_view text) {
  std::unordered_set<std::uint64_t> names;
  std::string_view project;
  each_statement(text, [&](const Statement& it) {
    std::uint64_t number = 0;
    const std::string_view digits = it.name.substr(it.name.starts_with('#') ? 1 : 0);
    const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    if (read.ec != std::errc{} || read.ptr != digits.data() + digits.size()) {
      return;
    }
    const std::string name(it.name.substr(0, 40));
    if (!names.insert(number).second) {
      throw Refused(name, "two statements have this name, and which one counts can't be known",
                    "export it again; names are unique in a STEP file (ISO 10303-21)");
    }
    if (it.kind == "IFCPROJECT" && !project.empty()) {
      throw Refused(name, "a second project, beside " + std::string(project.substr(0, 40)),
                    "export each project to a file of its own; IFC has one in a file");
    }
    project = it.kind == "IFCPROJECT" ? it.name : project;
  });
}

std::string listed(const std::set<std::string>& kinds) {
  std::string words;
  for (const std::string& kind : kinds) {
    words += (words.empty() ? "" : ", ") + kind;
  }
  return words;
}

/// ISO 10303-21 ends with these words.
bool is_whole(std::string_view bytes) {
  return bytes.rfind("END-ISO-10303-21") != std::string_view::npos;
}

[[noreturn]] void refuse_empty(std::string_view bytes, const std::string& what,
                               const std::string& cure) {
  if (!is_whole(bytes)) {
    throw Refused("", "the file is cut short, and no shape of its roof is in what there is",
                  "fetch or export it again");
  }
  throw Refused("", what, cure);
}

/// Half a roof that is told as a whole is worse than none.
void refuse_shapes(const Shaped& shapes, bool is_named) {
  const std::string cure =
      "export the roof as faces or solids, or name what of it can be read with the option "
      "objects=TEXT";
  if (!shapes.unread.empty() && !is_named) {
    throw Refused("", "the roof has shapes that can't be read: " + listed(shapes.unread), cure);
  }
  if (shapes.open > 0 && !is_named) {
    throw Refused("",
                  "the roof is a body that slopes cut (IFCBOOLEANCLIPPINGRESULT), of a kind that "
                  "can't be cut here: " +
                      importing::counted(shapes.open, "shape"),
                  cure);
  }
}

void tell_shapes(const Shaped& shapes, const Host& host) {
  if (!shapes.unread.empty()) {
    host.note("left out, as such shapes can't be read: " + listed(shapes.unread));
  }
  if (shapes.open > 0) {
    host.note("bodies that slopes cut and that are left open there: " +
              importing::counted(shapes.open, "shape"));
  }
  if (shapes.filled > 0) {
    host.note("bodies that slopes cut, whose openings are left out: " +
              importing::counted(shapes.filled, "shape"));
  }
}

/// The triangles of what is roof, in metres, as the text has them.
mesh::Triangles triangles_of(std::string_view bytes, const LengthUnit& unit, const Options& options,
                             const Told& told) {
  Assimp::Importer importer;
  const aiScene& scene = mesh::scene_in(importer, bytes, "ifc", "check that it is whole");
  // The names of the library's nodes: kind, name and global id with "_" between.
  const auto objects = options.find("objects");
  const std::string wanted = objects == options.end() ? "" : importing::small(objects->second);
  // The library knows SI units and their prefixes only.
  const mesh::Axes axes{true, unit.is_converted ? unit.metres : 1.0,
                        "check the unit of length and the places in the file"};
  return mesh::gather(scene, axes, [&](const std::string& name) {
    if (objects != options.end()) {
      return importing::small(name).find(wanted) != std::string::npos;
    }
    constexpr std::size_t id_size = 22;  // ISO 16739: a GlobalId has 22 characters
    return name.size() > id_size && told.roofs.count(name.substr(name.size() - id_size)) > 0;
  });
}

void import_bytes(std::string_view bytes, const Options& options, const Host& host) {
  if (bytes.substr(0, 4096).find("ISO-10303-21") == std::string_view::npos) {
    throw Refused("", "this is no IFC file", "give IFC as a STEP physical file (.ifc)");
  }
  refuse_twice(bytes);
  mesh::Sought sought;
  sought.tolerance_m =
      importing::number_option(options, "tolerance", 0.001, 5.0).value_or(usual_tolerance_m);
  sought.id = "building";
  sought.is_single = true;
  const std::optional<LengthUnit> written = length_unit_in(bytes);
  const LengthUnit unit = written.value_or(LengthUnit{1.0, "METRE", false});
  const Told told = told_in(bytes, unit.metres);
  const bool is_named = options.contains("objects");
  if (!is_named && told.roofs.empty()) {
    refuse_empty(bytes, "no roof and no slab that is roof is in the file",
                 "name the elements that are its roof with the option objects=TEXT");
  }
  const Shaped shapes = shaped(
      bytes, [&](std::string_view id) { return is_named || told.roofs.contains(std::string(id)); });
  refuse_shapes(shapes, is_named);
  const std::string_view readable = shapes.bytes.empty() ? bytes : shapes.bytes;
  const Fitted file = fitted(readable, far_m / unit.metres);
  mesh::Triangles found =
      triangles_of(file.bytes.empty() ? readable : file.bytes, unit, options, told);
  if (found.corners.empty()) {
    refuse_empty(bytes, "the elements that were looked for have no shape that could be read",
                 "name others with the option objects=TEXT, or export the roof as faces or solids");
  }
  if (!is_whole(bytes)) {
    host.note("the file ends early, before END-ISO-10303-21: more may be missing");
  }
  tell_shapes(shapes, host);
  if (!is_named) {
    tell(told, host);
  }
  host.note(written ? "one unit of length in the file is " + importing::shortly(unit.metres) +
                          " m (" + unit.name + ")"
                    : "the file's unit of length can't be told: metres are assumed");
  sought.moved_by = {file.moved[0] * unit.metres, file.moved[1] * unit.metres, 0.0};
  sought.north_deg = north_deg_in(bytes);
  if (sought.north_deg) {
    host.note("north lies " + importing::shortly(*sought.north_deg) +
              " degrees clockwise from the plan's y, as the file says (TrueNorth)");
  }
  mesh::give_planes(std::move(found), sought, host);
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string_view text(head, size);
  if (text.find("ISO-10303-21") == std::string_view::npos) {
    return 0;
  }
  const std::string name = importing::small(file_name == nullptr ? "" : file_name);
  if (text.find("'IFC") != std::string_view::npos) {  // of FILE_SCHEMA
    return 98;
  }
  return name.ends_with(".ifc") ? 90 : 0;
}

constexpr ridgeward_importer_table table{
    RIDGEWARD_IMPORTER_ABI,
    sizeof(ridgeward_importer_table),
    "ifc",
    "roofs of building models: IFC 2x3 and 4, roofs and the slabs that are roof",
    ".ifc",
    sniff,
    importing::read_with<import_bytes>};

}  // namespace
}  // namespace ridgeward::ifc

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::ifc::table : nullptr;
}

// Reads IFC (ISO 16739, as a STEP physical file, ISO 10303-21): the roofs of a building model.
// Open Asset Import makes the geometry; which slabs are roof it does not tell, so that is read from
// the text here.
#include "plugin/importer_abi.h"

#include "mesh/gather.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <set>
#include <vector>

namespace ridgeward::ifc {
namespace {

using importing::Host;
using importing::Refused;
using Options = std::map<std::string, std::string>;

constexpr double usual_tolerance_m = 0.01;

/// One statement of the file: "#17= IFCSLAB('2RGl...',#13,'Dach-1',...,.ROOF.);".
struct Statement {
  std::string_view name;  ///< "#17"
  std::string_view kind;
  std::vector<std::string> values;  ///< of the outermost list, strings without their quotes
};

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

/// The values of a list without its opening bracket.
std::vector<std::string> values_in(std::string_view list) {
  std::vector<std::string> values{""};
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
      values.emplace_back();
    } else if (c != '\'' && !is_blank) {
      values.back() += c;
    }
  }
  return values;
}

/// The word before "=".
std::string_view name_in(std::string_view statement) {
  std::string_view name = statement.substr(0, statement.find('='));
  name.remove_prefix(std::min(name.size(), name.find_first_not_of(" \t\r\n")));
  return name.substr(0, name.find_first_of(" \t\r\n"));
}

/// Calls `take` with each statement whose kind is in `kinds`.
template <class Take>
void each_statement(std::string_view text, const std::set<std::string_view>& kinds, Take take) {
  while (!text.empty()) {
    const std::string_view line = text.substr(0, statement_size(text));
    text.remove_prefix(std::min(text.size(), line.size() + 1));
    std::size_t open = 0;
    const std::string_view kind = kind_in(line, open);
    if (kinds.count(kind) > 0) {
      take(Statement{name_in(line), kind, values_in(line.substr(open + 1))});
    }
  }
}

/// The numbers of "(0.34,0.93)", as many as there are before what is none.
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

/// Where north lies, clockwise from the plan's y: the direction that is attribute TrueNorth of the
/// first geometric context that has one (ISO 16739-1, IfcGeometricRepresentationContext); none
/// where no context has.
std::optional<double> north_deg_in(std::string_view text) {
  constexpr std::size_t true_north = 5;  // the sixth attribute
  std::string wanted;
  each_statement(text, {"IFCGEOMETRICREPRESENTATIONCONTEXT"}, [&](const Statement& it) {
    if (wanted.empty() && it.values.size() > true_north && it.values[true_north].starts_with('#')) {
      wanted = it.values[true_north];
    }
  });
  std::optional<double> north_deg;
  if (wanted.empty()) {
    return north_deg;
  }
  each_statement(text, {"IFCDIRECTION"}, [&](const Statement& it) {
    if (it.name != wanted) {
      return;
    }
    const std::vector<double> way = numbers_in(it.values.front());
    if (way.size() < 2 || !(std::hypot(way[0], way[1]) > 1e-9)) {
      return;
    }
    constexpr double step_deg = 1e-6;  // finer than directions are written
    const double turned = std::atan2(way[0], way[1]) * 180.0 / M_PI;
    const double rounded = std::round(turned / step_deg) * step_deg;
    north_deg = rounded < 0.0 ? rounded + 360.0 : std::abs(rounded);
  });
  return north_deg;
}

/// What the text says of the building's elements.
struct Told {
  std::set<std::string> roofs;  ///< global ids of roofs and of slabs that are roof
  std::size_t slabs = 0;        ///< that are roof
  std::vector<std::string> storeys;
};

Told told_in(std::string_view text) {
  Told told;
  each_statement(text, {"IFCSLAB", "IFCROOF", "IFCBUILDINGSTOREY"}, [&](const Statement& it) {
    const std::string& id = it.values.front();
    const bool is_roof_slab = it.kind == "IFCSLAB" && std::find(it.values.begin(), it.values.end(),
                                                                ".ROOF.") != it.values.end();
    if (it.kind == "IFCBUILDINGSTOREY") {
      // GlobalId, OwnerHistory, Name, ..., Elevation.
      const std::string name = it.values.size() > 2 ? it.values[2] : "";
      told.storeys.push_back(
          (name.empty() || name == "$" ? id : name).substr(0, 60) +
          (it.values.back() == "$" ? "" : " at " + it.values.back().substr(0, 20)));
    } else if (is_roof_slab || it.kind == "IFCROOF") {
      told.roofs.insert(id);
      told.slabs += is_roof_slab ? 1U : 0U;
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
            " (heights in its unit)");
  host.note("taken are roofs and slabs that are roof: " + importing::counted(told.slabs, "slab"));
}

void import_bytes(std::string_view bytes, const Options& options, const Host& host) {
  if (bytes.substr(0, 4096).find("ISO-10303-21") == std::string_view::npos) {
    throw Refused("", "this is no IFC file", "give IFC as a STEP physical file (.ifc)");
  }
  const double tolerance_m =
      importing::number_option(options, "tolerance", 0.001, 5.0).value_or(usual_tolerance_m);
  const Told told = told_in(bytes);
  const auto objects = options.find("objects");
  if (objects == options.end() && told.roofs.empty()) {
    throw Refused("", "no roof and no slab that is roof is in the file",
                  "name the elements that are its roof with the option objects=TEXT");
  }
  Assimp::Importer importer;
  const aiScene& scene = mesh::scene_in(importer, bytes, "ifc", "check that it is whole");
  // The names of the library's nodes: kind, name and global id with "_" between.
  const std::string wanted = objects == options.end() ? "" : importing::small(objects->second);
  mesh::Triangles found = mesh::gather(scene, {true, 1.0}, [&](const std::string& name) {
    if (objects != options.end()) {
      return importing::small(name).find(wanted) != std::string::npos;
    }
    constexpr std::size_t id_size = 22;  // ISO 16739: a GlobalId has 22 characters
    return name.size() > id_size && told.roofs.count(name.substr(name.size() - id_size)) > 0;
  });
  // ISO 10303-21 ends with these words.
  const bool is_whole = bytes.rfind("END-ISO-10303-21") != std::string_view::npos;
  if (found.corners.empty() && !is_whole) {
    throw Refused("", "the file ends early, and no shape of its roof is in what there is",
                  "fetch or export it again");
  }
  if (!is_whole) {
    host.note("the file ends early, before END-ISO-10303-21: more may be missing");
  }
  if (found.corners.empty()) {
    throw Refused(
        "", "the elements that were looked for have no shape that could be read",
        "name others with the option objects=TEXT, or export the roof as faces or solids");
  }
  if (objects == options.end()) {
    tell(told, host);
  }
  const std::optional<double> north_deg = north_deg_in(bytes);
  if (north_deg) {
    host.note("north lies " + importing::shortly(*north_deg) +
              " degrees clockwise from the plan's y, as the file says (TrueNorth)");
  }
  mesh::give_planes(std::move(found), tolerance_m, "building", host, north_deg);
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

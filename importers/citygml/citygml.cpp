// Reads CityGML 1.0 to 3.0 (OGC 12-019, 20-010): the roof surfaces of buildings. The XML is read
// as a stream (expat), so memory is that of one building. Names count without their namespace: what
// matters here is called the same in all versions.
#include "plugin/importer_abi.h"

#include "support/planes.hpp"
#include "support/reference_system.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <exception>
#include <expat.h>
#include <limits>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::citygml {
namespace {

using importing::Building;
using importing::Host;
using importing::Point;
using importing::Refused;
using Options = std::map<std::string, std::string>;

constexpr std::size_t most_buildings = 5000;
constexpr double usual_tolerance_m = 0.05;
constexpr std::size_t deepest = 64;
constexpr std::size_t most_text = std::size_t{8} << 20U;  // of one list of positions
constexpr std::size_t piece_size = std::size_t{1} << 16U;

std::string_view local(std::string_view name) {
  const std::size_t colon = name.rfind(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

std::string attribute(const char** attributes, std::string_view wanted) {
  for (; attributes != nullptr && *attributes != nullptr; attributes += 2) {
    if (local(attributes[0]) == wanted) {
      return attributes[1];
    }
  }
  return {};
}

/// One building or part of one, while it is being read.
struct Open {
  std::string id;
  std::string parent;
  std::size_t depth = 0;
  double lowest_m = std::numeric_limits<double>::infinity();
  std::map<int, std::vector<importing::Polygon>> named;   ///< RoofSurface, by level of detail
  std::map<int, std::vector<importing::Polygon>> rising;  ///< what faces up, likewise
  std::map<int, std::vector<std::string>> rising_ids;     ///< of these polygons
  std::set<std::string> linked;                           ///< ids that roof surfaces name
  bool has_parts = false;
};

class Reader {
 public:
  Reader(std::string wanted, std::string unit, importing::Out& out)
      : asked_(std::move(unit)), out_(&out) {
    told.wanted = std::move(wanted);
    unit_m_ = importing::metres_in(asked_);
  }

  void start(std::string_view name, const char** attributes) {
    path_.emplace_back(name);
    if (path_.size() > deepest) {
      throw Refused("", "elements nest too deep for CityGML", "check where the file comes from");
    }
    if (path_.size() == 1 && name != "CityModel") {
      throw Refused("/" + path_.front(), "this is no CityGML", "give a file with a CityModel");
    }
    refer(attribute(attributes, "srsName"), attribute(attributes, "uomLabels"));
    link(attribute(attributes, "href"));
    if (name == "Building" || name == "BuildingPart") {
      open(attribute(attributes, "id"));
    } else if (name == "Polygon" || name == "Triangle" || name == "Rectangle") {
      polygon_.clear();
      polygon_id_ = attribute(attributes, "id");
    } else if (name == "LinearRing") {
      ring_.clear();
    } else if (name == "posList" || name == "pos") {
      if (const std::string many = attribute(attributes, "srsDimension");
          !many.empty() && many != "3") {
        throw Refused(place(), "positions of " + many.substr(0, 10) + " numbers are no roof",
                      "give positions of three");
      }
      text_.clear();
      is_in_text_ = true;
    }
  }

  void characters(std::string_view text) {
    if (!is_in_text_ || open_.empty()) {
      return;
    }
    text_ += text;
    if (text_.size() > most_text) {
      throw Refused(place(), "a list of positions is longer than 8 MiB",
                    "check where the file comes from");
    }
  }

  void end(std::string_view name) {
    if (name == "posList" || name == "pos") {
      is_in_text_ = false;
      positions();
    } else if (name == "LinearRing") {
      if (ring_.size() > 1 && ring_.front() == ring_.back()) {
        ring_.pop_back();
      }
      polygon_.push_back(std::move(ring_));
      ring_.clear();
    } else if (name == "Polygon" || name == "Triangle" || name == "Rectangle") {
      take_polygon();
    }
    path_.pop_back();
    if (!open_.empty() && open_.back().depth == path_.size()) {
      close();
    }
  }

  /// What there is to say of the unit; empty where nothing is.
  std::string unit_note() const {
    return importing::system_note(system_, asked_, importing::city_coordinates);
  }

  importing::CityTold told;

 private:
  /// The first reference system that is named holds for all; another unit later on is refused.
  void refer(const std::string& name, const std::string& labels) {
    if (name.empty() && labels.empty()) {
      return;
    }
    importing::ReferenceSystem system = importing::system_named(name);
    const std::string label = importing::unit_word(labels.substr(0, labels.find(' ')));
    system.unit = label.empty() ? system.unit : label;
    const double unit_m = importing::city_unit_m(system, asked_);
    if (has_positions_ && std::abs(unit_m - unit_m_) > 0.0) {
      throw Refused(place(), "parts of the file are in another unit (" + system.name + ")",
                    "give all coordinates in one unit, or take all as one with the option unit=m");
    }
    if (system_.name.empty() || !has_positions_) {
      system_ = system;
      unit_m_ = unit_m;
    }
  }
  std::string place() const { return open_.empty() ? "" : open_.back().id; }

  void open(const std::string& id) {
    Open open;
    open.id =
        id.empty() ? "building-" + std::to_string(++without_id_) : importing::shortened(id, 100);
    open.parent = open_.empty() ? "" : open_.front().id;
    open.depth = path_.size() - 1;
    if (!open_.empty()) {
      open_.back().has_parts = true;
    }
    open_.push_back(std::move(open));
  }

  void positions() {
    const char* at = text_.data();
    const char* last = at + text_.size();
    Point point{0.0, 0.0, 0.0};
    std::size_t count = 0;
    while (!open_.empty()) {
      at = std::find_if(at, last,
                        [](char c) { return c != ' ' && c != '\n' && c != '\t' && c != '\r'; });
      if (at == last) {
        break;
      }
      const auto [end, error] = std::from_chars(at, last, point.at(count % 3));
      if (error != std::errc{} || end == at || !std::isfinite(point.at(count % 3))) {
        throw Refused(place(), "\"" + std::string(at, std::min(last, at + 20)) + "\" is no number",
                      "the file is damaged");
      }
      at = end;
      if (++count % 3 == 0) {
        has_positions_ = true;
        ring_.push_back({point[0] * unit_m_, point[1] * unit_m_, point[2] * unit_m_});
        open_.back().lowest_m = std::min(open_.back().lowest_m, ring_.back()[2]);
      }
    }
    if (count % 3 != 0) {
      throw Refused(place(), "a list of positions does not hold three numbers each",
                    "the file is damaged");
    }
  }

  /// A roof surface may say which of the polygons of a solid it has.
  void link(const std::string& href) {
    if (href.size() > 1 && href.front() == '#' && !open_.empty() && is_within("RoofSurface")) {
      open_.back().linked.insert(href.substr(1));
    }
  }

  bool is_within(std::string_view name) const {
    return std::any_of(path_.begin() + static_cast<std::ptrdiff_t>(open_.back().depth), path_.end(),
                       [&](const std::string& step) { return step == name; });
  }

  /// Of the geometry that is being read: lod2MultiSurface, lod2Solid, ...; 0 where it says none.
  int lod() const {
    const auto says = [](const std::string& step) {
      return step.size() > 4 && step.starts_with("lod") && step[3] >= '0' && step[3] <= '4';
    };
    const auto step = std::find_if(path_.rbegin(), path_.rend(), says);
    return step == path_.rend() ? 0 : (*step)[3] - '0';
  }

  void take_polygon() {
    importing::Polygon polygon = std::move(polygon_);
    polygon_.clear();
    if (open_.empty() || polygon.empty() || polygon.front().size() < 3) {
      return;
    }
    if (is_within("RoofSurface")) {
      open_.back().named[lod()].push_back(std::move(polygon));
    } else if (!is_within("WallSurface") && !is_within("GroundSurface") &&
               importing::faces_up(polygon)) {
      open_.back().rising_ids[lod()].push_back(polygon_id_);
      open_.back().rising[lod()].push_back(std::move(polygon));
    }
  }
  /// What roof surfaces link to is named too.
  static void name_linked(Open& done) {
    for (const auto& [lod, ids] : done.rising_ids) {
      for (std::size_t i = 0; i < ids.size(); ++i) {
        if (done.linked.contains(ids[i])) {
          done.named[lod].push_back(done.rising[lod][i]);
        }
      }
    }
  }

  void close() {
    Open done = std::move(open_.back());
    open_.pop_back();
    if (!told.meets(done.id, {done.parent})) {
      return;
    }
    name_linked(done);
    const bool has_names = !done.named.empty();
    auto& by_lod = has_names ? done.named : done.rising;
    if (by_lod.empty() || by_lod.rbegin()->first < 1) {
      told.without_roof += done.has_parts ? 0U : 1U;
      return;
    }
    told.without_names += has_names ? 0U : 1U;
    told.highest_lod = std::max(told.highest_lod, static_cast<double>(by_lod.rbegin()->first));
    Building building;
    building.id = done.id;
    building.ground_m = done.lowest_m;
    building.roof = std::move(by_lod.rbegin()->second);
    out_->add(std::move(building));
  }

  std::string asked_;  ///< the option unit
  double unit_m_ = 1.0;
  bool has_positions_ = false;
  importing::ReferenceSystem system_;
  importing::Out* out_;
  std::vector<std::string> path_;
  std::vector<Open> open_;
  std::string text_;
  bool is_in_text_ = false;
  importing::Ring ring_;
  importing::Polygon polygon_;
  std::string polygon_id_;
  std::size_t without_id_ = 0;
};

/// expat and the reader together; what the reader throws waits until expat has returned, as no
/// exception may pass through it.
struct Parse {
  XML_Parser parser = nullptr;
  Reader* reader = nullptr;
  std::exception_ptr thrown;

  template <class Do>
  void guarded(Do go) {
    if (thrown) {
      return;
    }
    try {
      go();
    } catch (...) {
      thrown = std::current_exception();
      XML_StopParser(parser, XML_FALSE);
    }
  }
};

void on_start(void* data, const char* name, const char** attributes) {
  auto& parse = *static_cast<Parse*>(data);
  parse.guarded([&] { parse.reader->start(local(name), attributes); });
}

void on_end(void* data, const char* name) {
  auto& parse = *static_cast<Parse*>(data);
  parse.guarded([&] { parse.reader->end(local(name)); });
}

void on_text(void* data, const char* text, int size) {
  auto& parse = *static_cast<Parse*>(data);
  parse.guarded([&] { parse.reader->characters({text, static_cast<std::size_t>(size)}); });
}

/// City models need no entities of their own; what declares some wants to do harm.
// NOLINTNEXTLINE(readability-function-size): the library calls it so
void on_entity(void* data, const char* /*name*/, int /*is_parameter*/, const char* /*value*/,
               int /*size*/, const char* /*base*/, const char* /*system*/, const char* /*open*/,
               const char* /*notation*/) {
  auto& parse = *static_cast<Parse*>(data);
  parse.guarded(
      [] { throw Refused("", "the file declares entities of its own", "give plain CityGML"); });
}

void read_stream(std::string_view text, Reader& reader, const Host& host) {
  const std::unique_ptr<XML_ParserStruct, decltype(&XML_ParserFree)> parser(
      XML_ParserCreate(nullptr), XML_ParserFree);
  if (parser == nullptr) {
    throw std::bad_alloc();
  }
  Parse parse{parser.get(), &reader, nullptr};
  XML_SetUserData(parser.get(), &parse);
  XML_SetElementHandler(parser.get(), on_start, on_end);
  XML_SetCharacterDataHandler(parser.get(), on_text);
  XML_SetEntityDeclHandler(parser.get(), on_entity);
  for (std::size_t at = 0; at == 0 || at < text.size(); at += piece_size) {
    const std::string_view piece = text.substr(at, piece_size);
    const bool is_last = at + piece_size >= text.size();
    const XML_Status status =
        XML_Parse(parser.get(), piece.data(), static_cast<int>(piece.size()), is_last ? 1 : 0);
    if (parse.thrown) {
      std::rethrow_exception(parse.thrown);
    }
    if (status != XML_STATUS_OK) {
      throw Refused(
          "line " + std::to_string(XML_GetCurrentLineNumber(parser.get())),
          std::string("this is no XML: ") + XML_ErrorString(XML_GetErrorCode(parser.get())),
          "the file is damaged; get it anew");
    }
    if (!host.go_on(static_cast<double>(at) / static_cast<double>(text.size() + 1))) {
      return;
    }
  }
}

void import_text(std::string_view text, const Options& options, const Host& host) {
  const auto at = options.find("building");
  importing::Out out(
      host, importing::number_option(options, "tolerance", 0.001, 5.0).value_or(usual_tolerance_m),
      most_buildings);
  const std::string unit = importing::unit_option(options);
  Reader reader(at == options.end() ? "" : at->second, unit, out);
  read_stream(text, reader, host);
  if (const std::string note = reader.unit_note(); !note.empty()) {
    host.note(note);
  }
  importing::finish_city(out, reader.told, "", host);
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string_view text(head, size);
  const std::string name = importing::small(file_name == nullptr ? "" : file_name);
  if (text.find("CityModel") != std::string_view::npos) {
    return 95;
  }
  const bool is_xml = text.find("<?xml") != std::string_view::npos;
  return is_xml && (name.ends_with(".gml") || name.ends_with(".citygml")) ? 50 : 0;
}

constexpr ridgeward_importer_table table{
    RIDGEWARD_IMPORTER_ABI,
    sizeof(ridgeward_importer_table),
    "citygml",
    "roofs of city models, level of detail 2 and up: CityGML 1.0 to 3.0, building by building",
    ".gml .citygml .xml",
    sniff,
    importing::read_with<import_text>};

}  // namespace
}  // namespace ridgeward::citygml

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::citygml::table : nullptr;
}

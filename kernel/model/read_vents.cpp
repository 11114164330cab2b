// Site, ceilings, dividers, obstacles, vents, prices.
#include "model/read_pieces.hpp"

#include <fmt/format.h>

#include <cmath>

namespace ridgeward::model {

namespace {

/// From a slate to a large sheet; beyond, it is more likely a wrong unit.
constexpr Range any_exposure{1.0 * units::inch_m, 10.0 * units::foot_m};
constexpr Range any_starter{0.0, 6.0 * units::inch_m};

/// Opens each object of a list and hands it on; caps the count.
template <class Each>
void each_object(const Cursor& list, const ObjectKeys& keys, Each each) {
  if (!list.open_list()) {
    return;
  }
  if (list.size() > 10000) {
    list.fault("too_large", fmt::format("{} entries are too many", list.size()),
               "give at most 10000 entries");
    return;
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    Cursor item = list.item(i);
    if (item.open_object(keys)) {
      each(item, i + 1);
    }
  }
}

/// Names of planes can be checked only against parts that were read well.
bool may_check_names(const Cursor& cursor, const RoofModel& model) {
  return cursor.reading().faults.empty() && !model.parts.empty();
}

void read_plane(const Cursor& cursor, std::string& plane, const RoofModel& model) {
  if (take(plane, cursor.text()) && may_check_names(cursor, model)) {
    check_plane_name(cursor, plane, model);
  }
}

/// `whole`, or `from` and `to` along an eave or a line.
struct Stretch {
  bool whole = false;
  double from_m = 0.0;
  double to_m = 0.0;
};

Stretch read_stretch(const Cursor& cursor, bool is_needed) {
  Stretch stretch;
  const Cursor from = cursor.key("from");
  const Cursor to = cursor.key("to");
  take(stretch.whole, cursor.key("whole").boolean());
  const std::optional<double> from_m = from.length(any_length);
  const std::optional<double> to_m = to.length(any_length);
  if (stretch.whole && (from.is_there() || to.is_there())) {
    cursor.key("whole").warn("field.unused", "the whole length is taken: from and to are not used",
                             "leave out from and to, or whole");
  } else if (!stretch.whole && is_needed && !to.is_there()) {
    to.required("give from and to along the eave or the line, or \"whole\": true");
  } else if (to_m && *to_m <= from_m.value_or(0.0)) {
    to.fault("field.range", "the run ends where it starts, or before",
             "give a to beyond from, both measured from the left end");
  }
  stretch.from_m = from_m.value_or(0.0);
  stretch.to_m = to_m.value_or(0.0);
  return stretch;
}

void read_intake(const Cursor& list, RoofModel& model, Ids& ids) {
  each_object(list, keys::intake, [&](Cursor& item, std::size_t number) {
    IntakeRun run;
    run.id = ids.read(item.key("id"), fmt::format("intake-{}", number));
    take(run.product, item.key("product").required("name a product of the catalogue").text());
    read_plane(item.key("plane").required("name the plane: part and edge, \"main/0\""), run.plane,
               model);
    take(run.position,
         item.key("position")
             .one_of<Position>({{"eave", Position::eave}, {"upslope", Position::upslope}}));
    const Stretch stretch = read_stretch(item, true);
    run.whole = stretch.whole;
    run.from_m = stretch.from_m;
    run.to_m = stretch.to_m;
    take(run.every_m, item.key("every").length(more_than_zero));
    model.intake.push_back(std::move(run));
  });
}

void read_exhaust(const Cursor& list, RoofModel& model, Ids& ids) {
  each_object(list, keys::exhaust, [&](Cursor& item, std::size_t number) {
    ExhaustVent vent;
    vent.id = ids.read(item.key("id"), fmt::format("exhaust-{}", number));
    take(vent.product, item.key("product").required("name a product of the catalogue").text());
    const Cursor line = item.key("line");
    const Cursor plane = item.key("plane");
    const Cursor at = item.key("at");
    const Cursor wall = item.key("wall");
    const int places =
        (line.is_there() ? 1 : 0) + (plane.is_there() ? 1 : 0) + (wall.is_there() ? 1 : 0);
    if (places != 1) {
      item.fault("field.missing",
                 places > 1 ? "this vent has more than one of line, plane and wall"
                            : "this vent has neither line nor plane nor wall",
                 "give a line (\"main/0|main/2\") for vents along a line, a plane and a place on "
                 "it, or a gable wall (\"main/1\") and a place in it");
    }
    if (take(vent.line, line.text()) && may_check_names(line, model)) {
      check_line_name(line, vent.line, model);
    }
    read_plane(plane, vent.plane, model);
    if (plane.is_there()) {
      at.required("give the place on the plane: [along the eave, up the slope]");
    }
    read_plane(wall, vent.wall, model);
    if (wall.is_there()) {
      at.required("give the place in the wall: [along the wall, up from the plate]");
    }
    take(vent.at, read_point(at));
    const Stretch stretch = read_stretch(item, line.is_there());
    vent.whole = stretch.whole;
    vent.from_m = stretch.from_m;
    vent.to_m = stretch.to_m;
    model.exhaust.push_back(std::move(vent));
  });
}

}  // namespace

void read_site(Cursor cursor, RoofModel& model) {
  Site& site = model.site;
  cursor.open_object(keys::site);
  take(site.north_deg, cursor.key("north_deg").number({-360.0, 360.0}));
  if (!take(site.code, cursor.key("code").text(100))) {
    model.assumptions.push_back("No code set is given: " + site.code + " is taken.");
  }
  take(site.climate_zone, cursor.key("climate_zone").text(20));
  take(site.snow, cursor.key("snow").boolean());
  take(site.exposure,
       cursor.key("exposure")
           .one_of<std::string>(
               {{"flat", "flat"}, {"open", "open"}, {"suburb", "suburb"}, {"city", "city"}}));
  take(site.winter_c, cursor.key("winter_c").number({-80.0, 60.0}));
  take(site.summer_c, cursor.key("summer_c").number({-80.0, 60.0}));
}

void read_roofing(Cursor cursor, RoofModel& model) {
  Roofing& roofing = model.roofing;
  if (!cursor.open_object(keys::roofing)) {
    return;
  }
  take(roofing.exposure_m, cursor.key("exposure").length(any_exposure));
  take(roofing.starter_m, cursor.key("starter").length(any_starter));
  take(roofing.ice_barrier, cursor.key("ice_barrier")
                                .one_of<IceBarrier>({{"by_climate", IceBarrier::by_climate},
                                                     {"required", IceBarrier::required},
                                                     {"none", IceBarrier::none}}));
  take(roofing.ice_barrier_from,
       cursor.key("ice_barrier_from")
           .one_of<WallFace>({{"inner_face", WallFace::inner}, {"outer_face", WallFace::outer}}));
}

void read_ceilings(const Cursor& list, RoofModel& model) {
  Ids ids;
  each_object(list, keys::ceiling, [&](Cursor& item, std::size_t number) {
    Ceiling ceiling;
    ceiling.id = ids.read(item.key("id"), fmt::format("ceiling-{}", number));
    take(ceiling.kind, item.key("kind").one_of<CeilingKind>({{"flat", CeilingKind::flat},
                                                             {"sloped", CeilingKind::sloped},
                                                             {"open", CeilingKind::open},
                                                             {"unvented", CeilingKind::unvented}}));
    ceiling.outline = read_loop(item.key("outline").required("give the corners of the ceiling"));
    const double plate_m = model.parts.empty() ? 0.0 : model.parts.front().plate_m;
    const Cursor height = item.key("height");
    if (!take(ceiling.height_m, height.length(any_length))) {
      ceiling.height_m = plate_m;
    }
    if (!height.is_there() && ceiling.kind == CeilingKind::flat) {
      model.assumptions.push_back(ceiling.id +
                                  ": height of the ceiling not given, taken as the "
                                  "height of the first part's plate");
    }
    if (!take(ceiling.insulation_m, item.key("insulation").length(no_less_than_zero))) {
      model.assumptions.push_back("Ceiling " + ceiling.id +
                                  ": no insulation is given, none is taken.");
    }
    take(ceiling.baffles, item.key("baffles").boolean());
    model.ceilings.push_back(std::move(ceiling));
  });
}

void read_dividers(const Cursor& list, RoofModel& model) {
  Ids ids;
  each_object(list, keys::divider, [&](Cursor& item, std::size_t number) {
    Divider divider;
    divider.id = ids.read(item.key("id"), fmt::format("divider-{}", number));
    const Cursor from = item.key("from").required("give the point it starts from: [x, y]");
    const Cursor to = item.key("to").required("give the point it runs to: [x, y]");
    const std::optional<glm::dvec2> start = read_point(from);
    const std::optional<glm::dvec2> end = read_point(to);
    if (start && end && *start == *end) {
      to.fault("outline.zero_edge", "the divider has no length", "give two different points");
    }
    take(divider.from, start);
    take(divider.to, end);
    model.dividers.push_back(std::move(divider));
  });
}

namespace {

void read_cricket(const Cursor& cursor, Obstacle& obstacle) {
  const bool given =
      take(obstacle.cricket, cursor.one_of<Cricket>({{"where_needed", Cricket::where_needed},
                                                     {"always", Cricket::always},
                                                     {"none", Cricket::none}}));
  if (given && obstacle.kind != ObstacleKind::chimney) {
    obstacle.cricket = Cricket::where_needed;
    cursor.warn("field.unused", "only chimneys have crickets", "leave it out");
  }
}

}  // namespace

void read_obstacles(const Cursor& list, RoofModel& model) {
  Ids ids;
  each_object(list, keys::obstacle, [&](Cursor& item, std::size_t number) {
    Obstacle obstacle;
    obstacle.id = ids.read(item.key("id"), fmt::format("obstacle-{}", number));
    take(obstacle.kind, item.key("kind")
                            .required("give chimney, skylight, pipe or solar")
                            .one_of<ObstacleKind>({{"chimney", ObstacleKind::chimney},
                                                   {"skylight", ObstacleKind::skylight},
                                                   {"pipe", ObstacleKind::pipe},
                                                   {"solar", ObstacleKind::solar}}));
    const Cursor outline = item.key("outline");
    const Cursor plane = item.key("plane");
    const Cursor at = item.key("at");
    const Cursor size = item.key("size");
    if (outline.is_there() == plane.is_there()) {
      item.fault("field.missing", "an obstacle has either an outline or a plane",
                 R"(give an outline in plan, or a plane with "at" and "size")");
    }
    obstacle.outline = read_loop(outline);
    read_plane(plane, obstacle.plane, model);
    if (plane.is_there()) {
      at.required("give the place on the plane: [along the eave, up the slope]");
      size.required("give the size: [along the eave, up the slope]");
    }
    take(obstacle.at, read_point(at));
    if (take(obstacle.size, read_point(size)) &&
        (obstacle.size.x <= 0.0 || obstacle.size.y <= 0.0)) {
      size.fault("field.range", "a size is more than nothing", "give two lengths over 0");
    }
    take(obstacle.clearance_m, item.key("clearance").length(no_less_than_zero));
    read_cricket(item.key("cricket"), obstacle);
    model.obstacles.push_back(std::move(obstacle));
  });
}

void read_vents(Cursor cursor, RoofModel& model) {
  cursor.open_object(keys::vents);
  Ids ids;
  read_intake(cursor.key("intake"), model, ids);
  read_exhaust(cursor.key("exhaust"), model, ids);
  if (!cursor.is_there()) {
    model.assumptions.emplace_back("No vents are given.");
  }
}

void read_prices(const Cursor& cursor, RoofModel& model) {
  if (!cursor.open_mapping()) {
    return;
  }
  for (const std::string& name : cursor.names()) {
    if (const std::optional<double> price = cursor.named(name).number({0.0, 1.0e9})) {
      model.prices[name] = *price;
    }
  }
}

}  // namespace ridgeward::model

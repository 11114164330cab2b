// Wind, rooms, leaks and the user's own cases for the airflow.
#include "model/read_pieces.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::model {

namespace {

constexpr std::size_t most_cases = 100;
constexpr Range degrees_c{-80.0, 60.0};
constexpr Range attic_degrees_c{-80.0, 120.0};
constexpr Range wind_ms{0.0, 40.0};
constexpr Range share{0.0, 1.0};

AirCase read_case(const Cursor& item, const RoofModel& model, std::size_t number) {
  AirCase one;
  if (!take(one.name, item.key("name").text(100))) {
    one.name = fmt::format("case {}", number);
  }
  take(one.outside_c,
       item.key("outside_c").required("give the temperature outside, degrees C").number(degrees_c));
  one.inside_c = model.air.inside_winter_c;
  take(one.inside_c, item.key("inside_c").number(degrees_c));
  one.attic_c = item.key("attic_c").number(attic_degrees_c);
  take(one.wind_ms, item.key("wind_ms").number(wind_ms));
  const Cursor from = item.key("wind_from_deg");
  take(one.wind_from_deg, from.number({-360.0, 360.0}));
  if (one.wind_ms > 0.0 && !from.is_there()) {
    from.required("give the direction the wind comes from, degrees clockwise from north");
  }
  take(one.sun, item.key("sun").number(share));
  take(one.clear_sky, item.key("clear_sky").boolean());
  take(one.snow_m, item.key("snow").length({0.0, 10.0}));
  take(one.fans, item.key("fans").boolean());
  return one;
}

void read_cases(const Cursor& list, RoofModel& model) {
  if (!list.open_list()) {
    return;
  }
  if (list.size() > most_cases) {
    list.fault("too_large", fmt::format("{} cases are too many", list.size()),
               fmt::format("give at most {} cases", most_cases));
    return;
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    Cursor item = list.item(i);
    if (!item.open_object(keys::air_case)) {
      continue;
    }
    AirCase one = read_case(item, model, i + 1);
    const auto is_same = [&](const AirCase& other) { return other.name == one.name; };
    if (std::any_of(model.air.cases.begin(), model.air.cases.end(), is_same)) {
      item.key("name").fault("id.twice", "the name \"" + one.name + "\" is used twice",
                             "give each case its own name");
    }
    model.air.cases.push_back(std::move(one));
  }
}

}  // namespace

const char* word(Shelter shelter) {
  switch (shelter) {
    case Shelter::none:
      return "none";
    case Shelter::scattered:
      return "scattered";
    case Shelter::rows:
      return "rows";
    case Shelter::close:
      return "close";
  }
  return "none";
}

void read_air(Cursor cursor, RoofModel& model) {
  cursor.open_object(keys::air);
  Air& air = model.air;
  take(air.wind_ms, cursor.key("wind_ms").number({0.0, 40.0, true}));
  air.shelter = cursor.key("shelter").one_of<Shelter>({{"none", Shelter::none},
                                                       {"scattered", Shelter::scattered},
                                                       {"rows", Shelter::rows},
                                                       {"close", Shelter::close}});
  take(air.inside_winter_c, cursor.key("inside_winter_c").number(degrees_c));
  take(air.inside_summer_c, cursor.key("inside_summer_c").number(degrees_c));
  take(air.inside_humidity, cursor.key("inside_humidity").share());
  take(air.ceiling_leakage_cm2_m2, cursor.key("ceiling_leakage_cm2_m2").number({0.0, 1000.0}));
  take(air.house_leakage_cm2_m2, cursor.key("house_leakage_cm2_m2").number({0.0, 1000.0}));
  take(air.absorptance, cursor.key("absorptance").number(share));
  read_cases(cursor.key("cases"), model);
}

}  // namespace ridgeward::model

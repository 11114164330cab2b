#include "framing/seats.hpp"

#include "units/length.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-9;
/// Of the stock's depth: IRC R802.7.1 for notches at the ends of rafters, as trade papers quote it.
constexpr double deepest_share = 0.25;

bool is_seated(const Member& member) {
  return member.lie == Lie::under_deck && !is_truss(member.kind) && member.part_of.is_none();
}

}  // namespace

void set_seat(Member& member, const OverPlate& plate) {
  const double cosine = std::cos(plate.slope_rad);
  member.tail_m = plate.tail_m;
  member.overhang_m = plate.tail_m * cosine;
  if (is_truss(member.kind) || cosine <= near_m) {
    return;
  }
  const double plumb_m = member.depth_m / cosine;
  const double top_m = plate.deck_m - plate.deck_plumb_m;
  const double cut_m = plumb_m - top_m;
  if (top_m <= near_m) {
    member.over_plate_m = -plumb_m;  // lies below the plate altogether
  } else if (cut_m <= near_m) {
    member.over_plate_m = std::max(0.0, -cut_m);
  } else {
    member.heel_cut_m = cut_m;
    member.seat_cut_m = std::min(plate.wall_thickness_m, cut_m / std::tan(plate.slope_rad));
  }
}

void set_points(Member& member) {
  const double slant_m =
      0.5 * member.thickness_m *
      (std::abs(std::tan(member.side_cut_rad)) + std::abs(std::tan(member.foot_side_cut_rad)));
  member.long_point_m = member.length_m + slant_m;
  member.short_point_m = std::max(0.0, member.length_m - slant_m);
}

double notch_m(const Member& member) { return member.heel_cut_m * std::sin(member.plumb_cut_rad); }

std::vector<std::string> seat_notes(const model::RoofModel& model, const Framing& framing) {
  struct Worst {
    const Member* notched = nullptr;
    bool is_below = false;
  };
  std::vector<Worst> worst(model.parts.size());
  for (const Member& member : framing.members) {
    if (!is_seated(member)) {
      continue;
    }
    Worst& part = worst[member.part];
    part.is_below = part.is_below || member.over_plate_m < 0.0;
    if (part.notched == nullptr || notch_m(member) > notch_m(*part.notched)) {
      part.notched = &member;
    }
  }
  std::vector<std::string> notes;
  const units::Style style =
      model.unit == units::LengthUnit::ft || model.unit == units::LengthUnit::in
          ? units::Style::feet_inches
          : units::Style::metric;
  for (std::size_t i = 0; i < worst.size(); ++i) {
    const std::string& id = model.parts[i].id;
    if (worst[i].is_below) {
      notes.push_back("The heel of part " + id +
                      " puts the top of its rafters no higher than the plate: no birdsmouth is "
                      "worked out for them.");
    } else if (worst[i].notched != nullptr &&
               notch_m(*worst[i].notched) > deepest_share * worst[i].notched->depth_m + near_m) {
      const Member& member = *worst[i].notched;
      notes.push_back("The birdsmouths of part " + id + " would be up to " +
                      units::show(notch_m(member), style) + " deep in " + member.stock +
                      ", more than a quarter of it (the limit as US practice has it): give "
                      "the roof a higher heel or deeper rafters.");
    }
  }
  return notes;
}

}  // namespace ridgeward::framing

#include "framing/stage.hpp"

#include "framing/bay_borders.hpp"
#include "framing/broken_boards.hpp"
#include "framing/collar_ties.hpp"
#include "framing/cuts.hpp"
#include "framing/dormers.hpp"
#include "framing/edge_members.hpp"
#include "framing/plane_framer.hpp"
#include "framing/seats.hpp"
#include "framing/trusses.hpp"

namespace ridgeward::framing {

namespace {

Stock known_stock(const std::string& name, const std::string& part, const Stock& otherwise,
                  std::vector<std::string>& assumptions) {
  const Stock stock = stock_named(name);
  if (stock.thickness_m > 0.0) {
    return stock;
  }
  assumptions.push_back("The stock \"" + name + "\" of part " + part +
                        " is not known; it is taken as 1 1/2 in thick.");
  return otherwise;
}

std::vector<PartStock> stock_of_parts(const model::RoofModel& model,
                                      std::vector<std::string>& assumptions) {
  std::vector<PartStock> all;
  for (const model::Part& part : model.parts) {
    const model::Framing& f = part.framing;
    const Stock rafter = known_stock(f.rafter, part.id, stock_named("2x8"), assumptions);
    const Stock ridge = known_stock(f.ridge, part.id, stock_named("2x10"), assumptions);
    const Stock hip = known_stock(f.hip, part.id, stock_named("2x10"), assumptions);
    const Stock valley = known_stock(f.valley, part.id, stock_named("2x10"), assumptions);
    all.push_back({rafter.thickness_m, ridge.thickness_m, hip.thickness_m, valley.thickness_m,
                   rafter.depth_m, ridge.depth_m, hip.depth_m, valley.depth_m,
                   part.valleys == model::Valleys::overlaid && !all.empty(),
                   f.kind == model::FramingKind::truss});
    if (all.back().is_overlaid) {
      assumptions.push_back("The valleys of part " + part.id +
                            " are laid over the earlier roof: no valley rafters stand under them "
                            "but boards lie flat on its deck, and its rafters go on beneath.");
    }
    if (f.kind == model::FramingKind::truss) {
      assumptions.push_back(
          "The trusses of part " + part.id +
          " are set out as step-down sets at hip ends: the girder no more than 8 ft from the end "
          "wall, end jacks over the level tops, valley sets on the trusses of the other roof. The "
          "sizes are the truss maker's.");
    }
    if (!f.measured.empty()) {
      assumptions.push_back("Rafters of part " + part.id +
                            " stand as measured on the edges that give positions.");
    }
  }
  return all;
}

}  // namespace

Framing frame(const model::RoofModel& model, const surface::Surface& surface) {
  Framing framing;
  const std::vector<PartStock> stock = stock_of_parts(model, framing.assumptions);
  const Joints joints(surface);
  framing.planes.resize(surface.planes.size());
  PlaneFramer framer(model, surface, stock, joints, framing);
  const Building building{model, surface, stock};
  const std::vector<DormerHole> holes = dormer_holes(building);
  framer.mind(holes);
  for (const PlaneId id : surface.planes.ids()) {
    if (surface.planes[id].cricket.empty()) {
      framer.frame(id);
    }
  }
  add_front_headers(building, holes, framing);
  for (Member& member : board_members(model, surface, stock, joints)) {
    framing.members.push_back(std::move(member));
  }
  fit_ridges(building, holes, framing);
  break_boards(building, framing);
  add_sleepers(building, framing);
  add_trusses(building, framing);
  add_collar_ties(building, framing);
  add_rakes(building, framing);
  find_across(surface, framing);
  find_beyond_openings(framing);
  find_plates(model, surface, framing);
  add_blocking(building, framing);
  for (std::string& note : seat_notes(model, framing)) {
    framing.assumptions.push_back(std::move(note));
  }
  framing.assumptions.emplace_back(
      "Rafter lengths run from the drip line to the ridge, hip or wall along the top of the deck; "
      "fascia and tail cuts are not taken off.");
  if (!framing.openings.empty()) {
    framing.assumptions.emplace_back(
        "Around openings one rafter on each side is doubled and headers are single up to 4 ft, "
        "double beyond, of rafter stock; no sizes are worked out. Hips, valleys and ridge boards "
        "end at an opening that lies over them.");
  }
  return framing;
}

}  // namespace ridgeward::framing

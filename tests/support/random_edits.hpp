#pragma once
// Edits at random, good and bad ones, as a person in a hurry might ask for them.

#include "model/roof_model.hpp"

#include "edit/stage.hpp"

#include <cmath>
#include <random>
#include <string>

namespace ridgeward::tests {

class RandomEdits {
 public:
  explicit RandomEdits(std::uint64_t seed) : rng_(seed) {}

  edit::Edit next(const model::RoofModel& model) {
    const model::Part& part = model.parts[below(model.parts.size())];
    const std::size_t corner = below(part.outline.size());
    switch (below(27)) {
      case 0:
      case 1:
        return edit::MoveCorner{part.id, corner, part.outline[corner] + step()};
      case 2:
      case 3:
        return edit::MoveEdge{part.id, corner, step().x};
      case 4: {
        const glm::dvec2 a = part.outline[corner];
        const glm::dvec2 b = part.outline[(corner + 1) % part.outline.size()];
        const glm::dvec2 aside = below(2) == 0 ? glm::dvec2(0.0) : step();
        return edit::InsertCorner{part.id, corner, a + real(0.1, 0.9) * (b - a) + aside};
      }
      case 5:
      case 6:
        return edit::RemoveCorner{part.id, corner};
      case 7:
        return edit::MovePart{part.id, step()};
      case 8:
      case 9:
      case 10:
        return edge(part);
      case 11:
      case 12:
        return measures(part);
      case 13:
        return added(model, part, corner);
      case 14:
      case 15:
        return edit::RemovePart{part.id};
      case 16:
        return edit::RenamePart{part.id, "p" + std::to_string(below(8))};
      case 17:
        return ceiling(model, part);
      case 18:
        return obstacle(part, corner);
      case 19:
      case 20:
        return intake(model, part, corner);
      case 21:
      case 22:
        return exhaust(model, part, corner);
      case 23:
        return removed(model);
      case 25:
        return courtyard(model, part);
      case 24:
        return edit::SetName{"House " + std::to_string(below(1000))};
      default:
        return whole(model);
    }
  }

  std::size_t below(std::size_t count) {
    return std::uniform_int_distribution<std::size_t>(0, count - 1)(rng_);
  }
  double real(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(rng_);
  }

 private:
  glm::dvec2 step() {
    // Whole quarter feet, so that corners often line up, and now and then anything.
    const double unit = below(8) == 0 ? real(0.0, 1.0) : 0.0762;
    return {unit * (static_cast<double>(below(41)) - 20.0),
            unit * (static_cast<double>(below(41)) - 20.0)};
  }
  edit::Edit edge(const model::Part& part) {
    const std::size_t index = below(part.edge_count());
    model::Edge value = part.edge(index);
    if (below(3) == 0) {
      value.kind = static_cast<model::EdgeKind>(below(6));
      value.from_height_m = value.kind == model::EdgeKind::half_hip ? real(0.1, 2.0) : 0.0;
      value.wall_height_m = value.kind == model::EdgeKind::gablet ? real(0.1, 1.5) : 0.0;
    }
    value.pitch = units::Pitch::from_rise_run(1.0 + static_cast<double>(below(18)), 12);
    value.overhang_m = 0.0254 * static_cast<double>(below(30));
    value.soffit = static_cast<model::Soffit>(below(4));
    return edit::SetEdge{part.id, index, value};
  }
  edit::Edit measures(model::Part part) {
    part.plate_m = real(2.0, 4.0);
    part.heel_m = 0.0254 * static_cast<double>(below(20));
    part.framing.spacing_m = 0.0254 * static_cast<double>(8 + 4 * below(5));
    part.framing.kind = static_cast<model::FramingKind>(below(4) == 0 ? 1 : 0);
    part.framing.blocking = static_cast<model::Blocking>(below(3));
    return edit::SetPart{part};
  }
  edit::Edit added(const model::RoofModel& model, const model::Part& part, std::size_t edge) {
    if (model.parts.size() > 6) {
      return edit::RemovePart{part.id};
    }
    if (below(4) == 0) {
      const glm::dvec2 at = part.outline[edge] + 4.0 * step();
      return edit::DrawPart{{at, at + glm::dvec2{0.0, real(1.0, 8.0)},
                             at + glm::dvec2{real(1.0, 9.0), real(1.0, 9.0)}}};
    }
    return edit::AddPart{static_cast<edit::PartKind>(below(5)), part.id, edge, {}, {}, {}};
  }
  edit::Edit courtyard(const model::RoofModel& model, const model::Part& part) {
    if (!part.holes.empty() && below(2) == 0) {
      return edit::RemoveHole{part.id, below(part.holes.size())};
    }
    std::vector<glm::dvec2> square = edit::free_square(part, model.unit);
    square[below(4)] += 0.25 * step();
    return edit::PutHole{part.id, below(part.holes.size() + 1), square};
  }
  edit::Edit ceiling(const model::RoofModel& model, const model::Part& part) {
    model::Ceiling value;
    value.id = model.ceilings.empty() || below(3) == 0 ? "c" + std::to_string(below(3))
                                                       : model.ceilings.front().id;
    value.kind = static_cast<model::CeilingKind>(below(4));
    value.outline = part.outline;
    value.height_m = part.plate_m;
    value.insulation_m = real(0.0, 0.5);
    value.baffles = below(2) == 0;
    return edit::PutCeiling{value};
  }
  edit::Edit obstacle(const model::Part& part, std::size_t edge) {
    model::Obstacle value;
    value.id = "o" + std::to_string(below(4));
    value.kind = static_cast<model::ObstacleKind>(below(4));
    value.plane = part.id + "/" + std::to_string(edge);
    value.at = {real(0.0, 10.0), real(0.5, 4.0)};
    value.size = {real(0.1, 1.0), real(0.1, 1.0)};
    return edit::PutObstacle{value};
  }
  edit::Edit intake(const model::RoofModel& model, const model::Part& part, std::size_t edge) {
    model::IntakeRun value;
    if (!model.intake.empty() && below(2) == 0) {
      value = model.intake[below(model.intake.size())];
      value.whole = false;
    } else {
      value.id = "in" + std::to_string(below(5));
      value.product = "over-deck-10";
      value.plane = part.id + "/" + std::to_string(edge);
    }
    value.from_m = real(0.0, 3.0);
    value.to_m = value.from_m + real(0.0, 6.0);
    return edit::PutIntake{value};
  }
  edit::Edit exhaust(const model::RoofModel& model, const model::Part& part, std::size_t edge) {
    model::ExhaustVent value;
    value.id = "out" + std::to_string(below(5));
    if (below(2) == 0) {
      value.product = "ridge-12";
      value.line = part.id + "/" + std::to_string(edge) + "|" + part.id + "/" +
                   std::to_string((edge + 2) % part.edge_count());
      value.whole = true;
    } else {
      value.product = "box-50";
      value.plane = part.id + "/" + std::to_string(edge);
      value.at = {real(0.0, 10.0), real(0.5, 5.0)};
    }
    if (!model.exhaust.empty() && below(3) == 0) {
      value = model.exhaust[below(model.exhaust.size())];
      value.at += step();
    }
    return edit::PutExhaust{value};
  }
  edit::Edit removed(const model::RoofModel& model) {
    const auto any = [&](const auto& things) {
      return things.empty() ? std::string("nothing") : things[below(things.size())].id;
    };
    switch (below(4)) {
      case 0:
        return edit::Remove{edit::Thing::ceiling, any(model.ceilings)};
      case 1:
        return edit::Remove{edit::Thing::obstacle, any(model.obstacles)};
      case 2:
        return edit::Remove{edit::Thing::intake, any(model.intake)};
      default:
        return edit::Remove{edit::Thing::exhaust, any(model.exhaust)};
    }
  }
  edit::Edit whole(const model::RoofModel& model) {
    switch (below(3)) {
      case 0:
        return edit::SetUnits{static_cast<units::LengthUnit>(below(4))};
      case 1: {
        model::Site site = model.site;
        site.north_deg = std::floor(real(0.0, 360.0));
        site.snow = !site.snow;
        return edit::SetSite{site};
      }
      default: {
        model::Roofing roofing = model.roofing;
        roofing.exposure_m = real(0.1, 0.2);
        return edit::SetRoofing{roofing};
      }
    }
  }

  std::mt19937_64 rng_;
};

}  // namespace ridgeward::tests

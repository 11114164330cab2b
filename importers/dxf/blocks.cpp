#include "dxf/blocks.hpp"

#include "support/importing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace ridgeward::dxf {

namespace {

using importing::Point;
using importing::Refused;

constexpr double farthest = 1e9;
constexpr double widest_chord_rad = std::numbers::pi / 12.0;
constexpr std::size_t most_references = 20000;
constexpr int deepest = 16;

/// Turns, scales and moves; heights are scaled and moved.
struct Placing {
  std::array<double, 4> plan{1.0, 0.0, 0.0, 1.0};  ///< row by row
  double height = 1.0;
  Point to{0.0, 0.0, 0.0};

  Point of(const Point& p) const {
    return {plan[0] * p[0] + plan[1] * p[1] + to[0], plan[2] * p[0] + plan[3] * p[1] + to[1],
            height * p[2] + to[2]};
  }
  /// First `inner`, then this.
  Placing after(const Placing& inner) const {
    const std::array<double, 4>& a = plan;
    const std::array<double, 4>& b = inner.plan;
    return {{a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2],
             a[2] * b[1] + a[3] * b[3]},
            height * inner.height,
            of(inner.to)};
  }
  double largest_scale() const {
    return std::max(std::hypot(plan[0], plan[2]), std::hypot(plan[1], plan[3]));
  }
};

/// Of the reference's copy in one column and row.
Placing placing_of(const Reference& one, const Point& base, int column, int row) {
  const double c = std::cos(one.turn_rad);
  const double s = std::sin(one.turn_rad);
  const double x = column * one.column_gap;
  const double y = row * one.row_gap;
  Placing placing{{c * one.scale[0], -s * one.scale[1], s * one.scale[0], c * one.scale[1]},
                  one.scale[2],
                  {one.at[0] + c * x - s * y, one.at[1] + s * x + c * y, one.at[2]}};
  placing.to = placing.of({-base[0], -base[1], -base[2]});
  if (one.is_mirrored) {
    return Placing{{-1.0, 0.0, 0.0, 1.0}, -1.0, {0.0, 0.0, 0.0}}.after(placing);
  }
  return placing;
}

class Placer {
 public:
  Placer(const Blocks& blocks, const Layers& layers, Drawing& drawing)
      : blocks_(blocks), layers_(layers), drawing_(drawing) {
    drawing_.instances.assign(1, "");
  }

  void place(const Block& block, const Placing& placing, const std::string& layer, int depth) {
    if (depth > deepest) {
      throw Refused("", "blocks are nested more than 16 deep", "explode them in the drawing");
    }
    for (const Piece& piece : block.pieces) {
      file(piece, placing, piece.layer == "0" ? layer : piece.layer);
    }
    for (const auto& [what, count] : block.unread) {
      drawing_.unread[what] += count;
    }
    for (const Reference& one : block.references) {
      const std::string inner = one.layer == "0" ? layer : one.layer;
      if (is_left(one.seen, inner, true)) {
        continue;
      }
      const auto at = blocks_.find(importing::small(one.block));
      if (at == blocks_.end()) {
        ++drawing_.missing[one.block];
        continue;
      }
      ++drawing_.placed[one.block];
      for (int column = 0; column < std::max(1, one.columns); ++column) {
        for (int row = 0; row < std::max(1, one.rows); ++row) {
          begin(one, depth);
          place(at->second, placing.after(placing_of(one, at->second.base, column, row)), inner,
                depth + 1);
        }
      }
    }
    if (depth == 0) {
      instance_ = 0;
    }
  }

 private:
  void begin(const Reference& one, int depth) {
    if (++references_ > most_references) {
      throw Refused("", "there are more than 20000 block references",
                    "give the plan without furniture and plants");
    }
    if (depth == 0) {
      instance_ = drawing_.instances.size();
      drawing_.instances.push_back(one.block);
    }
  }

  /// Whether something is not to be seen: counts it then. What a reference on a layer that is off
  /// holds is judged by itself.
  bool is_left(Seen seen, const std::string& layer, bool is_reference) {
    const std::string name = importing::small(layer);
    const char* why = nullptr;
    if (seen == Seen::on_sheet) {
      why = "on sheets (paper space)";
    } else if (layers_.frozen.contains(name)) {
      why = "on layers that are frozen";
    } else if (layers_.off.contains(name) && !is_reference) {
      why = "on layers that are off";
    } else if (seen == Seen::invisible) {
      why = "drawn as invisible";
    } else {
      return false;
    }
    ++drawing_.left[why][layer];
    return true;
  }

  void file(const Piece& piece, const Placing& placing, const std::string& layer) {
    corners_ += piece.corners.size();
    if (corners_ > most_corners) {
      throw Refused("", "there are more than 100000 corners",
                    "give the plan without furniture and hatching");
    }
    if (is_elevation(layer) || is_left(piece.seen, layer, false)) {
      return;
    }
    std::vector<Point> corners;
    corners.reserve(piece.corners.size());
    for (const Point& corner : piece.corners) {
      corners.push_back(placing.of(corner));
      check_place(corners.back());
    }
    if (piece.is_face) {
      drawing_.faces.push_back({layer, std::move(corners)});
      return;
    }
    run(layer, std::move(corners), piece.is_closed, piece.sagitta * placing.largest_scale());
  }

  /// A line or a polyline.
  void run(const std::string& layer, std::vector<Point> corners, bool is_closed, double sagitta) {
    const bool returns =
        corners.size() > 3 && std::hypot(corners.front()[0] - corners.back()[0],
                                         corners.front()[1] - corners.back()[1]) < 1e-9;
    if (const std::optional<RoofLine::Kind> kind = roof_kind(layer)) {
      for (std::size_t i = 0; i + (is_closed && !returns ? 0 : 1) < corners.size(); ++i) {
        drawing_.roof.push_back({*kind, corners[i], corners[(i + 1) % corners.size()]});
      }
    }
    if (returns) {
      corners.pop_back();
    }
    const auto plan = [](const Point& p) { return Position{p[0], p[1]}; };
    if ((is_closed || returns) && corners.size() > 2) {
      Outline outline{layer, {}, {}, sagitta, instance_};
      for (const Point& corner : corners) {
        outline.corners.push_back(plan(corner));
        outline.heights.push_back(corner[2]);
      }
      drawing_.outlines.push_back(std::move(outline));
      return;
    }
    for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
      drawing_.strokes.push_back(
          {layer, plan(corners[i]), plan(corners[i + 1]), sagitta, instance_});
    }
  }

  const Blocks& blocks_;
  const Layers& layers_;
  Drawing& drawing_;
  std::size_t instance_ = 0;
  std::size_t references_ = 0;
  std::size_t corners_ = 0;
};

}  // namespace

void check_place(const Point& p) {
  if (!(std::abs(p[0]) < farthest) || !(std::abs(p[1]) < farthest) ||
      !(std::abs(p[2]) < farthest)) {
    throw Refused("", "a corner lies nowhere", "check that the file is whole");
  }
}

std::vector<Point> flattened(const Point& from, const Point& to, double bulge, double& sagitta) {
  const double dx = to[0] - from[0];
  const double dy = to[1] - from[1];
  const double angle = 4.0 * std::atan(bulge);
  const auto chords = static_cast<int>(std::ceil(std::abs(angle) / widest_chord_rad - 1e-9));
  if (chords < 2 || !(std::hypot(dx, dy) > 0.0)) {
    sagitta = std::max(sagitta, 0.5 * std::abs(bulge) * std::hypot(dx, dy));
    return {to};
  }
  const double aside = (1.0 - bulge * bulge) / (4.0 * bulge);
  const Position centre{from[0] + 0.5 * dx - aside * dy, from[1] + 0.5 * dy + aside * dx};
  const Position arm{from[0] - centre[0], from[1] - centre[1]};
  std::vector<Point> corners;
  for (int i = 1; i < chords; ++i) {
    const double share = static_cast<double>(i) / chords;
    const double c = std::cos(share * angle);
    const double s = std::sin(share * angle);
    corners.push_back({centre[0] + c * arm[0] - s * arm[1], centre[1] + s * arm[0] + c * arm[1],
                       from[2] + share * (to[2] - from[2])});
  }
  corners.push_back(to);
  sagitta = std::max(sagitta, std::hypot(arm[0], arm[1]) * (1.0 - std::cos(0.5 * angle / chords)));
  return corners;
}

void place_all(const Block& model, const Blocks& blocks, const Layers& layers, Drawing& drawing) {
  Placer(blocks, layers, drawing).place(model, Placing{}, "0", 0);
}

}  // namespace ridgeward::dxf

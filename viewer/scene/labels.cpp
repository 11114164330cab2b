#include "scene/labels.hpp"

#include "scene/pick.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace ridgeward::scene {
namespace {

constexpr double any_cost = 1e9;
constexpr double crowded_cost = 6.5;  // of a label that would cover two lines: better none

/// A drawn line on the picture.
struct Drawn {
  glm::dvec2 a;
  glm::dvec2 b;
};

struct Place {
  Box box;
  glm::dvec2 anchor;
  double cost = 0.0;
  bool has_leader = false;
};

Box around(glm::dvec2 middle, glm::dvec2 size) {
  return {middle - size / 2.0, middle + size / 2.0};
}

/// Whether a segment passes through a box (Liang and Barsky's clipping).
bool passes(const Drawn& line, const Box& box) {
  double enter = 0.0;
  double leave = 1.0;
  const glm::dvec2 way = line.b - line.a;
  for (int axis = 0; axis < 2; ++axis) {
    if (way[axis] == 0.0) {
      if (line.a[axis] < box.low[axis] || line.a[axis] > box.high[axis]) {
        return false;
      }
      continue;
    }
    const double t0 = (box.low[axis] - line.a[axis]) / way[axis];
    const double t1 = (box.high[axis] - line.a[axis]) / way[axis];
    enter = std::max(enter, std::min(t0, t1));
    leave = std::min(leave, std::max(t0, t1));
  }
  return enter <= leave;
}

class Placer {
 public:
  Placer(const Scene& scene, const Lens& lens, std::vector<Box> taken, const Lettering& lettering)
      : scene_(scene), lens_(lens), taken_(std::move(taken)), ink_(lettering) {
    frame_ = {
        {lens.viewport.x + 4, lens.viewport.y + 4},
        {lens.viewport.x + lens.viewport.width - 4, lens.viewport.y + lens.viewport.height - 4}};
    for (const Stroke& stroke : scene.strokes) {
      const bool counts = stroke.layer == Layer::lines || stroke.role == StrokeRole::slot;
      const auto a = lens.pixel(stroke.from);
      const auto b = lens.pixel(stroke.to);
      if (counts && a && b && is_in_sight(scene, lens, (stroke.from + stroke.to) / 2.0)) {
        drawn_.push_back({*a, *b});
      }
    }
  }

  bool is_free(const Box& box) const {
    return box.is_within(frame_) && std::none_of(taken_.begin(), taken_.end(),
                                                 [&](const Box& t) { return t.overlaps(box); });
  }

  /// The cheapest of the free places, if it costs no more than `most`; it is taken from then on.
  std::optional<Place> take(const std::vector<Place>& places, double most) {
    std::optional<Place> best;
    for (Place place : places) {
      if (!is_free(place.box)) {
        continue;
      }
      const auto covered = std::count_if(
          drawn_.begin(), drawn_.end(), [&](const Drawn& line) { return passes(line, place.box); });
      place.cost += 3.0 * static_cast<double>(covered);
      if (place.cost <= most && (!best || place.cost < best->cost)) {
        best = place;
      }
    }
    if (best) {
      taken_.push_back({best->box.low - 2.0, best->box.high + 2.0});
      if (best->has_leader) {
        drawn_.push_back({best->anchor, (best->box.low + best->box.high) / 2.0});
      }
    }
    return best;
  }

  std::vector<Place> around_point(glm::dvec3 point, glm::dvec2 size) const {
    std::vector<Place> places;
    const auto at = lens_.pixel(point);
    if (!at) {
      return places;
    }
    double cost = 0.0;
    for (const double reach : {1.0, 2.0, 3.2}) {
      for (const glm::dvec2 way : std::array<glm::dvec2, 8>{{{0, -1},
                                                             {0, 1},
                                                             {1, 0},
                                                             {-1, 0},
                                                             {0.8, -0.8},
                                                             {-0.8, -0.8},
                                                             {0.8, 0.8},
                                                             {-0.8, 0.8}}}) {
        cost += 0.1;
        const glm::dvec2 step = way * (size * 0.5 * reach + ink_.gap_px + 3.0);
        places.push_back({around(*at + step, size), *at, cost, true});
      }
    }
    return places;
  }

  /// Which roof plane is seen at a pixel; none where it is something else.
  PlaneId seen_at(glm::dvec2 pixel) const {
    const Ray ray = lens_.ray(pixel);
    const auto hit = first_hit(scene_, ray, lens_.keeps);
    if (!hit || glm::dot(scene_.faces[hit->face].normal, ray.direction) > 0) {
      return {};  // its underside
    }
    return scene_.faces[hit->face].plane;
  }

  /// Places wholly on the plane itself: a name must not stand on a neighbour.
  std::vector<Place> on_plane(const Label& label, glm::dvec2 size) const {
    std::vector<Place> places;
    std::vector<glm::dvec3> points{label.from};
    for (const Face& face : scene_.faces) {
      if (face.role != FaceRole::roof || face.plane != label.plane) {
        continue;
      }
      for (const Triangle& t : face.triangles) {
        const glm::dvec3 middle = (t[0] + t[1] + t[2]) / 3.0;
        points.push_back(middle);
        for (const glm::dvec3& corner : t) {
          points.push_back((2.0 * middle + corner) / 3.0);
          points.push_back((middle + 2.0 * label.from) / 3.0);
        }
      }
    }
    double cost = 0.0;
    for (const glm::dvec3& point : points) {
      const auto at = lens_.pixel(point);
      if (!at) {
        continue;
      }
      const Box box = around(*at, size);
      const std::array<glm::dvec2, 5> tries{
          *at, box.low, box.high, {box.low.x, box.high.y}, {box.high.x, box.low.y}};
      if (std::all_of(tries.begin(), tries.end(),
                      [&](glm::dvec2 p) { return seen_at(p) == label.plane; })) {
        places.push_back({box, *at, cost, false});
      }
      cost += 0.1;
    }
    return places;
  }

  std::vector<Place> beside_line(const Label& label, glm::dvec2 size) const {
    std::vector<Place> places;
    const auto a = lens_.pixel(label.from);
    const auto b = lens_.pixel(label.to);
    if (!a || !b || glm::length(*b - *a) < 0.45 * size.x) {
      return places;
    }
    const glm::dvec2 way = glm::normalize(*b - *a);
    glm::dvec2 side(-way.y, way.x);
    const bool wants_below = label.role == StrokeRole::eave;
    if ((side.y > 0) != wants_below) {
      side = -side;
    }
    const double reach = std::abs(side.x) * size.x / 2 + std::abs(side.y) * size.y / 2;
    double cost = 0.0;
    for (const double share : {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8}) {
      const glm::dvec3 point = label.from + share * (label.to - label.from);
      const auto anchor = lens_.pixel(point);
      if (!anchor || !is_in_sight(scene_, lens_, point)) {
        continue;
      }
      for (const double hand : {1.0, -1.0}) {
        const glm::dvec2 middle = *anchor + hand * side * (reach + ink_.gap_px);
        // A length that stands on a plane which the line does not border would be read as that
        // plane's.
        const PlaneId under = seen_at(middle);
        const bool is_strange = !under.is_none() && !borders(label, under);
        places.push_back({around(middle, size), *anchor,
                          cost + (hand < 0 ? 0.9 : 0.0) + (is_strange ? 7.0 : 0.0), false});
      }
      cost += 0.3;
    }
    return places;
  }

  std::vector<Place> places_for(const Label& label, glm::dvec2 size) const {
    if (label.of == Label::Of::line) {
      return beside_line(label, size);
    }
    return on_plane(label, size);
  }

 private:
  static bool borders(const Label& label, PlaneId plane) {
    return std::find(label.beside.begin(), label.beside.end(), plane) != label.beside.end();
  }

  const Scene& scene_;
  const Lens& lens_;
  std::vector<Box> taken_;
  const Lettering& ink_;
  Box frame_;
  std::vector<Drawn> drawn_;
};

std::vector<const Label*> in_order(const Scene& scene, const Layers& layers) {
  std::vector<const Label*> order;
  for (const Label& label : scene.labels) {
    const bool needs_lines = label.of == Label::Of::line && !layers.has(Layer::lines);
    if (layers.has(label.layer) && !needs_lines) {
      order.push_back(&label);
    }
  }
  std::stable_sort(order.begin(), order.end(), [](const Label* a, const Label* b) {
    return a->rank != b->rank ? a->rank < b->rank : a->length_m > b->length_m;
  });
  return order;
}

}  // namespace

Placed place_labels(const Scene& scene, const Lens& lens, const Layers& layers,
                    const std::vector<Box>& taken, const Lettering& lettering) {
  Placed placed;
  Placer placer(scene, lens, taken, lettering);
  if (layers.has(Layer::findings)) {
    for (const Marker& marker : scene.markers) {
      const glm::dvec2 size(lettering.marker_px);
      if (const auto place = placer.take(placer.around_point(marker.at, size), any_cost)) {
        placed.markers.push_back({&marker, place->box, place->anchor});
      }
    }
  }
  for (const Label* label : in_order(scene, layers)) {
    std::string text = lettering.text_of(*label);
    const glm::dvec2 size = lettering.size_of(text);
    if (const auto place = placer.take(placer.places_for(*label, size),
                                       label->rank == 0 ? any_cost : crowded_cost)) {
      placed.labels.push_back({label, std::move(text), place->box, place->anchor});
    }
  }
  return placed;
}

}  // namespace ridgeward::scene

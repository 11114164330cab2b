#pragma once
// Puts the network of a roof together, in two files. Private to this folder.

#include "airflow/roof_network.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace ridgeward::airflow {

inline constexpr double opening_discharge = 0.6;
/// Openings of vents are slits and meshes of about this width.
inline constexpr double mesh_m = 0.006;

/// Where an exhaust lets air out of one space.
struct Outlet {
  CompartmentId compartment;
  AirNodeId node;
  double area_m2 = 0.0;
  glm::dvec3 at{0.0};
};

class Builder {
 public:
  explicit Builder(const Site& site) : site_(site) {}
  RoofNetwork build();

 private:
  // Spaces, what joins them, and the house.
  void add_spaces();
  void add_room(SpaceId id);
  void add_vault(SpaceId id);
  void add_planes(Room& room) const;
  void add_joins();
  void add_house();
  void add_leak(CompartmentId compartment, AirNodeId node, glm::dvec3 at, double floor_m2);

  // Openings.
  void add_slots();
  void add_slot(SlotId id);
  void add_exhausts();
  void add_exhaust(ExhaustId id, const Outlet& outlet);
  Face wall_facing(glm::dvec2 outward) const;
  Face face_of(const vents::Slot& slot) const;
  Face face_of(const vents::Exhaust& exhaust) const;
  bool is_in_wake(PlaneId plane) const;
  double azimuth_of(glm::dvec2 outward) const;

  /// The node of a space at a height: of a rafter space its nearer end; none where it has none.
  AirNodeId node_of(SpaceId space, double z_m) const;
  bool has(SpaceId space) const { return first_[space].value != AirNodeId::no_value; }

  const Site& site_;
  RoofNetwork made_;
  IndexedVector<SpaceId, AirNodeId> first_;  ///< room, gap, foot of a vault
  IndexedVector<SpaceId, std::size_t> vault_of_;
};

/// Level direction in which a plane faces.
glm::dvec2 outward(const surface::Plane& plane);

}  // namespace ridgeward::airflow

#pragma once
// Puts the network of a roof together, in two files. Private to this folder.

#include "airflow/roof_network.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <map>
#include <utility>
#include <vector>

namespace ridgeward::airflow {

inline constexpr double opening_discharge = 0.6;
/// Openings of vents are slits and meshes of about this width.
inline constexpr double mesh_m = 0.006;

/// An overhang, none where there is none, and which of the dividers lie between its first bay and
/// this stretch of it: they are taken to go on through the soffit.
using BoxKey = std::pair<SpaceId, std::vector<bool>>;

/// An eave's boxed soffit: the slots over it feed it, every open bay along it draws from it.
struct Box {
  struct Part {
    SlotId slot;
    double free_m2 = 0.0;
    double discharge_m2 = 0.0;
  };
  std::vector<Part> parts;
  double discharge_m2 = 0.0;
  double moment = 0.0;  ///< discharge area times height
  Face face;
};

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
  void add_box(const BoxKey& key, const Box& box);
  void find_overhangs();
  BoxKey box_under(const vents::Slot& slot, BayId bay) const;
  bool is_near_eave(PlaneId plane, double v_m) const;
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
  IndexedVector<BayId, BoxKey> overhang_of_;       ///< at the foot of each bay
  IndexedVector<BayId, double> over_overhang_m2_;  ///< of all slots that share its throat
  std::map<BoxKey, Box> boxes_;
};

/// Level direction in which a plane faces.
glm::dvec2 outward(const surface::Plane& plane);

}  // namespace ridgeward::airflow

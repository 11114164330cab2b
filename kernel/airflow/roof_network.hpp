#pragma once
// A roof as a network of air. Private to this folder.

#include "airflow/airflow.hpp"
#include "airflow/network.hpp"
#include "airflow/stage.hpp"
#include "airflow/wind.hpp"

#include <optional>
#include <vector>

namespace ridgeward::airflow {

/// What the wind meets at an opening.
struct Face {
  enum class Kind { none, wall, plane, ridge };
  Kind kind = Kind::none;
  double azimuth_rad = 0.0;   ///< compass direction it faces
  double slope_rad = 0.0;     ///< of planes and ridges
  bool is_near_eave = false;  ///< of planes: in the strip along the eave
  double length_ratio = 1.0;  ///< of walls: its length over that of the adjacent one
};

/// An opening with its link; the link runs from outside (or from the house, or from a boxed soffit)
/// into the space.
struct Passage {
  std::size_t way = 0;  ///< index into RoofNetwork::ways
  AirLinkId link;
  double share = 1.0;  ///< of the link's flow: several slots may feed one box
  AirLinkId outer;     ///< from outside into the box; none without
  Face face;
  std::optional<Fan> fan;  ///< runs in place of the opening, from the space out
};

struct PlaneArea {
  PlaneId plane;
  double area_m2 = 0.0;  ///< along the slope, over the room
};

/// An open attic: its air is mixed.
struct Room {
  SpaceId space;
  CompartmentId compartment;
  AirNodeId node;
  double volume_m3 = 0.0;
  double floor_area_m2 = 0.0;
  double ceiling_r = 0.0;
  std::vector<PlaneArea> planes;
};

/// A rafter bay over a sloped ceiling: a node at each end and the channel between them.
struct Vault {
  SpaceId space;
  CompartmentId compartment;
  BayId bay;
  PlaneId plane;
  AirNodeId foot;
  AirNodeId head;
  AirLinkId link;  ///< from foot to head; none where no height is left for air
  double foot_m = 0.0;
  double head_m = 0.0;
  double volume_m3 = 0.0;
  double width_m = 0.0;
  double depth_m = 0.0;
  double length_m = 0.0;
  double ceiling_u = 0.0;
};

/// A link from outside that is no opening of one space: leaks of the house's walls, the slots of
/// one boxed soffit together.
struct OuterLink {
  AirLinkId link;
  Face face;
};

struct RoofNetwork {
  Network network;
  std::vector<Way> ways;
  std::vector<Passage> passages;
  std::vector<Room> rooms;
  std::vector<Vault> vaults;
  std::vector<OuterLink> outer;
  std::vector<AirNodeId> boxes;  ///< boxed soffits
  AirNodeId house;
  double ceiling_m = 0.0;  ///< height of the lowest ceiling
  double top_m = 0.0;      ///< height of the roof's top over the ground

  bool is_empty() const { return rooms.empty() && vaults.empty(); }
};

/// Outside, house, attics and rafter spaces with what joins them; slots with the throats behind
/// them, exhausts, ceiling and wall leaks. Temperatures and wind are set case by case.
RoofNetwork network_of(const Site& site);

/// Pressure coefficient of a face for wind from a compass direction.
double coefficient(const Face& face, double wind_from_rad);
/// The least and the most that it may be: apart on a windward plane whose sign no code is sure of,
/// else both are coefficient().
Signs coefficients(const Face& face, double wind_from_rad);

}  // namespace ridgeward::airflow

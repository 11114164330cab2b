#pragma once
// Plans the framing around openings of one plane: headers, doubled rafters beside them, and which
// rafters are cut.

#include "base/polygon.hpp"
#include "framing/cells.hpp"
#include "framing/layout.hpp"

#include <string>
#include <vector>

namespace ridgeward::framing {

/// A rafter as it would stand without openings, from its lowest to its highest point.
struct WholeRafter {
  double at_m = 0.0;
  double foot_v_m = 0.0;
  double head_v_m = 0.0;
};

/// An upright rectangle that rafters have to leave free. One that cuts no rafter needs no framing
/// when it is small (a pipe between two rafters).
struct Wanted {
  std::string id;
  polygon::Box box;  ///< plane coordinates
  bool is_small = false;
};

/// A second ply beside a rafter.
struct Trimmer {
  Mark mark;
  std::string opening;
};

struct OpeningPlan {
  std::vector<Kept> kept;  ///< openings, then headers
  struct Role {
    bool is_header = false;
    std::string opening;
    int plies = 1;
  };
  std::vector<Role> roles;            ///< one for each of `kept`
  std::vector<Trimmer> trimmers;      ///< rising along the eave
  std::vector<WholeRafter> whole;     ///< all rafters as they would stand, plies among them
  std::vector<polygon::Box> blocked;  ///< no rafter stands in these, from header to header

  /// Whether a piece of a rafter is one of a rafter that would stand.
  bool has_piece(double at_m, double foot_v_m, double head_v_m) const;
  /// Whether a rafter at `at_m`, from `foot_v_m` to `head_v_m`, runs into a blocked place.
  bool blocks(double at_m, double foot_v_m, double head_v_m, double thickness_m) const;
};

/// One ply up to 4 ft, two beyond (IRC R802.9).
int header_plies(double length_m);

/// Headers stand square to the deck against the opening's rectangle, from the nearest whole rafter
/// on the left to that on the right (to the plane's border where there is none), single up to 4 ft,
/// double beyond. Each of these rafters gets a second ply, towards the opening if it fits there,
/// else on its far side. Openings whose headers would meet are framed as one.
OpeningPlan plan_openings(const std::vector<Wanted>& wanted, const polygon::Loops& border,
                          const std::vector<WholeRafter>& standing, double thickness_m);

}  // namespace ridgeward::framing

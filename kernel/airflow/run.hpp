#pragma once
// One case at work: air and heat in turn, then the telling. Private to this folder.

#include "airflow/case_run.hpp"
#include "airflow/heat.hpp"
#include "airflow/solve.hpp"

#include <vector>

namespace ridgeward::airflow {

inline constexpr double inner_film_r = 0.1;  ///< air of a bay to the deck, m2K/W
inline constexpr double snow_kgm3 = 200.0;

/// Air in a rafter space: mean, and where it leaves it.
struct VaultAir {
  double mean_c = 0.0;
  double outlet_c = 0.0;
};

class Run {
 public:
  Run(const Site& site, const RoofNetwork& roof, const model::AirCase& conditions);
  /// Until no temperature is further than `within_k` from what the heat asks for.
  void settle(double start_c, double within_k);
  double space_c(CompartmentId compartment) const;
  /// Whether a vent lies where this wind may press or draw.
  bool has_two_signs() const { return has_two_signs_; }
  enum class Sign { mean, least, most };
  /// Winds of uncertain sign taken as drawing (`least`) or pressing (`most`), from where the air is
  /// now.
  void turn(Sign sign, double within_k);
  CaseAir told(CaseKind kind) const;

 private:
  void blow(Sign sign);
  void go_on(double within_k);
  void switch_fans();
  void look_at_planes();
  void start_at(double start_c);
  void set_temperatures();
  std::vector<double> misses();
  double carried_c(AirLinkId link, bool is_forward) const;
  void mix_joints();
  void mix_boxes();
  VaultAir vault_air(std::size_t vault) const;
  AtticHeat heat_of(std::size_t room) const;
  AtticTemperatures temperatures_of(std::size_t room) const;
  std::vector<double> humidity_ratios() const;
  OpeningFlow flow_of(const Passage& passage) const;
  SpaceAir told_space(CompartmentId id, const std::vector<double>& humidity) const;
  bool has_running_fan(CompartmentId id) const;
  void tell_inflow(SpaceAir& told) const;
  void tell_neutral_level(SpaceAir& told) const;
  void tell_decks(SpaceAir& told, const std::vector<double>& humidity) const;
  std::vector<BayFlow> told_bays(const std::vector<OpeningFlow>& openings) const;

  const Site& site_;
  const RoofNetwork& roof_;
  const model::AirCase& conditions_;
  Network network_;
  std::vector<double> air_c_;                   ///< by node
  std::vector<VaultAir> vault_c_;               ///< by vault
  std::vector<std::vector<DeckPlane>> planes_;  ///< by room
  std::vector<double> vault_sol_air_c_;         ///< by vault
  std::vector<std::size_t> vault_of_link_;      ///< no_vault for all other links
  std::vector<bool> is_joint_;                  ///< by node: ends of vaults, gaps
  double deck_r_ = 0.2;  ///< inner face of the deck to the sol-air temperature, snow with it
  Solution solution_;
  bool is_solved_ = false;
  bool has_two_signs_ = false;
};

}  // namespace ridgeward::airflow

#pragma once
// Writes the crew's sheets; private to this folder. crew_sheet.cpp has cover, plan and intake,
// crew_exhaust.cpp the exhaust, what all runs have, and the order.

#include "assess.hpp"
#include "papers/crew_steps.hpp"
#include "papers/sheet.hpp"
#include "units/area.hpp"

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::papers {

class CrewSheet {
 public:
  CrewSheet(const Assessment& a, units::Style style, Paper paper);

  Drawing run();

 private:
  static constexpr double detail_gap_mm = 6.0;  // between two drawings side by side
  /// A page that the contents name; filled in once its number is known.
  struct Entry {
    std::size_t page = 0;  ///< of the contents
    double y_mm = 0.0;
  };
  std::string length(double m) const { return units::show(m, style_); }
  std::string opening(double m2) const { return units::show_free_area(m2, style_); }
  const surface::Plane& plane(PlaneId id) const { return a_.surface.planes[id]; }
  std::string run_title(std::size_t i) const;
  std::string ridge_title(std::size_t i) const;
  std::vector<std::string> titles() const;

  void cover();
  /// Starts the page of the next title and writes its number into the contents.
  void open_page();
  void overview();
  void intake(const Run& run);
  void ends(const std::vector<std::pair<SlotId, bool>>& ends);
  void mitres(const Run& run);
  void rafter_table(const Run& run);
  void pieces(const std::string& run, const std::string& product);
  void beneath(const Run& run);
  void warnings(const std::vector<std::size_t>& findings);
  void ridge(const RidgeRun& run);
  void single(PlaneId plane, const std::vector<ExhaustId>& vents);
  void louvres();
  void order();
  void numbered(const std::vector<std::string>& steps);

  const Assessment& a_;
  units::Style style_;
  std::vector<Run> runs_;
  std::vector<RidgeRun> ridges_;
  std::map<PlaneId, std::vector<ExhaustId>> singles_;
  std::vector<ExhaustId> louvres_;
  Sheet sheet_;
  std::vector<Entry> contents_;
  std::size_t next_ = 0;
};

}  // namespace ridgeward::papers

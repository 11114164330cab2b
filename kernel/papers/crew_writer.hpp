#pragma once
// Writes the crew's sheets; private to this folder. crew_sheet.cpp has cover, plan and intake,
// crew_exhaust.cpp the exhaust, crew_parts.cpp what all runs have, and the order.

#include "assess.hpp"
#include "papers/crew_steps.hpp"
#include "papers/sheet.hpp"
#include "units/area.hpp"

#include <functional>
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
  /// Its page is open; `share` of the usual room goes to the drawing.
  void intake(const Run& run, double share);
  void fitted(const std::function<void(double)>& body);
  std::string hatches(const Run& run) const;
  /// The errors and the cautions at the head of a page.
  void not_ready(const std::vector<SlotId>& slots, const std::vector<ExhaustId>& vents);
  /// "Plane main/0 flat, facing south. LEFT and RIGHT ...".
  std::string sides_words(PlaneId plane) const;
  void ends(const std::vector<std::pair<SlotId, bool>>& ends);
  void mitres(const Run& run);
  void rafter_table(const Run& run);
  void pieces(const std::string& run, const std::string& product);
  std::vector<std::vector<std::string>> rows_beneath(const Run& run) const;
  void beneath(const Run& run);
  void borrowed(const std::string& run, const std::string& product);
  void warnings(const std::vector<SlotId>& slots, const std::vector<ExhaustId>& vents);
  void ridge(const RidgeRun& run);
  void single(PlaneId plane, const std::vector<ExhaustId>& vents);
  void louvres();
  void louvres_of(const std::string& wall, const std::vector<ExhaustId>& louvres);
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

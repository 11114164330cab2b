#pragma once
// Sets out the rafters, headers and bays of one plane after another.

#include "base/polygon.hpp"
#include "framing/cells.hpp"
#include "framing/cuts.hpp"
#include "framing/dormers.hpp"
#include "framing/framing.hpp"
#include "framing/headers.hpp"
#include "framing/layout.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <array>
#include <vector>

namespace ridgeward::framing {

/// All places at which a rafter or a second ply may stand.
std::vector<double> centres_of(const std::vector<Mark>& marks,
                               const std::vector<Trimmer>& trimmers);

/// Frames one plane into the common lists.
class PlaneFramer {
 public:
  PlaneFramer(const model::RoofModel& model, const surface::Surface& surface,
              const std::vector<PartStock>& stock, const Joints& joints, Framing& framing)
      : model_(model), surface_(surface), stock_(stock), joints_(joints), framing_(framing) {}

  /// Dormers whose holes the rafters leave.
  void mind(std::vector<DormerHole> holes) { holes_ = std::move(holes); }

  void frame(PlaneId id);

 private:
  /// A rafter and the pieces of the plane that it takes.
  struct Standing {
    Member member;
    std::vector<std::size_t> pieces;
  };
  struct Cut {
    double level_m = 0.0;
    double side_rad = 0.0;
  };

  void resolve(LineId& line, MemberId& header) const;
  LineId chosen(const std::array<LineId, 2>& lines) const;
  bool is_peak(const std::array<LineId, 2>& heads) const;
  Cut cut_at(const surface::Plane& plane, const std::array<LineId, 2>& lines) const;
  Member rafter(PlaneId id, const CentreLine& line) const;
  void seat(const surface::Plane& plane, const CentreLine& line, Member& member) const;
  Bay bay(PlaneId id, const Cells& cells, std::size_t owner) const;
  surface::LineKind kind_at(LineId line, bool is_head) const;
  OpeningPlan openings_of(PlaneId id, const std::vector<BorderEdge>& border,
                          const Layout& layout) const;
  static void stand(Standing one, std::vector<std::uint8_t>& taken, std::vector<Standing>& all);
  std::vector<Standing> standing(PlaneId id, std::vector<Mark> marks, const OpeningPlan& plan,
                                 const Layout& layout, const Cells& cells) const;
  void add_rafters(PlaneId id, const Layout& layout, const OpeningPlan& plan, Cells& cells);
  void add_kept(PlaneId id, const OpeningPlan& plan, Cells& cells);
  void add_bays(PlaneId id, std::size_t rafters, const Cells& cells);
  Member header(PlaneId id, const OpeningPlan& plan, std::size_t kept,
                std::vector<glm::dvec2> outline) const;
  void clear_of_members(Bay& bay) const;

  std::vector<DormerHole> holes_in(PlaneId id) const;
  void add_top_header(const DormerHole& hole, OpeningPlan& plan) const;
  void join_trimmers(PlaneId id, const DormerHole& hole);

  const model::RoofModel& model_;
  const surface::Surface& surface_;
  const std::vector<PartStock>& stock_;
  const Joints& joints_;
  Framing& framing_;
  polygon::Loops loops_;  ///< border of the plane at hand, blind decks among it
  std::vector<DormerHole> holes_;
  std::vector<MemberId> header_of_;  ///< of the plane at hand: by the index of what is kept
};

}  // namespace ridgeward::framing

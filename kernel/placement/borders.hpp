#pragma once
// Where runs over rafter spaces can end: between spaces that are served in different ways.

#include "placement/candidates.hpp"
#include "placement/lengths.hpp"

#include <map>
#include <optional>
#include <vector>

namespace ridgeward::placement {

/// A piece of an eave or line over one compartment; of a line over one on each side, which may be
/// the same, or none where the side lies over no rafter space. Of an eave both are the same.
struct Piece {
  Span span;
  CompartmentId one;
  CompartmentId other;
};

/// Pieces next to each other that a run can serve.
struct Range {
  Span span;
  Span whole;           ///< what of it a run has to cover: bays that are compartments each
  bool is_one = false;  ///< one compartment alone: any whole number of sections will do
  /// Middles of its first and last bay, where that is a compartment by itself.
  std::optional<double> first_middle_m;
  std::optional<double> last_middle_m;
};

/// Bays that are compartments by themselves want all of their length; but a run may end between two
/// compartments that touch different ridges and hips, and beside one of several bays.
class Borders {
 public:
  explicit Borders(const Ground& ground);
  /// All ranges from border to border. REQUIRES pieces in order. More than some parts: each of
  /// them, and all together.
  std::vector<Range> ranges(const std::vector<Piece>& pieces) const;

 private:
  /// Pieces over which no run ends.
  struct Part {
    Span first;  ///< piece
    Span last;
    CompartmentId one;
    bool is_one = true;    ///< all of `one`
    bool is_free = false;  ///< and that has several bays: a run may end within it
  };
  std::vector<Part> parts_of(const std::vector<Piece>& pieces) const;
  bool parts(CompartmentId one, CompartmentId other) const;
  bool is_of_several(CompartmentId id) const;

  const attic::Attic& attic_;
  std::map<std::uint32_t, std::vector<std::uint32_t>> lines_;  ///< by compartment
};

/// The pieces of a line under a vent, from the vent's start; empty over attics.
std::vector<Piece> pieces_along(const Ground& ground, const vents::Exhaust& exhaust);

/// The runs of a product that are tried in a range: as spans_in() where it is one compartment, else
/// all of it, or whole sections from one of its ends that cover what they have to. Intake may also
/// end in the middle of the first and last bay: beside hips these get little exhaust.
std::vector<Span> runs_in(const Range& range, const model::Product& product, Rest rest,
                          units::LengthUnit unit);

}  // namespace ridgeward::placement

#pragma once
// Cuts one plane into the strips of its rafters and the bays between them.

#include "base/slabs.hpp"
#include "framing/layout.hpp"

#include <array>
#include <utility>
#include <vector>

namespace ridgeward::framing {

/// A rafter's centre line across the plane, from border to border.
struct CentreLine {
  double at_m = 0.0;
  double foot_v_m = 0.0;
  double head_v_m = 0.0;
  std::array<LineId, 2> feet;   ///< the line below, left and right of the centre: mostly the same
  std::array<LineId, 2> heads;  ///< likewise above
  std::size_t left_piece = 0;
  std::size_t right_piece = 0;
};

/// An upright rectangle that is kept from rafters and bays: an opening or a header.
struct Kept {
  double from_u_m = 0.0;
  double to_u_m = 0.0;
  double low_v_m = 0.0;
  double high_v_m = 0.0;
};
/// How foot and head of a rafter or bay name the Kept that they meet, by its index.
LineId kept_as_line(std::size_t index);
bool is_kept(LineId line);
std::size_t index_of_kept(LineId line);

/// The plane's trapezoids and who has them: a member, then an opening or header, then a bay.
class Cells {
 public:
  /// Of two rectangles of `kept` that overlap, the lower one has the place.
  Cells(const std::vector<BorderEdge>& border, const std::vector<double>& centres,
        double thickness_m, const std::vector<Kept>& kept = {});

  /// Centre lines at one mark, up the slope.
  std::vector<CentreLine> centre_lines(double at_m) const;

  /// Whether nothing is kept at a centre line and nobody has it.
  bool is_free(const CentreLine& line) const {
    return owner_[line.left_piece] == nobody && owner_[line.right_piece] == nobody;
  }
  /// The pieces of the strip about a centre line that nobody has, rising.
  std::vector<std::size_t> strip(const CentreLine& line, double thickness_m) const;
  /// Gives pieces that nobody has to a new owner and returns its number, from 0.
  std::size_t take(std::vector<std::size_t> pieces);
  /// Gives what is kept to new owners, one for each connected piece; answers whose index each is.
  std::vector<std::size_t> take_kept();
  /// Gives all that is left to bays: one owner for each connected space, along the eave.
  void take_bays();

  std::size_t owners() const { return owner_count_; }
  /// The first owner that is a bay.
  std::size_t first_bay() const { return first_bay_; }
  std::size_t piece_count() const { return owner_.size(); }
  /// Pieces of an owner, from the left.
  std::vector<std::size_t> pieces_of(std::size_t owner) const;
  const slabs::Piece& piece(std::size_t index) const { return slabs_.pieces[index]; }
  /// Walk around all pieces of an owner, counter-clockwise; a hole is joined by a double line.
  std::vector<glm::dvec2> outline(std::size_t owner) const;
  /// The owner that shares the most border with `owner` on the left (right): none when it is the
  /// plane's own border.
  std::size_t neighbour(std::size_t owner, bool on_right) const;

  static constexpr std::size_t nobody = static_cast<std::size_t>(-1);

 private:
  static constexpr std::size_t first_kept = nobody / 2;

  /// Common border of two pieces in neighbouring slabs.
  struct Portal {
    std::size_t left = 0;
    std::size_t right = 0;
    double low = 0.0;
    double high = 0.0;
  };
  struct Doors {
    std::vector<std::size_t> left;  ///< portals, rising
    std::vector<std::size_t> right;
  };

  void split_at(const std::vector<Kept>& kept);
  void find_portals();
  CentreLine centre_line(const Portal& portal, double at) const;
  /// Gives all that connects to `seed`, of the same owner as it, to the newest one.
  void flood(std::size_t seed);
  void spread(std::size_t piece, bool to_right, double limit_u,
              std::vector<std::size_t>& found) const;
  /// A piece on the walk around an owner. Its sides are numbered counter-clockwise: the doors on
  /// the right, rising, the top, the doors on the left, falling, the bottom.
  struct Visit {
    std::size_t piece = 0;
    std::size_t side = 0;  ///< where the walk is
    std::size_t left_to_do = 0;
    glm::dvec2 way_out{0.0};  ///< the far end of the door that it came in by
  };
  std::size_t sides(std::size_t piece) const;
  /// A walk that begins at the top of a piece.
  Visit visit(std::size_t piece) const;
  /// A walk that comes through a door.
  Visit visit(std::size_t door, bool to_right) const;

  slabs::Slabs slabs_;
  std::vector<Portal> portals_;
  std::vector<Doors> doors_;        ///< for each piece
  std::vector<std::size_t> owner_;  ///< for each piece; from first_kept up, what it is kept for
  std::vector<std::vector<std::size_t>> owned_;
  std::size_t owner_count_ = 0;
  std::size_t first_bay_ = 0;
};

}  // namespace ridgeward::framing

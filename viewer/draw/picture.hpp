#pragma once
// A picture of an assessed roof, taken without a window or a display.

#include "assess.hpp"
#include "units/length.hpp"

#include "draw/image.hpp"
#include "scene/cut.hpp"
#include "scene/layers.hpp"
#include "scene/sun.hpp"

#include <optional>
#include <string>

namespace ridgeward::draw {

struct PictureOrder {
  int width_px = 1280;
  int height_px = 800;
  std::optional<std::string> from;  ///< a word of scene::direction_words(); none: the best view
  scene::Layers layers = scene::usual_layers();
  units::Style style = units::Style::feet_inches;
  bool has_ribbon = false;  ///< the eaves unrolled along the foot
  double scale = 0.0;       ///< of text and strokes; 0: by the picture's size
  bool is_flat = false;     ///< plan or elevation, to scale
  bool is_peeled = false;   ///< without the decks
  bool is_dark = false;
  scene::Cut cut;  ///< opened towards the eye
  scene::Sun sun;
};

/// Smallest and largest side of a picture.
inline constexpr int least_side_px = 320;
inline constexpr int most_side_px = 8192;

/// Equal input gives equal pixels with one and the same driver.
/// Faults: picture.size, from.unknown_word, graphics.none.
Result<Image> take_picture(const Assessment& assessment, const PictureOrder& order);

/// "1280x800". Faults: picture.size.
struct Size {
  int width_px = 0;
  int height_px = 0;
};
Result<Size> parse_size(const std::string& text);

}  // namespace ridgeward::draw

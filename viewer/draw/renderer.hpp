#pragma once
// Draws a scene with OpenGL 3.3. REQUIRES a current context from construction to destruction.

#include "scene/camera.hpp"
#include "scene/cut.hpp"
#include "scene/marks.hpp"
#include "scene/pick.hpp"
#include "scene/scene.hpp"
#include "scene/sun.hpp"

#include <memory>
#include <vector>

namespace ridgeward::panels {
struct State;
}

namespace ridgeward::draw {

struct View {
  scene::Lens lens;
  scene::Layers layers;
  scene::Picked selected;
  double scale = 1.0;  ///< of stroke widths
  scene::Cut cut;      ///< as the lens keeps
  scene::Sun sun;
  std::vector<PlaneId> peeled;       ///< planes without their deck
  std::vector<scene::Mark> marks{};  ///< what is pointed at (panels::marks_of)
};
/// As the window's state has it.
View view_of(const panels::State& state, const scene::Scene& scene, const scene::Viewport& viewport,
             double scale);

class Renderer {
 public:
  Renderer();
  Renderer(const Renderer&) = delete;
  Renderer& operator=(const Renderer&) = delete;
  ~Renderer();

  /// Takes a new scene to the graphics memory; `scene` must outlive the next load.
  void load(const scene::Scene& scene);
  /// Draws paper, house and strokes into the bound framebuffer, `height_px` tall.
  void draw(const View& view, int width_px, int height_px);

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace ridgeward::draw

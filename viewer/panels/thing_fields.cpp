#include "panels/thing_fields.hpp"

#include "panels/more_fields.hpp"

namespace ridgeward::panels {
namespace {

/// Ends of a run or of a vent along a line.
template <class Run, class Put>
void stretch_fields(const Form& form, const Run& run, const std::string& kind, Put put) {
  const auto set = [&](const std::string& what, const std::string& field, auto with) {
    Run value = run;
    with(value);
    Change{form, run.id}(put(value), what, field);
  };
  if (const auto whole = check_field(form, kind + "/whole", "Whole length", run.whole)) {
    set("Length", kind + "/whole", [&](Run& r) {
      r.whole = *whole;
      r.from_m = *whole ? 0.0 : r.from_m;
      r.to_m = *whole ? 0.0 : r.from_m + 4 * units::foot_m;
    });
  }
  if (run.whole) {
    return;
  }
  if (const auto m = length_field(form, kind + "/from", "From", run.from_m)) {
    set("Start", kind + "/from", [&](Run& r) { r.from_m = *m; });
  }
  if (const auto m = length_field(form, kind + "/to", "To", run.to_m)) {
    set("End", kind + "/to", [&](Run& r) { r.to_m = *m; });
  }
}

/// The products that may take a vent's place.
template <class Fits>
void product_field(const Form& form, const std::string& id, const std::string& now, Fits fits,
                   const std::function<void(const std::string&)>& then) {
  std::vector<std::string> words;
  std::size_t chosen = 0;
  for (const ProductChoice& product : form.look.state.edit.products) {
    if (fits(product.kind)) {
      chosen = product.id == now ? words.size() : chosen;
      words.push_back(product.id);
    }
  }
  if (const auto picked = choice_field(form, id, "Product", words, chosen)) {
    then(words[*picked]);
  }
}

void place_fields(const Form& form, const std::string& kind, const char* along, glm::dvec2 at,
                  const std::function<void(glm::dvec2, const std::string&)>& then) {
  if (const auto m = length_field(form, kind + "/along", along, at.x)) {
    then({*m, at.y}, kind + "/along");
  }
  if (const auto m = length_field(form, kind + "/up", "Up", at.y)) {
    then({at.x, *m}, kind + "/up");
  }
}

}  // namespace

void intake_fields(const Form& form, const model::IntakeRun& run) {
  const auto put = [](const model::IntakeRun& value) { return edit::PutIntake{value}; };
  product_field(form, "intake/product", run.product, model::is_intake,
                [&](const std::string& product) {
                  model::IntakeRun value = run;
                  value.product = product;
                  Change{form, run.id}(put(value), "Product", "intake/product");
                });
  choose<model::Position>(form, "intake/position", "Position", {"At the eave", "Upslope"},
                          run.position, [&](model::Position position) {
                            model::IntakeRun value = run;
                            value.position = position;
                            Change{form, run.id}(put(value), "Position", "intake/position");
                          });
  stretch_fields(form, run, "intake", put);
}

void exhaust_fields(const Form& form, const model::ExhaustVent& vent) {
  const auto put = [](const model::ExhaustVent& value) { return edit::PutExhaust{value}; };
  const bool is_on_line = !vent.line.empty();
  const bool is_in_wall = !vent.wall.empty();
  product_field(
      form, "exhaust/product", vent.product,
      [&](model::VentKind kind) {
        return !model::is_intake(kind) && model::runs_along(kind) == is_on_line &&
               (kind == model::VentKind::gable_louvre) == is_in_wall;
      },
      [&](const std::string& product) {
        model::ExhaustVent value = vent;
        value.product = product;
        Change{form, vent.id}(put(value), "Product", "exhaust/product");
      });
  if (is_on_line) {
    stretch_fields(form, vent, "exhaust", put);
    return;
  }
  place_fields(form, "exhaust", is_in_wall ? "Along wall" : "Along eave", vent.at,
               [&](glm::dvec2 at, const std::string& field) {
                 model::ExhaustVent value = vent;
                 value.at = at;
                 Change{form, vent.id}(put(value), "Place", field);
               });
}

void obstacle_fields(const Form& form, const model::Obstacle& obstacle) {
  const auto set = [&](const std::string& what, const std::string& field, auto with) {
    model::Obstacle value = obstacle;
    with(value);
    Change{form, obstacle.id}(edit::PutObstacle{value}, what, field);
  };
  if (!obstacle.plane.empty()) {
    place_fields(form, "obstacle", "Along eave", obstacle.at,
                 [&](glm::dvec2 at, const std::string& field) {
                   set("Place", field, [&](model::Obstacle& o) { o.at = at; });
                 });
    if (const auto m = length_field(form, "obstacle/width", "Wide", obstacle.size.x)) {
      set("Size", "obstacle/width", [&](model::Obstacle& o) { o.size.x = *m; });
    }
    if (const auto m = length_field(form, "obstacle/height", "Up the slope", obstacle.size.y)) {
      set("Size", "obstacle/height", [&](model::Obstacle& o) { o.size.y = *m; });
    }
  }
  if (!obstacle.outline.empty()) {
    outline_group(
        form, "obstacle/outline", obstacle.outline, [&](const std::vector<glm::dvec2>& outline) {
          set("Outline", "obstacle/outline", [&](model::Obstacle& o) { o.outline = outline; });
        });
  }
  if (const auto m = length_field(form, "obstacle/clearance", "Clearance", obstacle.clearance_m)) {
    set("Clearance", "obstacle/clearance", [&](model::Obstacle& o) { o.clearance_m = *m; });
  }
}

void ceiling_fields(const Form& form, const model::Ceiling& ceiling) {
  const auto set = [&](const std::string& what, const std::string& field, auto with) {
    model::Ceiling value = ceiling;
    with(value);
    Change{form, ceiling.id}(edit::PutCeiling{value}, what, field);
  };
  choose<model::CeilingKind>(form, "ceiling/kind", "Kind", {"Flat", "Sloped", "Open", "Unvented"},
                             ceiling.kind, [&](model::CeilingKind kind) {
                               set("Kind", "ceiling/kind",
                                   [&](model::Ceiling& c) { c.kind = kind; });
                             });
  if (const auto m = length_field(form, "ceiling/height", "Height", ceiling.height_m)) {
    set("Height", "ceiling/height", [&](model::Ceiling& c) { c.height_m = *m; });
  }
  if (const auto m = length_field(form, "ceiling/insulation", "Insulation", ceiling.insulation_m)) {
    set("Insulation", "ceiling/insulation", [&](model::Ceiling& c) { c.insulation_m = *m; });
  }
  if (const auto on = check_field(form, "ceiling/baffles", "Baffles", ceiling.baffles)) {
    set("Baffles", "ceiling/baffles", [&](model::Ceiling& c) { c.baffles = *on; });
  }
  outline_group(
      form, "ceiling/outline", ceiling.outline, [&](const std::vector<glm::dvec2>& outline) {
        set("Outline", "ceiling/outline", [&](model::Ceiling& c) { c.outline = outline; });
      });
}

void divider_fields(const Form& form, const model::Divider& divider) {
  const auto point = [&](const char* word, const char* label, glm::dvec2 model::Divider::*which,
                         int axis) {
    const std::string id = std::string("divider/") + word;
    if (const auto m = length_field(form, id, label, (divider.*which)[axis])) {
      model::Divider value = divider;  // NOLINT(misc-const-correctness): through a pointer
      (value.*which)[axis] = *m;
      Change{form, divider.id}(edit::PutDivider{value}, "Place", id);
    }
  };
  point("from-x", "From x", &model::Divider::from, 0);
  point("from-y", "From y", &model::Divider::from, 1);
  point("to-x", "To x", &model::Divider::to, 0);
  point("to-y", "To y", &model::Divider::to, 1);
}

}  // namespace ridgeward::panels

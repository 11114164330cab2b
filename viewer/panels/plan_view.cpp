// The plan: outlines drawn and changed with the mouse, lengths typed.
#include "draw/palette.hpp"
#include "panels/edit_panels.hpp"
#include "panels/fields.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace ridgeward::panels {
namespace {

constexpr double snap_reach_px = 9.0;
constexpr double zoom_per_notch = 0.88;

ImVec2 at(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

/// One frame of the plan.
class Plan {
 public:
  Plan(const Look& look, const scene::Viewport& viewport, Recorder& recorder, Intents& intents)
      : look_(look),
        model_(look.state.edit.is_new ? nothing() : look.assessment.model),
        edit_(look.state.edit),
        port_(viewport),
        recorder_(recorder),
        intents_(intents),
        tool_(edit_.plan) {
    if (tool_.px_per_m <= 0.0) {
      tool_ = fitted_plan(tool_, model_, {port_.width, port_.height});
    }
    view_.middle_px = {port_.x + port_.width / 2, port_.y + port_.height / 2};
    view_.middle_m = tool_.middle_m;
    view_.px_per_m = tool_.px_per_m;
  }

  void run() {
    ImGui::SetNextWindowPos(at({port_.x, port_.y}));
    ImGui::SetNextWindowSize(at({port_.width, port_.height}));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0.0F);
    ImGui::PushStyleColor(ImGuiCol_WindowBg, packed(draw::paper));
    ImGui::Begin("plan", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    list_ = ImGui::GetWindowDrawList();
    ImGui::InvisibleButton("ground", at({port_.width, port_.height}),
                           ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                               ImGuiButtonFlags_MouseButtonMiddle);
    note(recorder_, "plan/ground", "panel", "");
    const bool is_hovered = ImGui::IsItemHovered();
    draw_grid();
    draw_house();
    if (is_hovered || ImGui::IsItemActive()) {
      look_around();
      if (edit_.tool == Tool::draw) {
        draw_outline_tool();
      } else {
        change_tool();
      }
    } else if (edit_.tool == Tool::draw) {
      draw_next();
    }
    note_corners();
    plan_scale(*list_, view_, port_, style());
    ImGui::End();
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(2);
    if (edit_.tool == Tool::draw) {
      typed_field();
    }
    if (!(tool_ == edit_.plan)) {  // nothing is drawn where nothing changes
      intents_.emplace_back(EditIntent(MovePlan{tool_}));
    }
  }

 private:
  static const model::RoofModel& nothing() {
    static const model::RoofModel empty;
    return empty;
  }
  units::Style style() const { return look_.state.style; }
  glm::dvec2 pointer() const {
    const ImVec2 p = ImGui::GetIO().MousePos;
    return {p.x, p.y};
  }

  void look_around() {
    const ImGuiIO& io = ImGui::GetIO();
    if (io.MouseWheel != 0.0F) {
      const glm::dvec2 before = view_.place(pointer());
      view_.px_per_m =
          std::clamp(view_.px_per_m / std::pow(zoom_per_notch, io.MouseWheel), 1.0, 2000.0);
      tool_.px_per_m = view_.px_per_m;
      tool_.middle_m += before - view_.place(pointer());
      view_.middle_m = tool_.middle_m;
    }
    if (ImGui::IsMouseDragging(1, 0.0F) || ImGui::IsMouseDragging(2, 0.0F)) {
      tool_.middle_m += glm::dvec2{-io.MouseDelta.x, io.MouseDelta.y} / view_.px_per_m;
      view_.middle_m = tool_.middle_m;
    }
    if (!tool_.is_keyed || io.MouseDelta.x != 0.0F || io.MouseDelta.y != 0.0F) {
      tool_.pointer_m = view_.place(pointer());
      tool_.is_keyed = false;
    }
  }

  // What lies there.

  void draw_grid() { plan_grid(*list_, view_, port_, style()); }

  void draw_house() {
    if (edit_.is_new) {
      return;
    }
    for (const surface::Line& line : look_.assessment.surface.lines) {
      if (line.kind != surface::LineKind::wall_edge) {
        const draw::StrokeLook look = draw::look_of(scene::role_of(line.kind));
        list_->AddLine(at(view_.pixel(glm::dvec2(look_.assessment.surface.nodes[line.from]))),
                       at(view_.pixel(glm::dvec2(look_.assessment.surface.nodes[line.to]))),
                       packed(look.colour, 0.55F), 1.3F * ui_scale());
      }
    }
    for (const model::Part& part : model_.parts) {
      draw_part(part);
    }
  }

  void draw_part(const model::Part& part) {
    const std::size_t count = part.outline.size();
    for (std::size_t i = 0; i < count; ++i) {
      const glm::dvec2 a = part.outline[i];
      const glm::dvec2 b = part.outline[(i + 1) % count];
      const Target here{Target::What::edge, part.id, i};
      const bool is_chosen = edit_.target == here;
      list_->AddLine(at(view_.pixel(a)), at(view_.pixel(b)),
                     packed(is_chosen ? draw::selected : draw::ink),
                     (is_chosen ? 5.0F : 2.4F) * ui_scale());
      mark_length(*list_, a, b, view_, style());
    }
    for (std::size_t i = 0; i < count; ++i) {
      const bool is_chosen =
          edit_.corner == i && edit_.target.id == part.id && edit_.tool == Tool::plan;
      mark_square(*list_, view_.pixel(part.outline[i]), is_chosen ? 5.5F : 3.5F,
                  packed(is_chosen ? draw::selected : draw::ink));
    }
  }

  // Drawing an outline.

  SnapField field(const std::optional<PlanGrip>& but) const {
    SnapField field;
    field.reach_m = snap_reach_px * ui_scale() / view_.px_per_m;
    field.grid_m = tool_.has_grid ? grid_step_m(view_, style()) : 0.0;
    for (const model::Part& part : model_.parts) {
      for (std::size_t i = 0; i < part.outline.size(); ++i) {
        const bool is_own = but && but->part == part.id && but->index == i;
        if (!is_own) {
          field.corners.push_back(part.outline[i]);
        }
      }
    }
    return field;
  }

  units::LengthUnit unit() const {
    return style() == units::Style::metric ? units::LengthUnit::m : units::LengthUnit::ft;
  }

  /// What the pointer means for the next corner.
  Snap next_corner() const {
    SnapField all = field(std::nullopt);
    if (!tool_.drawn.empty()) {
      all.from = tool_.drawn.back();
      all.corners.insert(all.corners.end(), tool_.drawn.begin(), tool_.drawn.end() - 1);
    }
    if (tool_.drawn.size() >= 3) {
      all.first = tool_.drawn.front();
    }
    const Snap snap = snapped(tool_.pointer_m, all);
    return tool_.typed.empty() ? snap : straightened(tool_, snap);
  }

  /// What is drawn, to the pointer too where it is over the plan or was put there by keys.
  Snap draw_next(bool has_pointer = false) {
    Snap snap = next_corner();
    if (const auto typed = typed_place(tool_, snap, unit())) {
      snap.at = *typed;
    }
    const bool has_next = has_pointer || tool_.is_keyed;
    mark_drawn(*list_, tool_, has_next ? std::optional(snap.at) : std::nullopt, view_, style());
    if (has_next) {
      mark_snap(*list_, snap, view_);
    }
    return snap;
  }

  void draw_outline_tool() {
    const Snap snap = draw_next(true);
    if (ImGui::IsItemClicked(0)) {
      add(snap);
    }
  }

  /// Whether keys are for the drawing.
  bool has_keys() const {
    const std::string& focus = look_.state.focus.id;
    return !edit_.has_palette && !edit_.browser.is_shown &&
           (focus.empty() || focus == "plan/typed");
  }

  void point_by_keys() {
    constexpr std::array<std::pair<ImGuiKey_, glm::dvec2>, 4> ways{
        {{ImGuiKey_LeftArrow, {-1.0, 0.0}},
         {ImGuiKey_RightArrow, {1.0, 0.0}},
         {ImGuiKey_DownArrow, {0.0, -1.0}},
         {ImGuiKey_UpArrow, {0.0, 1.0}}}};
    for (const auto& [key, way] : ways) {
      if (has_keys() && ImGui::IsKeyPressed(ImGui::GetKeyIndex(key))) {
        tool_ = pointed(tool_, way, grid_step_m(view_, style()));
      }
    }
  }

  void add(const Snap& snap) {
    if (snap.to == Snap::To::closing) {
      finish();
    } else if (tool_.drawn.empty() || glm::distance(tool_.drawn.back(), snap.at) > 1e-6) {
      add(snap.at);
    }
  }

  void add(glm::dvec2 corner) {
    std::vector<glm::dvec2> drawn = tool_.drawn;
    drawn.push_back(corner);
    tool_ = redrawn(tool_, std::move(drawn));
  }

  void take_back() {
    std::vector<glm::dvec2> drawn = tool_.drawn;
    drawn.pop_back();
    tool_ = redrawn(tool_, std::move(drawn));
  }

  /// Asks for the house or the part; the drawing goes when it is made.
  void finish() {
    tool_ = checked(tool_);
    if (tool_.drawn.size() < 3 || !tool_.meeting.empty()) {
      return;
    }
    if (edit_.is_new || !edit_.is_open) {
      intents_.emplace_back(EditIntent(Wish(DrawHouse{tool_.drawn})));
    } else {
      intents_.emplace_back(
          EditIntent(Wish(Do{edit::DrawPart{tool_.drawn}, "Draw a part", {}, "draw"})));
    }
  }

  /// A length typed while a side is drawn; Enter sets the corner, and with nothing typed closes.
  void typed_field() {
    const float s = ui_scale();
    const float wrap = 318 * s;
    const float below =
        tool_.trouble.empty()
            ? 0.0F
            : ImGui::CalcTextSize(tool_.trouble.c_str(), nullptr, false, wrap).y + 6 * s;
    begin_panel("plan-typed",
                at({port_.x + port_.width / 2 - 170 * s, port_.y + port_.height - 74 * s - below}),
                340 * s, 0.0F);
    const bool takes_back = tool_.typed.empty() && !tool_.drawn.empty() &&
                            ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Backspace));
    const std::string text = typed_on(tool_.typed);
    if (text != tool_.typed) {
      tool_.trouble = tool_.drawn.empty() ? typed_trouble(tool_, unit()) : std::string();
    }
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Length");
    ImGui::SameLine();
    ImGui::Button((text + "_##typed").c_str(), {110 * s, 0.0F});
    note(recorder_, "plan/typed", "field", text);
    tool_.typed = tool_.drawn.empty() ? std::string() : text;
    if (takes_back) {
      take_back();
    }
    if (has_keys() && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter))) {
      enter();
    }
    point_by_keys();
    ImGui::SameLine();
    const Form form{look_, recorder_, intents_};
    if (button(form, "plan/close", "Close", 0.0F, tool_.drawn.size() >= 3)) {
      finish();
    }
    ImGui::SameLine();
    if (button(form, "plan/back", "Back", 0.0F, !tool_.drawn.empty())) {
      take_back();
    }
    if (!tool_.trouble.empty()) {
      ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::bad));
      ImGui::TextWrapped("%s", tool_.trouble.c_str());
      ImGui::PopStyleColor();
      note(recorder_, "plan/trouble", "text", tool_.trouble);
    }
    note_panel(recorder_, "panel/plan-typed");
    ImGui::End();
  }

  void enter() {
    if (tool_.typed.empty()) {
      tool_.drawn.size() < 3 ? add(next_corner()) : finish();
      return;
    }
    if (const auto place = typed_place(tool_, next_corner(), unit())) {
      add(*place);
    } else {
      tool_.trouble = typed_trouble(tool_, unit());
    }
  }

  // Changing outlines.

  void change_tool() {
    const PlanGrip under = grip_at(model_, view_, pointer());
    if (tool_.drag.grip.what == PlanGrip::What::nothing) {
      draw_grip(under);
    }
    if (ImGui::IsItemClicked(0)) {
      take_hold(under);
    }
    if (ImGui::IsMouseDoubleClicked(0) && under.what == PlanGrip::What::edge) {
      insert_corner(under);
      tool_.drag = {};
    } else if (ImGui::IsMouseDown(0)) {
      drag();
    } else if (tool_.drag.grip.what != PlanGrip::What::nothing) {
      intents_.emplace_back(EditIntent(Wish(LetGo{})));
      tool_.drag = {};
    }
  }

  void draw_grip(const PlanGrip& grip) {
    const model::Part* part = part_of(grip);
    if (part == nullptr) {
      return;
    }
    const glm::dvec2 a = part->outline[grip.index];
    if (grip.what == PlanGrip::What::corner) {
      mark_square(*list_, view_.pixel(a), 6.0F, packed(draw::selected));
    } else {
      const glm::dvec2 b = part->outline[(grip.index + 1) % part->outline.size()];
      list_->AddLine(at(view_.pixel(a)), at(view_.pixel(b)), packed(draw::selected),
                     4.0F * ui_scale());
    }
  }

  const model::Part* part_of(const PlanGrip& grip) const {
    for (const model::Part& part : model_.parts) {
      if (part.id == grip.part && grip.index < part.outline.size()) {
        return &part;
      }
    }
    return nullptr;
  }

  void take_hold(const PlanGrip& grip) {
    tool_.drag = {};
    tool_.drag.from_px = pointer();
    tool_.drag.from_m = view_.place(pointer());
    const model::Part* part = part_of(grip);
    if (part == nullptr) {
      intents_.emplace_back(EditIntent(SetTarget{}));
      return;
    }
    tool_.drag.grip = grip;
    tool_.drag.corner_m = part->outline[grip.index];
    intents_.emplace_back(EditIntent(SetTarget{{Target::What::edge, grip.part, grip.index}}));
    intents_.emplace_back(EditIntent(ShowFields{true}));
    if (grip.what == PlanGrip::What::corner) {
      intents_.emplace_back(EditIntent(SelectCorner{grip.index}));
    }
  }

  void drag() {
    PlanDrag& drag = tool_.drag;
    const model::Part* part = part_of(drag.grip);
    if (part == nullptr) {
      return;
    }
    drag.is_moving = drag.is_moving || glm::distance(pointer(), drag.from_px) > click_reach_px;
    if (!drag.is_moving) {
      return;
    }
    const glm::dvec2 wanted = drag.corner_m + view_.place(pointer()) - drag.from_m;
    const Snap snap = snapped(wanted, field(drag.grip));
    mark_snap(*list_, snap, view_);
    const std::string name = drag.grip.part + "/" + std::to_string(drag.grip.index);
    if (drag.grip.what == PlanGrip::What::corner) {
      intents_.emplace_back(
          EditIntent(Wish(Do{edit::MoveCorner{drag.grip.part, drag.grip.index, snap.at},
                             "Move corner " + name, "corner/" + name, "plan"})));
      return;
    }
    // The edge goes where its first corner would be, square to itself.
    const double out_m =
        dragged_out_m(*part, drag.grip.index, snap.at - part->outline[drag.grip.index]);
    if (std::abs(out_m) > 1e-6) {
      intents_.emplace_back(
          EditIntent(Wish(Do{edit::MoveEdge{drag.grip.part, drag.grip.index, units::on_grid(out_m)},
                             "Move edge " + name, "edge/" + name, "plan"})));
    }
  }

  void insert_corner(const PlanGrip& grip) {
    const model::Part* part = part_of(grip);
    const glm::dvec2 a = part->outline[grip.index];
    const glm::dvec2 b = part->outline[(grip.index + 1) % part->outline.size()];
    const double share = glm::dot(view_.place(pointer()) - a, b - a) / glm::dot(b - a, b - a);
    intents_.emplace_back(
        EditIntent(Wish(Do{edit::InsertCorner{grip.part, grip.index, a + share * (b - a)},
                           "Add corner to " + grip.part,
                           {},
                           "plan"})));
  }

  /// Where tests and people may aim.
  void note_corners() {
    for (const model::Part& part : model_.parts) {
      for (std::size_t i = 0; i < part.outline.size(); ++i) {
        const std::string name = part.id + "/" + std::to_string(i);
        const glm::dvec2 corner = view_.pixel(part.outline[i]);
        const glm::dvec2 middle =
            view_.pixel((part.outline[i] + part.outline[(i + 1) % part.outline.size()]) / 2.0);
        recorder_.add({"plan/corner/" + name, "mark", "", corner.x, corner.y, 0.0, 0.0});
        recorder_.add({"plan/edge/" + name, "mark", "", middle.x, middle.y, 0.0, 0.0});
      }
    }
    recorder_.add({"plan/scale", "state", fmt::format("{:.6f}", view_.px_per_m),
                   view_.pixel({0, 0}).x, view_.pixel({0, 0}).y, 0.0, 0.0});
    recorder_.add({"plan/drawn", "state", std::to_string(tool_.drawn.size()), 0, 0, 0, 0});
  }

  const Look& look_;
  const model::RoofModel& model_;
  const EditState& edit_;
  const scene::Viewport& port_;
  Recorder& recorder_;
  Intents& intents_;
  PlanTool tool_;
  PlanView view_;
  ImDrawList* list_ = nullptr;
};

}  // namespace

void plan_view(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
               Intents& intents) {
  Plan(look, viewport, recorder, intents).run();
}

}  // namespace ridgeward::panels

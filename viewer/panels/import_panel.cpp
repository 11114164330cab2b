// An import before it is taken: what was found, what was assumed, how well it fits.
#include "panels/import_panel.hpp"

#include "units/area.hpp"

#include "draw/palette.hpp"
#include "panels/edit_panels.hpp"
#include "panels/fields.hpp"
#include "panels/more_fields.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace ridgeward::panels {
namespace {

constexpr std::size_t most_sides = 6000;  // drawn of the planes as given
constexpr double lift_m = 0.04;           // towards the eye, so that the roof does not hide them

ImU32 given_ink(float alpha) { return packed({0.55F, 0.16F, 0.55F}, alpha); }

void dashes(ImDrawList& list, glm::dvec2 from, glm::dvec2 to, ImU32 colour) {
  const double length = glm::distance(from, to);
  const double step = 9.0 * ui_scale();
  const auto count = static_cast<int>(std::ceil(length / step));
  for (int i = 0; i < count; ++i) {
    const double at = i * step;
    const glm::dvec2 a = from + at / length * (to - from);
    const glm::dvec2 b = from + std::min(at + 0.6 * step, length) / length * (to - from);
    list.AddLine({static_cast<float>(a.x), static_cast<float>(a.y)},
                 {static_cast<float>(b.x), static_cast<float>(b.y)}, colour, 2.2F * ui_scale());
  }
}

void wrapped(const Form& form, const std::string& id, const std::vector<std::string>& lines) {
  for (std::size_t i = 0; i < lines.size(); ++i) {
    ImGui::Bullet();
    ImGui::TextWrapped("%s", capitalised(lines[i]).c_str());
    note(form.recorder, id + std::to_string(i), "text", lines[i]);
  }
}

void fit_rows(const Form& form, const ImportView& view) {
  for (const Row& one : import_rows(view, form.look.state.style)) {
    row(one);
    note(form.recorder, "import/row/" + one.first, "text", one.second);
  }
  if (view.planes.empty()) {
    return;
  }
  if (const auto on = check_field(form, "import/planes", "File's planes", view.shows_planes)) {
    form.intents.emplace_back(EditIntent(ShowGiven{*on}));
  }
  ImGui::SameLine();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float middle = at.y + ImGui::GetFrameHeight() / 2;
  dashes(*ImGui::GetWindowDrawList(), {at.x, middle}, {at.x + 34 * ui_scale(), middle},
         given_ink(1.0F));
  ImGui::Dummy({38 * ui_scale(), ImGui::GetFrameHeight()});
}

const ImporterChoice* chosen_importer(const ImportView& view) {
  const auto found =
      std::find_if(view.importers.begin(), view.importers.end(),
                   [&](const ImporterChoice& one) { return one.name == view.importer; });
  return found == view.importers.end() ? nullptr : &*found;
}

/// Which importer reads the file, with what options, and to read it so.
void reading(const Form& form, const ImportView& view) {
  if (!group(form, "import/reading", "Read it otherwise")) {
    return;
  }
  std::vector<std::string> words{"the surest one"};
  std::size_t chosen = 0;
  for (const ImporterChoice& one : view.importers) {
    chosen = one.name == view.importer ? words.size() : chosen;
    words.push_back(one.name);
  }
  if (const auto now = choice_field(form, "import/with", "Read as", words, chosen)) {
    form.intents.emplace_back(EditIntent(ChooseImporter{*now == 0 ? std::string() : words[*now]}));
  }
  if (const ImporterChoice* importer = chosen_importer(view)) {
    for (const ImportOption& option : importer->options) {
      ImGui::TextWrapped("%s", capitalised(option.what).c_str());
      std::string text = option.text;
      ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
      ImGui::InputTextWithHint(("##" + option.key).c_str(),
                               (option.key + ": " + option.value).c_str(), &text);
      note(form.recorder, "import/option/" + option.key, "field", text);
      if (text != option.text) {
        form.intents.emplace_back(EditIntent(TypeOption{option.key, text}));
      }
    }
  }
  if (button(form, "import/again", "Read it again so", ImGui::GetContentRegionAvail().x,
             form.look.state.edit.busy.empty())) {
    form.intents.emplace_back(
        EditIntent(Wish(ImportFile{view.file, view.importer, given_options(view)})));
  }
}

}  // namespace

std::vector<std::string> given_options(const ImportView& view) {
  std::vector<std::string> given;
  if (const ImporterChoice* importer = chosen_importer(view)) {
    for (const ImportOption& option : importer->options) {
      if (!option.text.empty()) {
        given.push_back(option.key + "=" + option.text);
      }
    }
  }
  return given;
}

std::vector<Row> import_rows(const ImportView& view, units::Style style) {
  std::vector<Row> rows;
  if (view.buildings == 0) {
    rows.emplace_back("Parts", std::to_string(view.parts));
    return rows;
  }
  if (view.buildings > 1) {
    rows.emplace_back("Buildings", std::to_string(view.buildings));
  }
  rows.emplace_back("Planes given", std::to_string(view.planes_given));
  rows.emplace_back("Parts made of them", std::to_string(view.parts));
  rows.emplace_back("  of these kept as plain planes", std::to_string(view.plain));
  const bool is_metric = style == units::Style::metric;
  rows.emplace_back("Farthest from the file",
                    is_metric ? fmt::format("{:.1f} mm", view.distance_m * 1000)
                              : fmt::format("{:.2f} in", view.distance_m / units::inch_m));
  rows.emplace_back("Area in the file", units::show_area(view.area_given_m2, style));
  rows.emplace_back("Area of the roof", units::show_area(view.area_rebuilt_m2, style));
  const double off =
      view.area_given_m2 > 0.0 ? 100.0 * (view.area_rebuilt_m2 / view.area_given_m2 - 1.0) : 0.0;
  rows.emplace_back("Difference of areas",
                    fmt::format("{:+.2f} %", std::abs(off) < 0.005 ? 0 : off));
  return rows;
}

void import_body(const Look& look, Recorder& recorder, Intents& intents) {
  const Form form{look, recorder, intents};
  const auto& shown = look.state.edit.import;
  if (!shown) {
    return;
  }
  const ImportView& view = *shown;
  const bool is_read = view.trouble.empty();
  heading(is_read ? "Import: take it?" : "Import: nothing to take");
  ImGui::TextWrapped("%s", std::filesystem::path(view.file).filename().c_str());
  note(recorder, "import/file", "text", view.file);
  ImGui::Spacing();
  const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
  if (button(form, "import/take", "Take it", half, is_read)) {
    intents.emplace_back(EditIntent(Wish(TakeImport{})));
  }
  ImGui::SameLine();
  if (button(form, "import/leave", "Leave it (Esc)", half)) {
    intents.emplace_back(EditIntent(Wish(LeaveImport{})));
  }
  ImGui::TextWrapped("%s", is_read ? "Taken, it is a new house that is not saved yet. Left, all is "
                                     "as before."
                                   : "Leave it, and all is as before.");
  ImGui::Spacing();
  ImGui::Separator();
  ImGui::BeginChild("import-found");
  reading(form, view);
  ImGui::Spacing();
  if (!is_read) {
    ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::bad));
    ImGui::TextWrapped("%s", view.trouble.c_str());
    ImGui::PopStyleColor();
    note(recorder, "import/trouble", "text", view.trouble);
    ImGui::EndChild();
    return;
  }
  fit_rows(form, view);
  ImGui::Spacing();
  heading("Found");
  wrapped(form, "import/note/", view.notes);
  if (view.notes.empty()) {
    ImGui::TextDisabled("Nothing to say.");
  }
  ImGui::Spacing();
  heading("Assumed");
  wrapped(form, "import/assumed/", view.assumed);
  if (view.assumed.empty()) {
    ImGui::TextDisabled("Nothing.");
  }
  ImGui::EndChild();
}

void draw_given(const Look& look, const scene::Viewport& viewport) {
  const auto& view = look.state.edit.import;
  if (!view || !view->shows_planes || view->planes.empty()) {
    return;
  }
  const scene::Lens lens{look.state.camera, viewport};
  const scene::Seen seen(look.scene, lens);
  const glm::dvec3 to_eye = look.state.camera.axes().back * lift_m;
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  list.PushClipRect({static_cast<float>(viewport.x), static_cast<float>(viewport.y)},
                    {static_cast<float>(viewport.x + viewport.width),
                     static_cast<float>(viewport.y + viewport.height)});
  std::size_t sides = 0;
  for (const std::vector<glm::dvec3>& loop : view->planes) {
    for (std::size_t i = 0; i < loop.size() && sides < most_sides; ++i, ++sides) {
      const glm::dvec3 to = loop[(i + 1) % loop.size()];
      const auto a = lens.pixel(loop[i]);
      const auto b = lens.pixel(to);
      if (a && b && glm::distance(*a, *b) > 1.0) {
        const bool is_seen = seen.is_in_sight((loop[i] + to) / 2.0 + to_eye);
        dashes(list, *a, *b, given_ink(is_seen ? 1.0F : 0.18F));
      }
    }
  }
  list.PopClipRect();
}

}  // namespace ridgeward::panels

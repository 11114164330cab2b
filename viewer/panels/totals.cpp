#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace ridgeward::panels {
namespace {

constexpr std::size_t most_in_full = 2;   // compartments; more are told in three rows each
constexpr std::size_t most_in_brief = 5;  // still more in one row each
constexpr float most_height = 0.5F;       // of the window, for rows; more of them scroll

/// Room for a bar over the panel's whole width.
struct Bar {
  ImVec2 low;
  ImVec2 high;
  float at(double part) const {
    return low.x + (high.x - low.x) * static_cast<float>(std::clamp(part, 0.0, 1.0));
  }
};

Bar make_room(float above, float height, float below) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::Dummy({width, above + height + below});
  return {{at.x, at.y + above}, {at.x + width, at.y + above + height}};
}

void small_words(ImDrawList& list, ImVec2 at, float share, glm::vec3 colour,
                 const std::string& words) {
  ImFont* small_font = font(Font::small_text);
  const ImVec2 size = small_font->CalcTextSizeA(small_font->FontSize, 1e6F, 0.0F, words.c_str());
  list.AddText(small_font, small_font->FontSize, {at.x - share * size.x, at.y}, packed(colour),
               words.c_str());
}

/// Intake and exhaust end to end, against what is required.
void supply_bar(const TotalsText& text) {
  const float s = ui_scale();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Bar bar = make_room(17 * s, 13 * s, 3 * s);
  list.AddRectFilled(bar.low, bar.high, packed(draw::inks().track), 3 * s);
  const float intake_end = bar.at(text.intake_part);
  const float end = bar.at(text.intake_part + text.exhaust_part);
  list.AddRectFilled(bar.low, {intake_end, bar.high.y}, packed(draw::intake));
  list.AddRectFilled({intake_end, bar.low.y}, {end, bar.high.y}, packed(draw::exhaust));
  list.AddLine({intake_end, bar.low.y}, {intake_end, bar.high.y}, packed(draw::card), 1.5F * s);
  const float tick = bar.at(text.required_part);
  list.AddRectFilled({tick - 1.2F * s, bar.low.y - 4 * s}, {tick + 1.2F * s, bar.high.y + 3 * s},
                     packed(draw::ink));
  const float share = text.required_part > 0.75 ? 1.0F : text.required_part < 0.25 ? 0.0F : 0.5F;
  small_words(list, {tick + (share - 0.5F) * 2.4F * s, bar.low.y - 18 * s}, share, draw::faint_ink,
              "required");
}

/// A swatch, a word and a value.
void keyed_row(glm::vec3 colour, const Row& content) {
  const float s = ui_scale();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float line = ImGui::GetTextLineHeight();
  ImGui::GetWindowDrawList()->AddRectFilled(
      {at.x, at.y + 3 * s}, {at.x + 10 * s, at.y + line - 2 * s}, packed(colour), 2 * s);
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 16 * s);
  ImGui::TextUnformatted(content.first.c_str());
  const float width = ImGui::CalcTextSize(content.second.c_str()).x;
  ImGui::SameLine(ImGui::GetWindowContentRegionMax().x - width);
  ImGui::TextUnformatted(content.second.c_str());
}

/// Where the intake's share lies, against the band where it belongs.
void balance_bar(const TotalsText& text) {
  const float s = ui_scale();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Bar bar = make_room(8 * s, 9 * s, 18 * s);
  list.AddRectFilled(bar.low, bar.high, packed(draw::inks().track), 3 * s);
  const float band_low = bar.at(least_share);
  const float band_high = bar.at(most_share);
  list.AddRectFilled({band_low, bar.low.y}, {band_high, bar.high.y}, packed(draw::good, 0.55F));
  for (const float edge : {band_low, band_high}) {
    list.AddLine({edge, bar.low.y - 2 * s}, {edge, bar.high.y + 3 * s}, packed(draw::good),
                 1.5F * s);
  }
  if (text.has_share) {
    const float x = bar.at(text.share);
    list.AddTriangleFilled({x, bar.low.y + 6 * s}, {x - 6 * s, bar.low.y - 5 * s},
                           {x + 6 * s, bar.low.y - 5 * s}, packed(draw::ink));
    list.AddLine({x, bar.low.y}, {x, bar.high.y}, packed(draw::ink), 2 * s);
  }
  const float y = bar.high.y + 3 * s;
  small_words(list, {bar.low.x, y}, 0.0F, draw::faint_ink, "all exhaust");
  small_words(list, {band_low, y}, 0.75F, draw::good, "50");
  small_words(list, {band_high, y}, 0.25F, draw::good, "60 %");
  small_words(list, {bar.high.x, y}, 1.0F, draw::faint_ink, "all intake");
}

/// What is wrong, in one line that goes to the place when clicked. `lines`: the room that it always
/// takes, so that nothing below moves when it changes; the rest is told when pointed at. 0: as much
/// as it needs.
void verdict_line(const TotalsText& text, int lines, Recorder& recorder, Intents& intents) {
  const float s = ui_scale();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float wrap = ImGui::GetContentRegionAvail().x - 22 * s;
  ImVec2 size = ImGui::CalcTextSize(text.line.c_str(), nullptr, false, wrap);
  const float needed = size.y;
  size.y = lines == 0 ? needed : static_cast<float>(lines) * ImGui::GetTextLineHeight();
  if (ImGui::InvisibleButton(("go##" + text.title).c_str(), {wrap + 22 * s, size.y})) {
    intents.emplace_back(GoTo{text.at, text.within_m});
  }
  note(recorder, "totals/" + text.title + "/verdict", "button", text.line);
  const bool is_hovered = ImGui::IsItemHovered();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  draw_mark(list, {at.x + 7 * s, at.y + 8 * s}, 7 * s, text.verdict);
  list.PushClipRect(at, {at.x + wrap + 22 * s, at.y + size.y + 2 * s}, true);
  list.AddText(font(Font::text), font(Font::text)->FontSize, {at.x + 22 * s, at.y},
               packed(is_hovered ? draw::intake : colour_of(text.verdict)), text.line.c_str(),
               nullptr, wrap);
  list.PopClipRect();
  if (is_hovered && needed > size.y) {
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(340 * s);
    ImGui::TextUnformatted(text.line.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
  }
}

void compartment(const TotalsText& text, int lines, Recorder& recorder, Intents& intents) {
  heading(text.title);
  for (const Row& content : text.rows) {
    row(content);
  }
  supply_bar(text);
  keyed_row(draw::intake, {"Intake, low", text.intake});
  note(recorder, "totals/" + text.title + "/intake", "text", text.intake);
  keyed_row(draw::exhaust, {"Exhaust, high", text.exhaust});
  note(recorder, "totals/" + text.title + "/exhaust", "text", text.exhaust);
  const std::string share =
      text.has_share ? fmt::format("{:.0f} % intake", 100 * text.share) : "no vents yet";
  ImGui::Spacing();
  row({"Balance", share});
  note(recorder, "totals/" + text.title + "/balance", "text", share);
  balance_bar(text);
  verdict_line(text, lines, recorder, intents);
}

/// The same in three rows, where there are many.
void brief(const TotalsText& text, int lines, Recorder& recorder, Intents& intents) {
  const float s = ui_scale();
  const std::string share =
      text.has_share ? fmt::format("{:.0f} % intake", 100 * text.share) : "no vents yet";
  heading(text.title);
  ImGui::SameLine();
  const float width = ImGui::CalcTextSize(share.c_str()).x;
  ImGui::SameLine(ImGui::GetWindowContentRegionMax().x - width);
  ImGui::TextUnformatted(share.c_str());
  note(recorder, "totals/" + text.title + "/balance", "text", share);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::Dummy({ImGui::GetContentRegionAvail().x, ImGui::GetTextLineHeight()});
  const float step = (ImGui::GetContentRegionAvail().x) / 3;
  const auto cell = [&](int i, const char* what, glm::vec3 colour, const std::string& value) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float x = at.x + static_cast<float>(i) * step;
    list.AddText({x, at.y}, packed(colour), what);
    const float indent = ImGui::CalcTextSize(what).x + 5 * s;
    list.AddText({x + indent, at.y}, packed(draw::ink), value.c_str());
  };
  cell(0, "in", draw::intake, text.intake);
  cell(1, "out", draw::exhaust, text.exhaust);
  cell(2, "need", draw::faint_ink, text.required);
  note(recorder, "totals/" + text.title + "/intake", "text", text.intake);
  note(recorder, "totals/" + text.title + "/exhaust", "text", text.exhaust);
  note(recorder, "totals/" + text.title + "/required", "text", text.required);
  verdict_line(text, lines, recorder, intents);
}

/// "27" of "27 in²".
std::string without_unit(const std::string& value) { return value.substr(0, value.rfind(' ')); }
std::string unit_of(const std::string& value) {
  const std::size_t space = value.rfind(' ');
  return space == value.npos ? "" : value.substr(space + 1);
}

/// Where the columns of numbers end, from the row's left edge.
std::array<float, 3> columns(float width) {
  const float s = ui_scale();
  return {width - 104 * s, width - 52 * s, width};
}

void right_aligned(float right, float y, glm::vec3 colour, const std::string& words) {
  const float width = ImGui::CalcTextSize(words.c_str()).x;
  ImGui::GetWindowDrawList()->AddText({right - width, y}, packed(colour), words.c_str());
}

/// One compartment in one row, with what is wrong in a second one.
void short_row(const TotalsText& text, Recorder& recorder, Intents& intents) {
  const float s = ui_scale();
  const float line = ImGui::GetTextLineHeight() + 2 * s;
  const bool is_good = text.verdict == Verdict::good;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  if (ImGui::InvisibleButton(("go##" + text.title).c_str(), {width, is_good ? line : 2 * line})) {
    intents.emplace_back(GoTo{text.at, text.within_m});
  }
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const std::string share =
      text.has_share ? fmt::format("{:.0f} % intake", 100 * text.share) : "no vents yet";
  if (ImGui::IsItemHovered()) {
    list.AddRectFilled(ImGui::GetItemRectMin(), ImGui::GetItemRectMax(), packed(draw::intake, 0.1F),
                       3 * s);
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(340 * s);
    ImGui::TextUnformatted((text.title + ", " + share + ". " + text.line).c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
  }
  for (const auto& [what, value] : {std::pair{"verdict", text.line},
                                    {"balance", share},
                                    {"intake", text.intake},
                                    {"exhaust", text.exhaust},
                                    {"required", text.required}}) {
    note(recorder, "totals/" + text.title + "/" + what, "button", value);
  }
  const float indent = 20 * s;
  draw_mark(list, {at.x + 7 * s, at.y + line / 2}, 6.5F * s, text.verdict);
  const std::array<float, 3> ends = columns(width);
  const float room = ends[0] - 40 * s - indent;
  list.AddText({at.x + indent, at.y}, packed(draw::ink), elided(text.title, room).c_str());
  const std::array<const std::string*, 3> values{&text.intake, &text.exhaust, &text.required};
  for (std::size_t i = 0; i < values.size(); ++i) {
    right_aligned(at.x + ends[i], at.y, draw::ink, without_unit(*values[i]));
  }
  if (!is_good) {
    list.AddText({at.x + indent, at.y + line}, packed(colour_of(text.verdict)),
                 elided(text.line, width - indent).c_str());
  }
}

/// "All in order", "2 at fault, 1 to look into".
std::string count_of_wrong(const std::vector<TotalsText>& texts) {
  const auto count = [&](Verdict verdict) {
    return std::count_if(texts.begin(), texts.end(),
                         [&](const TotalsText& text) { return text.verdict == verdict; });
  };
  const auto faults = count(Verdict::fault);
  const auto cautions = count(Verdict::caution);
  std::string words = faults > 0 ? fmt::format("{} at fault", faults) : "";
  if (cautions > 0) {
    words += fmt::format("{}{} to look into", words.empty() ? "" : ", ", cautions);
  }
  return words.empty() ? "all in order" : words;
}

/// Many compartments: how many are wrong, and a row each, the worst first.
void short_rows(const Look& look, const std::vector<TotalsText>& texts, Recorder& recorder,
                Intents& intents) {
  const float s = ui_scale();
  const std::string wrong = count_of_wrong(texts);
  heading(fmt::format("{} compartments", texts.size()));
  ImGui::SameLine(ImGui::GetWindowContentRegionMax().x - ImGui::CalcTextSize(wrong.c_str()).x);
  ImGui::PushStyleColor(ImGuiCol_Text, packed(colour_of(texts.front().verdict)));
  ImGui::TextUnformatted(wrong.c_str());
  ImGui::PopStyleColor();
  note(recorder, "totals/wrong", "text", wrong);
  const float line = ImGui::GetTextLineHeight() + 2 * s;
  float height = 0.0F;
  for (const TotalsText& text : texts) {
    height += (text.verdict == Verdict::good ? 1.0F : 2.0F) * line;
  }
  const float most = most_height * static_cast<float>(look.height_px);
  const bool is_long = height > most;
  const float bar = is_long ? ImGui::GetStyle().ScrollbarSize + 4 * s : 0.0F;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x - bar;
  ImGui::Dummy({width, ImGui::GetTextLineHeight()});
  const std::array<float, 3> ends = columns(width);
  const std::array<std::pair<const char*, glm::vec3>, 3> heads{
      {{"in", draw::intake}, {"out", draw::exhaust}, {"need", draw::faint_ink}}};
  for (std::size_t i = 0; i < heads.size(); ++i) {
    right_aligned(at.x + ends[i], at.y, heads[i].second, heads[i].first);
  }
  ImGui::GetWindowDrawList()->AddText({at.x + 20 * s, at.y}, packed(draw::faint_ink),
                                      unit_of(texts.front().required).c_str());
  ImGui::BeginChild("compartments", {width + bar, is_long ? most : height});
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0.0F, 0.0F});
  ImGui::PushItemWidth(width);
  for (const TotalsText& text : texts) {
    short_row(text, recorder, intents);
  }
  ImGui::PopItemWidth();
  ImGui::PopStyleVar();
  ImGui::EndChild();
}

}  // namespace

void totals_body(const Look& look, std::size_t most, Recorder& recorder, Intents& intents) {
  std::vector<TotalsText> texts = totals_text(look.assessment, look.state.style);
  const bool is_short = texts.size() > most_in_brief && most >= texts.size();
  if (texts.size() > most || is_short) {
    std::stable_sort(texts.begin(), texts.end(), [](const TotalsText& a, const TotalsText& b) {
      return a.verdict > b.verdict;
    });
  }
  if (is_short) {
    short_rows(look, texts, recorder, intents);
    return;
  }
  const bool is_edited = look.state.edit.has_fields;  // fields below must stay where they are
  for (std::size_t i = 0; i < std::min(most, texts.size()); ++i) {
    if (i > 0) {
      ImGui::Spacing();
      ImGui::Separator();
      ImGui::Spacing();
    }
    if (texts.size() > most_in_full) {
      brief(texts[i], is_edited ? 2 : 0, recorder, intents);
    } else {
      compartment(texts[i], is_edited ? 5 : 0, recorder, intents);
    }
  }
  if (texts.size() > most) {
    ImGui::TextDisabled("and %d more compartments", static_cast<int>(texts.size() - most));
  }
  if (texts.empty()) {
    ImGui::TextWrapped("No compartment yet: nothing to ventilate.");
  }
}

}  // namespace ridgeward::panels

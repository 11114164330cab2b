#include "papers/html.hpp"

#include "papers/air.hpp"
#include "papers/cairo.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/inspector_sheet.hpp"
#include "papers/plan_drawing.hpp"
#include "papers/plan_names.hpp"
#include "papers/ridge_drawing.hpp"
#include "papers/told_tests.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <utility>

namespace ridgeward::papers {

namespace {

constexpr double square_m2 = 100 * units::square_foot_m2;  // the trade's square of roofing

struct Head {
  std::string title;
  bool is_right = false;
};

/// "plane|area>": titles of columns; figures stand at the right under those with ">".
std::vector<Head> heads(std::string_view titles) {
  std::vector<Head> all;
  for (std::size_t from = 0; from <= titles.size();) {
    const std::size_t to = std::min(titles.find('|', from), titles.size());
    std::string_view title = titles.substr(from, to - from);
    const bool is_right = title.ends_with('>');
    title.remove_suffix(is_right ? 1 : 0);
    all.push_back({std::string(title), is_right});
    from = to + 1;
  }
  return all;
}

struct Row {
  std::vector<std::string> cells;
  std::string thing{};  ///< key of what the first cell shows in 3D
  std::string kind{};   ///< class of the row
};

class Report {
 public:
  Report(const Assessment& a, units::Style style, const ReportParts& parts)
      : a_(a), style_(style), parts_(parts) {}
  Result<std::string> run();

 private:
  std::string length(double m) const { return units::show(m, style_); }
  std::string dash_or(double m) const { return m > 1e-9 ? length(m) : "-"; }
  std::string area(double m2) const { return units::show_area(m2, style_); }
  std::string opening(double m2) const { return units::show_free_area(m2, style_); }
  void say(const std::string& html) { out_ += html + "\n"; }
  void section(const char* id, const std::string& title) {
    say(fmt::format("<section id=\"{}\"><h2>{}</h2>", id, escaped(title)));
  }
  void note(const std::string& text) { say("<p class=\"note\">" + escaped(text) + "</p>"); }
  void list(const std::vector<std::string>& texts);
  void table(const std::vector<Head>& columns, const std::vector<Row>& rows);
  bool picture(const Drawing& drawing, const std::string& words);

  void head();
  void summary();
  void view();
  void findings();
  void spaces();
  void share_bar(const vents::CompartmentTotals& totals, double required_m2);
  void tests(CompartmentId id);
  void plan();
  void planes();
  void openings();
  void order();
  void order_table(const std::vector<takeoff::OrderLine>& lines, bool has_for);
  void runs();
  void air();
  void closing();

  const Assessment& a_;
  units::Style style_;
  const ReportParts& parts_;
  std::string out_;
  Faults faults_;
};

void Report::list(const std::vector<std::string>& texts) {
  say("<ul>");
  for (const std::string& text : texts) {
    say("<li>" + escaped(text) + "</li>");
  }
  say("</ul>");
}

/// On a narrow page a row stands as a card: each cell carries its column's title.
void Report::table(const std::vector<Head>& columns, const std::vector<Row>& rows) {
  out_ += "<div class=\"wide\"><table><thead><tr>";
  for (const Head& one : columns) {
    out_ += fmt::format("<th{}>{}</th>", one.is_right ? " class=\"r\"" : "", escaped(one.title));
  }
  out_ += "</tr></thead>\n<tbody>\n";
  for (const Row& row : rows) {
    out_ += row.kind.empty() ? std::string("<tr>") : "<tr class=\"" + row.kind + "\">";
    for (std::size_t i = 0; i < row.cells.size() && i < columns.size(); ++i) {
      std::string text = escaped(row.cells[i]);
      if (i == 0 && !row.thing.empty()) {
        text.insert(0, "<button type=\"button\" data-thing=\"" + escaped(row.thing) + "\">");
        text += "</button>";
      }
      out_ += fmt::format("<td class=\"{}{}\" data-label=\"{}\">{}</td>",
                          columns[i].is_right ? "r" : "", row.cells[i] == "-" ? " none" : "",
                          escaped(columns[i].title), text);
    }
    out_ += "</tr>\n";
  }
  say("</tbody></table></div>");
}

/// As a picture of its own, so that its ids meet no other drawing's.
bool Report::picture(const Drawing& drawing, const std::string& words) {
  const Result<std::string> svg = to_svg(drawing, 0);
  if (!svg) {
    faults_ = svg.faults();
    return false;
  }
  say(fmt::format("<img class=\"paper\" alt=\"{}\" src=\"data:image/svg+xml;base64,{}\">",
                  escaped(words), base64(svg.value())));
  return true;
}

void Report::head() {
  const std::string name = a_.model.name.empty() ? "Unnamed roof" : a_.model.name;
  say("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">");
  say("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src "
      "'unsafe-inline'; style-src 'unsafe-inline'; img-src data: blob:\">");
  say("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
  say("<meta name=\"color-scheme\" content=\"light dark\">");
  say("<title>" + escaped(name) + "</title>\n<style>\n" + parts_.look +
      "</style>\n</head>\n<body>");
  say(fmt::format("<header><h1>{}</h1><p>{}</p></header>\n<main>", escaped(name),
                  escaped(a_.code.name)));
}

void Report::summary() {
  const bool is_bad = a_.is_at_fault();
  say(fmt::format("<p id=\"verdict\" class=\"{}\"><b aria-hidden=\"true\">{}</b> {}</p>",
                  is_bad ? "bad" : "good", is_bad ? "✕" : "✓", escaped(verdict_words(a_))));
  const takeoff::Lengths& t = a_.takeoff.totals;
  double required = 0.0;
  double intake = 0.0;
  double exhaust = 0.0;
  for (const CompartmentId id : a_.attic.compartments.ids()) {
    required += a_.tests.required[id].required_m2;
    intake += a_.vents.totals[id].intake_m2;
    exhaust += a_.vents.totals[id].exhaust_m2;
  }
  say("<dl id=\"totals\">");
  const auto add = [&](const char* name, const std::string& value) {
    say(fmt::format("<div><dt>{}</dt><dd>{}</dd></div>", name, escaped(value)));
  };
  add("required", opening(required));
  add("intake", opening(intake));
  add("exhaust", opening(exhaust));
  add("roof area", area(t.area_m2));
  if (style_ == units::Style::feet_inches) {
    add("squares", fmt::format("{:.2f}", t.area_m2 / square_m2));
  }
  add("planes", fmt::format("{}", a_.surface.planes.size()));
  add("eave", dash_or(t.eave_m));
  add("ridge", dash_or(t.ridge_m));
  add("hip", dash_or(t.hip_m));
  add("valley", dash_or(t.valley_m));
  say("</dl>");
}

void Report::view() {
  say("<section id=\"view\" aria-label=\"The roof in 3D\"><div id=\"stage\"><canvas id=\"roof\" "
      "tabindex=\"0\" aria-label=\"The roof: drag to turn it, pinch or wheel to come nearer, tap "
      "for figures\"></canvas><canvas id=\"labels\" aria-hidden=\"true\"></canvas>"
      "<p id=\"wait\">The 3D view needs JavaScript and WebGL. Everything else on this page does "
      "without.</p></div>");
  say("<div id=\"chosen\" aria-live=\"polite\"><h3>Tap a plane, a line, a vent or a numbered mark"
      "</h3><dl></dl></div><div id=\"tools\"></div><div id=\"key\"></div></section>");
}

void Report::findings() {
  section("findings", "Found");
  if (a_.findings.empty()) {
    note("Nothing is in the way.");
  }
  std::vector<Row> rows;
  for (std::size_t i = 0; i < a_.findings.size(); ++i) {
    const conflicts::Finding& one = a_.findings[i];
    const std::string word = conflicts::word(one.severity);
    rows.push_back(
        {{fmt::format("{} {}", i + 1, word), one.message, one.measured, one.needed, one.remedy},
         fmt::format("finding:{}", i + 1),
         word});
  }
  if (!rows.empty()) {
    table(heads("number|what|measured|needed|remedy"), rows);
  }
  say("</section>");
}

/// Shares of intake and exhaust; a mark where the required area ends.
void Report::share_bar(const vents::CompartmentTotals& totals, double required_m2) {
  const double both = totals.intake_m2 + totals.exhaust_m2;
  const double whole = std::max(both, required_m2);
  if (whole <= 0.0) {
    return;
  }
  say(
      fmt::format("<div class=\"bar\" role=\"img\" aria-label=\"intake {0}, exhaust {1}, required "
                  "{2}\"><i class=\"in\" style=\"width:{3:.2f}%\"></i><i class=\"ex\" "
                  "style=\"width:{4:.2f}%\"></i><u style=\"left:{5:.2f}%\"></u></div>",
                  escaped(opening(totals.intake_m2)), escaped(opening(totals.exhaust_m2)),
                  escaped(opening(required_m2)), 100 * totals.intake_m2 / whole,
                  100 * totals.exhaust_m2 / whole, 100 * required_m2 / whole));
}

void Report::tests(CompartmentId id) {
  std::vector<Row> rows;
  bool all_hold = true;
  for (const codes::Test& test : a_.tests.tests) {
    if (test.compartment != id) {
      continue;
    }
    const ToldTest told = papers::told(a_, test, style_);
    const std::string verdict = told.verdict;
    all_hold = all_hold && verdict != "FAILS";
    rows.push_back({{(verdict == "holds"   ? "✓ "
                      : verdict == "FAILS" ? "✕ "
                                           : "! ") +
                         verdict,
                     told.section, told.asks, told.measured, told.needed},
                    "",
                    verdict == "FAILS" ? "error" : ""});
  }
  if (rows.empty()) {
    return;
  }
  const bool is_open = !all_hold || a_.attic.compartments.size() < 4;
  say(fmt::format("<details{}><summary>{}</summary>", is_open ? " open" : "",
                  (all_hold ? "" : "✕ ") + count_words(count_tests(a_, id))));
  table(heads("verdict|section|asks|measured|needed"), rows);
  say("</details>");
}

void Report::spaces() {
  section("spaces", "Spaces: required and provided net free area");
  if (a_.attic.compartments.empty()) {
    note("No vented space lies under this roof.");
  }
  for (const CompartmentId id : a_.attic.compartments.ids()) {
    const attic::Compartment& space = a_.attic.compartments[id];
    const vents::CompartmentTotals& totals = a_.vents.totals[id];
    const codes::Requirement& required = a_.tests.required[id];
    say("<article class=\"space\"><h3>" + escaped(space.id) + "</h3>");
    share_bar(totals, required.required_m2);
    table(heads("floor>|ratio>|required>|intake>|exhaust>|intake share>|balance"),
          {{{area(space.floor_area_m2),
             required.ratio > 0.0 ? fmt::format("1/{:.0f}", required.ratio) : std::string("none"),
             opening(required.required_m2), opening(totals.intake_m2), opening(totals.exhaust_m2),
             fmt::format("{:.0f} %", totals.intake_share() * 100), [&] {
               const double more = totals.intake_m2 + totals.exhaust_m2 - required.required_m2;
               return more + 1e-12 >= 0.0 ? opening(more) + " more than required"
                                          : opening(-more) + " LESS than required";
             }()}}});
    tests(id);
    say("</article>");
  }
  say("</section>");
}

void Report::plan() {
  section("plan", "Plan with the openings");
  Drawing drawing;
  drawing.pages.emplace_back();
  const Frame whole{{4.0, 4.0}, {182.0, 150.0}};
  const PlanScale scale = scale_to_fit(a_, whole, style_);
  drawing.size_mm = {190.0, 162.0};
  drawing.size_mm.y += draw_plan_key(a_, {6.0, 160.0}, 178.0, drawing.pages[0]);
  draw_plan(a_, scale, whole, style_, drawing.pages[0]);
  picture(drawing, "The roof in plan");
  note("True to scale when the picture is 190 mm wide: " + scale.words + ".");
  say("</section>");
}

void Report::planes() {
  section("planes", "Areas and lines by plane, true lengths");
  std::vector<Row> rows;
  const auto add = [&](const std::string& name, const std::string& pitch,
                       const takeoff::Lengths& l) {
    rows.push_back({{name, pitch, area(l.area_m2), dash_or(l.eave_m), dash_or(l.rake_m),
                     dash_or(l.ridge_m), dash_or(l.hip_m), dash_or(l.valley_m), dash_or(l.wall_m)},
                    pitch.empty() ? "" : "plane:" + name,
                    pitch.empty() ? "sum" : ""});
  };
  for (const PlaneId id : a_.surface.planes.ids()) {
    const surface::Plane& plane = a_.surface.planes[id];
    add(plane.id, units::show_pitch(plane.pitch, style_), a_.takeoff.planes[id]);
  }
  add("all", "", a_.takeoff.totals);
  table(heads("plane|pitch|area>|eave>|rake>|ridge>|hip>|valley>|wall>"), rows);
  note("Ridges, hips and valleys stand with both of their planes and once in \"all\".");
  say("</section>");
}

void Report::openings() {
  section("openings", "Openings");
  std::vector<Row> rows;
  for (std::vector<std::string>& cells : opening_rows(a_, style_)) {
    const std::string first = cells[0].substr(0, cells[0].find(" to "));
    const bool is_slot = std::any_of(a_.vents.slots.begin(), a_.vents.slots.end(),
                                     [&](const vents::Slot& slot) { return slot.id == first; });
    rows.push_back({std::move(cells), (is_slot ? "slot:" : "exhaust:") + first, ""});
  }
  if (rows.empty()) {
    note("None are given.");
  } else {
    table(heads("opening|product|on|place or length|live bays>|free area>"), rows);
  }
  say("</section>");
}

void Report::order() {
  section("order", "Order");
  if (a_.takeoff.order.empty()) {
    note("Nothing: the model has no vents.");
    say("</section>");
    return;
  }
  note("Lengths and areas are net, without laps. " + nail_words(a_, style_));
  const auto without = static_cast<std::size_t>(a_.takeoff.price.without_price);
  if (without > 0 && a_.takeoff.price.sum > 0.0) {
    note(counted(without, "line of the order has", "lines of the order have") + " no price and " +
         (without == 1 ? "is" : "are") + " not in the sum.");
  }
  say("<h3>All together</h3>");
  order_table(together_of(a_.takeoff.order), false);
  const std::vector<takeoff::OrderLine> lines = by_item(a_.takeoff.order);
  say(fmt::format("<details{}><summary>By what it is for: {}</summary>",
                  lines.size() > 40 ? "" : " open", counted(lines.size(), "line", "lines")));
  order_table(lines, true);
  say("</details>\n</section>");
}

void Report::order_table(const std::vector<takeoff::OrderLine>& lines, bool has_for) {
  const bool is_priced = std::any_of(lines.begin(), lines.end(),
                                     [](const auto& line) { return line.total_price.has_value(); });
  const std::string titles =
      std::string("item|how much>") + (has_for ? "|for" : "") + (is_priced ? "|price>|sum>" : "");
  std::vector<Row> rows;
  for (const takeoff::OrderLine& line : lines) {
    rows.push_back({{item_words(line.item, style_), quantity_words(line, style_)}});
    if (has_for) {
      rows.back().cells.push_back(line.for_what);
    }
    if (is_priced) {
      rows.back().cells.push_back(unit_price_words(line, style_));
      rows.back().cells.push_back(line.total_price ? fmt::format("{:.2f}", *line.total_price)
                                                   : "-");
    }
  }
  if (is_priced) {
    Row sum{{"all that has a price"}, "", "sum"};
    sum.cells.resize(has_for ? 5 : 4);
    sum.cells.back() = fmt::format("{:.2f}", a_.takeoff.price.sum);
    rows.push_back(std::move(sum));
  }
  table(heads(titles), rows);
}

void Report::runs() {
  section("runs", "Runs and their pieces, in laying order");
  for (const takeoff::SectionRun& run : a_.takeoff.sections) {
    const model::Product* product = a_.product(run.product);
    say(fmt::format("<h3>{}</h3>", escaped(run.over + ", " + run.product)));
    if (product != nullptr) {
      Drawing drawing;
      drawing.pages.emplace_back();
      const double high =
          draw_pieces(run, product->depth_m, {{4.0, 4.0}, {182.0, 30.0}}, style_, drawing.pages[0]);
      drawing.size_mm = {190.0, high + 6.0};
      picture(drawing, "Pieces of " + run.over);
    }
    std::vector<Row> rows;
    for (std::size_t i = 0; i < run.pieces.size(); ++i) {
      const takeoff::Piece& piece = run.pieces[i];
      rows.push_back({{fmt::format("{}", i + 1), length(piece.lower_edge_m),
                       length(piece.upper_edge_m), end_words(piece.left, style_),
                       end_words(piece.right, style_), fmt::format("{}", piece.section)}});
    }
    table(heads("piece|lower edge>|upper edge>|left end|right end|of section>"), rows);
  }
  std::vector<Row> bought;
  bought.reserve(a_.takeoff.purchases.size());
  for (const takeoff::Purchase& one : a_.takeoff.purchases) {
    bought.push_back(
        {{one.product, length(one.section_m), fmt::format("{}", one.bought),
          one.is_least ? "proven" : "not proven", length(one.laid_m), length(one.waste_m)}});
  }
  if (bought.empty()) {
    note("No vent is cut to length.");
  } else {
    say("<h3>Sections and what is left of them</h3>");
    table(heads("product|section>|bought>|fewest|laid>|left over>"), bought);
  }
  say("</section>");
}

void Report::air() {
  if (a_.airflow.cases.empty()) {
    return;
  }
  section("air", "The air");
  note("A model: count on half as much or half as much again, in wind on more.");
  list(air_words(a_, style_));
  if (const airflow::CaseAir* noon = a_.airflow.first(airflow::CaseKind::summer)) {
    note(balance_words(*noon, a_.airflow, style_));
  }
  std::vector<Row> rows;
  for (std::vector<std::string>& cells : air_rows(a_, style_)) {
    rows.push_back({std::move(cells)});
  }
  table(heads("weather|outside>|attic>|changes/h>|by intake>|by exhaust>|from rooms>"), rows);
  say("</section>");
}

void Report::closing() {
  section("assumed", "Assumed");
  list(a_.assumptions);
  say("</section>");
  section("cautions", "Cautions");
  list(all_cautions(a_));
  say("</section>\n</main>");
  say("<footer><details><summary>The 3D view is drawn with three.js</summary><pre>" +
      escaped(parts_.licence) + "</pre></details></footer>");
  say("<script type=\"application/json\" id=\"things\">" + things_json(a_, style_) + "</script>");
  say("<script type=\"model/gltf-binary\" id=\"glb\">" + base64(parts_.roof_glb) + "</script>");
  say("<script>\n" + parts_.library + "\n</script>");
  say("<script>\n" + parts_.script + "</script>\n</body>\n</html>");
}

Result<std::string> Report::run() {
  head();
  say("<div id=\"top\">");
  summary();
  view();
  say("</div><div id=\"rest\">");
  findings();
  spaces();
  plan();
  openings();
  planes();
  runs();
  order();
  air();
  say("</div>");
  closing();
  return faults_.empty() ? Result<std::string>(std::move(out_)) : faults_;
}

}  // namespace

Result<std::string> to_html(const Assessment& assessment, units::Style style,
                            const ReportParts& parts) {
  return Report(assessment, style, parts).run();
}

}  // namespace ridgeward::papers

#include "papers/summary.hpp"

#include "base/polygon.hpp"
#include "papers/air.hpp"
#include "papers/compartments.hpp"
#include "papers/crew_steps.hpp"
#include "papers/marks.hpp"
#include "papers/plan_names.hpp"
#include "papers/text_table.hpp"
#include "papers/told_tests.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

namespace ridgeward::papers {

namespace {

constexpr double square_m2 = 100 * units::square_foot_m2;  // the trade's square of roofing

struct Writer {
  const Assessment& a;
  units::Style style;
  std::size_t columns;
  std::string out{};

  std::string length(double m) const { return units::show(m, style); }
  std::string dash_or(double m) const { return m > 1e-9 ? length(m) : "-"; }
  std::string area(double m2) const { return units::show_area(m2, style); }
  std::string opening(double m2) const { return units::show_free_area(m2, style); }
  void heading(const char* text) { out += fmt::format("\n{}\n", text); }
  /// Spaced as it is where it fits, wrapped where it doesn't.
  void entry(const std::string& text) {
    out += width_of(text) <= columns ? text + "\n" : wrap(text, 2, columns);
  }
  void wrapped(const std::string& text, std::size_t indent) { out += wrap(text, indent, columns); }

  void title();
  void planes();
  void hidden_decks();
  void intake();
  void slot(const vents::Slot& s);
  void exhaust();
  void compartments();
  void findings();
  void order();
  void bought(const takeoff::Purchase& one);
  void closing();
};

const char* compass(double azimuth_rad) {
  static const std::array<const char*, 8> names{"N", "NE", "E", "SE", "S", "SW", "W", "NW"};
  const auto eighth = static_cast<std::size_t>(std::lround(azimuth_rad / (M_PI / 4)));
  return names[eighth % 8];
}

void Writer::title() {
  const std::string name = a.model.name.empty() ? "Unnamed roof" : a.model.name;
  wrapped(name, 0);
  wrapped(a.code.name, 0);
  const takeoff::Lengths& t = a.takeoff.totals;
  wrapped(fmt::format("{} planes, roof area {} ({:.2f} squares), plan area {} with overhangs",
                      a.surface.planes.size(), area(t.area_m2), t.area_m2 / square_m2,
                      area(t.plan_area_m2)),
          0);
}

void Writer::planes() {
  heading("PLANES AND LINES (true lengths)");
  Table table(
      {"plane", "faces", "pitch", "area", "eave", "rake", "ridge", "hip", "valley", "wall"});
  const auto row = [&](const std::string& name, const std::string& faces, const std::string& pitch,
                       const takeoff::Lengths& l) {
    table.add({name, faces, pitch, area(l.area_m2), dash_or(l.eave_m), dash_or(l.rake_m),
               dash_or(l.ridge_m), dash_or(l.hip_m), dash_or(l.valley_m), dash_or(l.wall_m)});
  };
  for (const PlaneId id : a.surface.planes.ids()) {
    const surface::Plane& p = a.surface.planes[id];
    const bool is_flat = p.pitch.tangent() == 0.0;
    row(p.id, is_flat ? "-" : compass(p.azimuth_rad), units::show_pitch(p.pitch, style),
        a.takeoff.planes[id]);
  }
  row("all", "", "", a.takeoff.totals);
  out += table.text(2, 2, columns);
  wrapped("Ridges, hips and valleys stand with both of their planes and once in \"all\".", 2);
  hidden_decks();
}

/// Crickets, and the deck that goes on beneath them and beneath overlaid parts.
void Writer::hidden_decks() {
  for (const surface::Plane& p : a.surface.planes) {
    if (!p.cricket.empty()) {
      entry(fmt::format("  {}: one side of the cricket behind \"{}\".", p.id, p.cricket));
    }
  }
  for (const surface::BlindDeck& deck : a.surface.blind_decks) {
    const std::string plane =
        deck.plane.is_none() ? "an earlier plane" : "plane " + a.surface.planes[deck.plane].id;
    const double cut_m2 = polygon::area(deck.openings_uv);
    entry(fmt::format("  Blind deck: {} of {} lies under {}{}.", area(deck.area_m2), plane,
                      deck.cricket.empty() ? "part " + a.model.parts[deck.part].id : "the cricket",
                      cut_m2 > 0.0 ? ", " + area(cut_m2) + " of it cut away" : std::string()));
  }
}

/// "b6-b15 1' 2 1/2\" each": neighbours that open alike are told together.
std::string bays_in_words(const Writer& w, const vents::Slot& s) {
  struct Group {
    std::string first;
    std::string last;
    std::string open;
    bool live;
    std::size_t count;
  };
  std::vector<Group> groups;
  for (const vents::SlotBay& b : s.bays) {
    if (!is_shown(b)) {
      continue;
    }
    const std::string& id = w.a.framing.bays[b.bay].id;
    const std::string name = id.substr(id.rfind('/') + 1);
    const std::string open = w.length(b.open_length_m);
    if (!groups.empty() && groups.back().open == open && groups.back().live == b.live) {
      groups.back().last = name;
      ++groups.back().count;
    } else {
      groups.push_back({name, name, open, b.live, 1});
    }
  }
  std::string text;
  for (const Group& g : groups) {
    text += fmt::format("{}{}{} {}{}{}", text.empty() ? "" : ", ", g.first,
                        g.count > 1 ? "-" + g.last : "", g.open, g.count > 1 ? " each" : "",
                        g.live ? "" : " (not live)");
  }
  return text;
}

void Writer::slot(const vents::Slot& s) {
  double open = 0.0;
  std::size_t live = 0;
  std::size_t bays = 0;
  for (const vents::SlotBay& b : s.bays) {
    open += b.open_length_m;
    bays += is_shown(b) ? 1 : 0;
    live += is_shown(b) && b.live ? 1 : 0;
  }
  const std::string plane = a.surface.planes[s.plane].id;
  const SlotMarks marks = marks_of(a, s);
  entry(fmt::format("  {:<10} {}, plane {}: free area {}", s.id, s.product, plane,
                    opening(s.free_area_m2)));
  const std::string across =
      marks.soffit ? fmt::format("cut level in the soffit, {} from the eave's outer edge, {} wide",
                                 length(marks.soffit->from_edge_m), length(marks.soffit->wide_m))
                   : fmt::format("its lower line {} up the slope from the drip edge, {} wide",
                                 length(s.lower_line_m), length(s.width_m));
  wrapped(fmt::format("slot {} long, from {} to {} along the eave from its left end ({}); {}",
                      length(s.end_m - s.start_m), mark_words(marks.start_from_left_m, style),
                      length(marks.end_from_left_m), marks.left_hook, across),
          13);
  wrapped(fmt::format("opens onto {}, {} live, {} clear between {}: {}",
                      counted(bays, "bay", "bays"), live, length(open),
                      counted(s.crossings.size(), "rafter", "rafters"), bays_in_words(*this, s)),
          13);
}

void Writer::intake() {
  heading("INTAKE SLOTS");
  if (a.vents.slots.empty()) {
    out += "  none\n";
  }
  for (const vents::Slot& s : a.vents.slots) {
    slot(s);
  }
}

void Writer::exhaust() {
  heading("EXHAUST");
  if (a.vents.exhausts.empty()) {
    out += "  none\n";
  }
  for (const vents::Exhaust& e : a.vents.exhausts) {
    const std::string place = !e.line.is_none()   ? fmt::format("{} along {}", length(e.length_m),
                                                                a.surface.lines[e.line].id)
                              : e.plane.is_none() ? "in gable wall " + e.wall
                                                  : "on plane " + a.surface.planes[e.plane].id;
    entry(fmt::format("  {:<10} {}, {}: free area {}", e.id, e.product, place,
                      opening(e.free_area_m2)));
  }
}

void Writer::compartments() {
  heading("COMPARTMENTS");
  out += compartments_text(a, style, columns);
}

/// Pieces of one product, and how many of them are cut.
struct Cuts {
  std::size_t pieces = 0;
  std::size_t cut = 0;
  std::size_t mitres = 0;
};

Cuts cuts_of(const takeoff::Takeoff& all, const std::string& product) {
  using takeoff::CutKind;
  Cuts cuts;
  for (const takeoff::SectionRun& run : all.sections) {
    if (run.product != product) {
      continue;
    }
    for (const takeoff::Piece& piece : run.pieces) {
      const bool is_whole =
          piece.left.kind == CutKind::factory && piece.right.kind == CutKind::factory;
      const bool has_mitre =
          piece.left.kind == CutKind::mitre || piece.right.kind == CutKind::mitre;
      ++cuts.pieces;
      cuts.cut += is_whole ? 0 : 1;
      cuts.mitres += has_mitre ? 1 : 0;
    }
  }
  return cuts;
}

void Writer::bought(const takeoff::Purchase& one) {
  const Cuts cuts = cuts_of(a.takeoff, one.product);
  const std::string mitres =
      cuts.mitres > 0 ? fmt::format(" ({} with mitres)", cuts.mitres) : std::string();
  entry(fmt::format(
      "  {}: {} sections of {}{}, {} laid in {} pieces, {} of them cut{}; {} left over",
      one.product, one.bought, length(one.section_m), one.is_least ? ", proven the fewest" : "",
      length(one.laid_m), cuts.pieces, cuts.cut, mitres, length(one.waste_m)));
}

/// What is bought and how it is cut, and how long the order is: the sheets have the rest.
void Writer::order() {
  if (a.takeoff.order.empty()) {
    return;
  }
  heading("ORDER AND CUTTING PLAN");
  for (const takeoff::Purchase& one : a.takeoff.purchases) {
    bought(one);
  }
  double shingles = 0.0;
  double covered_m2 = 0.0;
  double waste_m2 = 0.0;
  for (const takeoff::ShingledPlane& plane : a.takeoff.shingles) {
    shingles += plane.bought;
    covered_m2 += plane.laid_m2;
    waste_m2 += plane.waste_share * plane.laid_m2;
  }
  if (covered_m2 > 0.0) {
    entry(fmt::format("  shingles: {:.0f} for {}, {:.1f} % waste as they are laid", shingles,
                      area(covered_m2), 100.0 * waste_m2 / covered_m2));
  }
  const auto lines = a.takeoff.order.size();
  const auto without = static_cast<std::size_t>(a.takeoff.price.without_price);
  const std::string priced = without < lines
                                 ? fmt::format(", {:.2f} in prices of the model for {} of them",
                                               a.takeoff.price.sum, lines - without)
                                 : std::string();
  entry(fmt::format("  {} lines in the order{}; --pdf, --csv and --html list them", lines, priced));
}

void Writer::findings() {
  heading("FOUND");
  if (a.findings.empty()) {
    out += "  nothing in the way\n";
  }
  for (const conflicts::Finding& f : a.findings) {
    std::string text = fmt::format("{}: {}", conflicts::word(f.severity), f.message);
    if (!f.measured.empty() && !f.needed.empty()) {
      text += fmt::format(" Measured {}, needed {}.", f.measured, f.needed);
    }
    wrapped(text + " " + f.remedy, 2);
  }
}

void Writer::closing() {
  if (!a.assumptions.empty()) {
    heading("ASSUMED");
    for (const std::string& text : a.assumptions) {
      wrapped(text, 2);
    }
  }
  heading("CAUTIONS");
  for (const std::string& text : all_cautions(a)) {
    wrapped(text, 2);
  }
}

}  // namespace

const std::vector<std::string>& cautions() {
  static const std::string falls =
      "Protect against falls; wear eye, ear and hand protection. Set the saw to the deck's "
      "thickness and look for wiring and pipes beneath it first.";
  static const std::string old =
      "Old decks, shingles and insulation may hold lead, asbestos or mould: have them tested "
      "before "
      "cutting.";
  static const std::string reversed =
      "Blocked or reversed ventilation can cause mould and ice dams. Powered exhaust can draw "
      "combustion gases into the house.";
  static const std::string never =
      "Never cut a slot into an unvented or spray-foamed roof. Snow, high-wind and wildfire "
      "regions "
      "have rules of their own, such as ember-resistant openings.";
  static const std::string decide =
      "This is arithmetic on the model given, not an approval: the local code, the vent's own "
      "instructions and a licensed professional decide.";
  static const std::vector<std::string> all{falls, old, reversed, never, decide};
  return all;
}

std::string to_summary(const Assessment& assessment, units::Style style, std::size_t columns) {
  Writer writer{assessment, style, columns};
  writer.title();
  writer.planes();
  writer.intake();
  writer.exhaust();
  writer.compartments();
  writer.out += air_text(assessment, style, columns);
  writer.findings();
  writer.order();
  writer.closing();
  return writer.out;
}

}  // namespace ridgeward::papers

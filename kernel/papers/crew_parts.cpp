// What the pages of all runs have: what stands at their head, pieces, what lies beneath, warnings;
// and the order.
#include "attic/names.hpp"
#include "papers/crew_writer.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/plane_drawing.hpp"
#include "papers/ridge_drawing.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace ridgeward::papers {

namespace {

/// Told at the head of a page; the warnings have them all.
constexpr std::size_t most_errors_at_head = 3;
constexpr double short_share = 0.25;  // of a section: pieces that a crew would rather not lay
constexpr double head_mm = 24.0;      // heading, a line and the titles of a table
constexpr double row_mm = 5.0;
constexpr double pieces_head_mm = 50.0;  // heading, what it is, words of the drawing, titles
constexpr std::size_t most_pieces_kept = 16;
constexpr std::size_t most_rows_kept = 8;

/// The run that a section is ordered with: the first to take a piece of it.
std::string run_that_opens(const Assessment& a, const std::string& product, int section) {
  for (const takeoff::SectionRun& strip : a.takeoff.sections) {
    const bool has_piece =
        std::any_of(strip.pieces.begin(), strip.pieces.end(),
                    [&](const takeoff::Piece& piece) { return piece.section == section; });
    if (strip.product == product && has_piece) {
      return strip.run;
    }
  }
  return "";
}

/// An item of the order all together, and where it is for several runs or vents, of each.
void add_item(const std::vector<takeoff::OrderLine>& order, const takeoff::OrderLine& all,
              units::Style style, std::vector<std::vector<std::string>>& rows) {
  std::vector<takeoff::OrderLine> each;
  for (const takeoff::OrderLine& line : order) {
    if (line.item != all.item) {
      continue;
    }
    const auto same = std::find_if(each.begin(), each.end(), [&](const takeoff::OrderLine& one) {
      return one.for_what == line.for_what;
    });
    if (same == each.end()) {
      each.push_back(line);
    } else {
      same->quantity += line.quantity;
    }
  }
  rows.push_back({item_words(all.item, style), quantity_words(all, style),
                  each.size() == 1 ? each.front().for_what : "all together"});
  for (const takeoff::OrderLine& line : each) {
    if (each.size() > 1) {
      rows.push_back({"", quantity_words(line, style), line.for_what});
    }
  }
}

}  // namespace

void CrewSheet::not_ready(const std::vector<SlotId>& slots, const std::vector<ExhaustId>& vents) {
  std::size_t errors = 0;
  for (const std::size_t i : findings_about(a_, slots, vents)) {
    if (a_.findings[i].severity == conflicts::Severity::error) {
      ++errors;
      if (errors <= most_errors_at_head) {
        sheet_.paragraph("NOT READY TO CUT: " + a_.findings[i].message, 0.0, true);
      }
    }
  }
  if (errors > most_errors_at_head) {
    sheet_.paragraph(
        fmt::format("And {} more errors, under Warnings.", errors - most_errors_at_head), 0.0,
        true);
  }
  sheet_.paragraph(
      "Before you cut: guard against falls, look for wiring beneath, have old material tested for "
      "asbestos and lead.");
}

std::string CrewSheet::sides_words(PlaneId id) const {
  const surface::Plane& own = plane(id);
  return fmt::format(
      "Plane {} flat, pitch {}, facing {}. LEFT and RIGHT: you stand outside and face the roof.",
      own.id, units::show_pitch(own.pitch, style_),
      compass_words(a_, glm::dvec2(own.frame.at({0.0, -1.0}) - own.frame.at({0.0, 0.0}))));
}

void CrewSheet::numbered(const std::vector<std::string>& steps) {
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (i + 2 == steps.size()) {
      // The last one never stands alone on a page.
      sheet_.keep(sheet_.item_mm(steps[i]) + sheet_.item_mm(steps[i + 1]));
    }
    sheet_.item(fmt::format("{}", i + 1), steps[i]);
  }
}

void CrewSheet::pieces(const std::string& run, const std::string& product) {
  const model::Product* vent = a_.product(product);
  if (vent == nullptr) {
    return;
  }
  for (const takeoff::SectionRun& strip : a_.takeoff.sections) {
    if (strip.run != run) {
      continue;
    }
    const double drawn_mm = 30.0;
    const UsualScale scale = largest_fitting(plan_scales(style_), {strip.length_m, vent->depth_m},
                                             {sheet_.width_mm(), drawn_mm});
    // Drawing and table stay together; of a long one the first rows.
    sheet_.keep(pieces_head_mm + scale.mm_per_m * vent->depth_m +
                row_mm * static_cast<double>(std::min(strip.pieces.size(), most_pieces_kept)));
    sheet_.heading("Pieces over " + strip.over + " in laying order");
    sheet_.paragraph(fmt::format("{} ({}), {} deep; whole sections are {} long.", product,
                                 vent->what, length(vent->depth_m), length(vent->length_m)));
    const Frame frame{{sheet_.left_mm(), sheet_.y_mm() + 2.0}, {sheet_.width_mm(), drawn_mm}};
    sheet_.space(draw_pieces(strip, vent->depth_m, frame, style_, sheet_.page()));
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < strip.pieces.size(); ++i) {
      const takeoff::Piece& piece = strip.pieces[i];
      rows.push_back({fmt::format("{}", i + 1), length(piece.lower_edge_m),
                      length(piece.upper_edge_m), end_words(piece.left, style_),
                      end_words(piece.right, style_), fmt::format("{}", piece.section)});
    }
    sheet_.table({{"piece", 0.7},
                  {"lower edge", 1.1, true},
                  {"upper edge", 1.1, true},
                  {"left end", 1.8},
                  {"right end", 1.8},
                  {"of section", 1.0, true}},
                 rows);
    const auto shortest = std::min_element(
        strip.pieces.begin(), strip.pieces.end(),
        [](const auto& one, const auto& other) { return one.length_m < other.length_m; });
    const bool is_split = static_cast<double>(strip.pieces.size()) >
                          std::ceil(strip.length_m / vent->length_m - 1e-6);
    if (is_split && shortest->length_m < short_share * vent->length_m) {
      sheet_.paragraph(
          "Short pieces are what other sections leave over: so no section more has to be bought. "
          "Where you would rather not lay them, take one section more.");
    }
  }
  borrowed(run, product);
}

/// Where the sections come from that this run does not open itself.
void CrewSheet::borrowed(const std::string& run, const std::string& product) {
  for (const takeoff::SectionRun& strip : a_.takeoff.sections) {
    for (std::size_t i = 0; strip.run == run && i < strip.pieces.size(); ++i) {
      const int section = strip.pieces[i].section;
      const std::string opens = run_that_opens(a_, product, section);
      if (opens != run) {
        sheet_.paragraph(fmt::format(
            "Piece {} over {} comes from section {}, which is ordered with {} and cut there: keep "
            "what is left of it.",
            i + 1, strip.over, section, opens));
      }
    }
  }
}

/// Slot, bays, clear, state, where the air goes. Neighbours of one slot that open alike are told
/// together.
std::vector<std::vector<std::string>> CrewSheet::rows_beneath(const Run& run) const {
  std::vector<std::vector<std::string>> rows;
  for (const SlotId id : run.slots) {
    const vents::Slot& slot = a_.vents.slots[id];
    for (const vents::SlotBay& under : slot.bays) {
      if (!is_shown(under)) {
        continue;
      }
      const framing::Bay& bay = a_.framing.bays[under.bay];
      const char* live = is_mere_gap(bay) ? "gap" : "live";
      const std::vector<std::string> row{slot.id, short_name(bay.id), length(under.open_length_m),
                                         under.live ? live : "DEAD", way_words(a_, under)};
      const bool is_alike = !rows.empty() && rows.back()[0] == row[0] &&
                            std::equal(row.begin() + 2, row.end(), rows.back().begin() + 2);
      if (is_alike) {
        std::string& names = rows.back()[1];
        names = fmt::format("{} to {}", names.substr(0, names.find(' ')), row[1]);
      } else {
        rows.push_back(row);
      }
    }
  }
  return rows;
}

void CrewSheet::beneath(const Run& run) {
  std::vector<std::vector<std::string>> rows = rows_beneath(run);
  double area = 0.0;
  std::string blocked;
  std::vector<BayId> shut;
  std::size_t count = 0;
  for (const SlotId id : run.slots) {
    const vents::Slot& slot = a_.vents.slots[id];
    area += slot.free_area_m2;
    if (slot.is_blocked) {
      ++count;
      blocked += (blocked.empty() ? "" : ", ") + slot.id;
      continue;
    }
    for (const vents::SlotBay& under : slot.bays) {
      if (under.block != vents::Block::none) {
        shut.push_back(under.bay);
      }
    }
  }
  // A short table stays with its heading.
  sheet_.keep(head_mm + row_mm * static_cast<double>(std::min(rows.size(), most_rows_kept)));
  sheet_.heading("What lies beneath");
  sheet_.paragraph("Free area that counts: " + opening(area) + ".");
  if (count > 0) {
    sheet_.paragraph(count == run.slots.size() ? "Blocked: nothing of it counts."
                                               : "Blocked: nothing counts of " + blocked + ".",
                     0.0, true);
  }
  if (!shut.empty()) {
    sheet_.paragraph("Blocked: nothing counts over " + attic::names_of_bays(a_.framing, shut) + ".",
                     0.0, true);
  }
  const bool has_gap =
      std::any_of(rows.begin(), rows.end(), [](const auto& row) { return row[3] == "gap"; });
  if (has_gap) {
    sheet_.paragraph(
        "A gap is what is left between a rafter and its neighbour or an edge: too narrow to count "
        "on for air. Its share of the free area is as small as it is.");
  }
  if (run.slots.size() > 1) {
    sheet_.table({{"slot", 1.1}, {"bays", 1.2}, {"clear", 1.0, true}, {"", 0.7}, {"opens to", 4.6}},
                 rows);
    return;
  }
  for (std::vector<std::string>& row : rows) {
    row.erase(row.begin());
  }
  sheet_.table({{"bays", 1.2}, {"clear", 1.0, true}, {"", 0.8}, {"opens to", 5.0}}, rows);
}

void CrewSheet::warnings(const std::vector<SlotId>& slots, const std::vector<ExhaustId>& vents) {
  const std::vector<std::size_t> findings = findings_about(a_, slots, vents);
  if (findings.empty()) {
    sheet_.space(2.0);
    sheet_.paragraph("Warnings: none for this run.");
    return;
  }
  sheet_.heading("Warnings");
  for (const std::size_t i : findings) {
    const conflicts::Finding& finding = a_.findings[i];
    const std::string figures =
        finding.measured.empty()
            ? ""
            : fmt::format("Measured {}, needed {}. ", finding.measured, finding.needed);
    sheet_.item("!", fmt::format("{}: {} {}{}", conflicts::word(finding.severity), finding.message,
                                 figures, finding.remedy));
  }
}

void CrewSheet::order() {
  open_page();
  std::vector<std::vector<std::string>> rows;
  const auto is_of_a_vent = [&](const std::string& name) {
    const auto has = [&](const auto& all) {
      return std::any_of(all.begin(), all.end(), [&](const auto& one) { return one.id == name; });
    };
    return has(a_.model.intake) || has(a_.model.exhaust) || a_.product(name) != nullptr;
  };
  std::vector<takeoff::OrderLine> own;
  std::copy_if(a_.takeoff.order.begin(), a_.takeoff.order.end(), std::back_inserter(own),
               [&](const takeoff::OrderLine& line) { return is_of_a_vent(line.for_what); });
  for (const takeoff::OrderLine& line : together_of(own)) {
    add_item(own, line, style_, rows);
  }
  if (rows.empty()) {
    sheet_.paragraph("Nothing: the model has no vents.");
    return;
  }
  sheet_.table({{"item", 2.0}, {"how much", 1.4, true}, {"for", 2.4}}, rows);
  sheet_.paragraph(
      "For the vents alone, net, without laps; the roofer's order stands on the estimator's "
      "sheet. What a vent's own instructions ask for to close its ends is not in it. " +
      nail_words(a_, style_));
}

std::vector<TapeHook> tape_hooks(const Assessment& assessment,
                                 const std::vector<ExhaustId>& vents) {
  std::vector<TapeHook> hooks;
  for (const ExhaustId id : vents) {
    const PlaceMarks marks = place_of(assessment, assessment.vents.exhausts[id]);
    const auto same = std::find_if(hooks.begin(), hooks.end(), [&](const TapeHook& hook) {
      return glm::length(hook.uv - marks.hook_uv) < 1e-6;
    });
    if (same == hooks.end()) {
      hooks.push_back({std::string(1, static_cast<char>('A' + hooks.size() % 26)),
                       marks.hook,
                       marks.line,
                       marks.hook_uv,
                       marks.is_up,
                       {id}});
    } else {
      same->vents.push_back(id);
    }
  }
  return hooks;
}

}  // namespace ridgeward::papers

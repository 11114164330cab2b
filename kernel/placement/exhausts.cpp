#include "base/polygon.hpp"
#include "placement/borders.hpp"
#include "placement/candidates.hpp"
#include "placement/cost.hpp"
#include "placement/lengths.hpp"
#include "vents/stage.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ridgeward::placement {

namespace {

/// Rows of vents on a plane are tried this far apart, from the top down.
constexpr double row_step_m = 6 * units::inch_m;
/// As far below the highest point as a row may lie where the code says nothing.
constexpr double usual_below_m = 3 * units::foot_m;
/// Between two vents in a row: room to flash and nail them; common practice, no source.
constexpr double between_m = 6 * units::inch_m;

double most_below_top_m(const codes::CodeSet& code) {
  double most = usual_below_m;
  for (const auto* rules : {&code.conditions, &code.rules}) {
    for (const codes::Rule& rule : *rules) {
      if (rule.measure == codes::Measure::exhaust_below_top_m && rule.bounds.most) {
        most = std::min(most, *rule.bounds.most);
      }
    }
  }
  return most;
}

std::vector<const model::Product*> products_of(const Ground& ground,
                                               bool (*is_wanted)(model::VentKind)) {
  std::vector<const model::Product*> all;
  for (const auto& [id, product] : ground.catalogue.products) {
    if (is_wanted(product.kind) && may_use(ground.model, ground.catalogue, product)) {
      all.push_back(&product);
    }
  }
  return all;
}

/// Places for vents in one row across a plane: the middle of each bay that is wide enough, as many
/// as stand clear of each other.
std::vector<glm::dvec2> row_of(const Ground& ground, PlaneId plane, const model::Product& product,
                               double v) {
  std::vector<glm::dvec2> row;
  const framing::PlaneFraming& own = ground.framing.planes[plane];
  for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
    for (const polygon::Chord& chord :
         polygon::chords_at({ground.framing.bays[BayId(i)].outline}, v)) {
      const double u = units::on_grid(0.5 * (chord.from + chord.to));
      if (chord.to - chord.from >= product.slot.width_m) {
        row.emplace_back(u, units::on_grid(v));
      }
    }
  }
  std::sort(row.begin(), row.end(), [](glm::dvec2 l, glm::dvec2 r) { return l.x < r.x; });
  std::vector<glm::dvec2> clear;
  for (const glm::dvec2 at : row) {
    if (clear.empty() || at.x - clear.back().x >= product.length_m + between_m) {
      clear.push_back(at);
    }
  }
  return clear;
}

/// Rows on a plane near enough to the top of the space beneath.
std::vector<std::vector<glm::dvec2>> rows_on(const Ground& ground, PlaneId id,
                                             const model::Product& product) {
  const surface::Plane& plane = ground.surface.planes[id];
  polygon::Loops border;
  polygon::Box box;
  for (const surface::Loop& loop : plane.loops) {
    border.push_back(surface::corners_uv(ground.surface, plane.frame, loop));
    for (const glm::dvec2 corner : border.back()) {
      box.add(corner);
    }
  }
  const double below_m = most_below_top_m(ground.code);
  std::vector<std::vector<glm::dvec2>> rows;
  const double top_v = box.high.y - std::max(product.slot.hold_back_m, 0.5 * product.slot.width_m);
  const auto steps = static_cast<int>(std::ceil(std::max(0.0, top_v - box.low.y) / row_step_m));
  for (int step = 0; step < steps; ++step) {
    const double v = top_v - step * row_step_m;
    std::vector<glm::dvec2> row = row_of(ground, id, product, v);
    std::erase_if(row, [&](glm::dvec2 at) {
      const glm::dvec3 p = plane.frame.at(at);
      const CompartmentId under = ground.attic.under({p.x, p.y});
      return !polygon::contains(border, at) || under.is_none() ||
             ground.attic.compartments[under].top_m - p.z > below_m;
    });
    if (row.empty() && plane.frame.at({0.0, box.high.y}).z - plane.frame.at({0.0, v}).z > below_m) {
      break;
    }
    if (!row.empty()) {
      rows.push_back(std::move(row));
    }
  }
  return rows;
}

/// Raw vents of the survey, one exhaust each, with the row that each belongs to.
struct Survey {
  std::vector<model::ExhaustVent> vents;
  std::vector<std::size_t> row;  ///< by vent
  std::size_t rows = 0;

  model::ExhaustVent& add(const std::string& product, std::size_t of_row) {
    model::ExhaustVent vent;
    vent.id = "x" + std::to_string(vents.size());
    vent.product = product;
    vents.push_back(vent);
    row.push_back(of_row);
    return vents.back();
  }
};

void survey_plane(const Ground& ground, PlaneId plane, const model::Product& product,
                  Survey& survey) {
  for (const std::vector<glm::dvec2>& row : rows_on(ground, plane, product)) {
    for (const glm::dvec2 at : row) {
      model::ExhaustVent& vent = survey.add(product.id, survey.rows);
      vent.plane = ground.surface.planes[plane].id;
      vent.at = at;
    }
    ++survey.rows;
  }
}

void survey_planes(const Ground& ground, Survey& survey) {
  for (const model::Product* product : products_of(ground, model::stands_on_plane)) {
    for (const PlaneId plane : ground.surface.planes.ids()) {
      if (ground.surface.planes[plane].cricket.empty()) {
        survey_plane(ground, plane, *product, survey);
      }
    }
  }
}

void survey_wall(const Ground& ground, const std::string& wall, const model::Product& product,
                 Survey& survey) {
  if (const auto at = vents::highest_louvre_place(ground.model, ground.surface, wall, product)) {
    model::ExhaustVent& vent = survey.add(product.id, survey.rows++);
    vent.wall = wall;
    vent.at = {units::on_grid(at->x), units::on_grid(at->y)};
  }
}

void survey_walls(const Ground& ground, Survey& survey) {
  const auto is_louvre = [](model::VentKind kind) { return kind == model::VentKind::gable_louvre; };
  for (const model::Product* product : products_of(ground, is_louvre)) {
    for (const model::Part& part : ground.model.parts) {
      for (std::size_t edge = 0; edge < part.edge_count(); ++edge) {
        survey_wall(ground, part.id + "/" + std::to_string(edge), *product, survey);
      }
    }
  }
}

/// What each exhaust of a trial draws: true for errors, and the warnings.
struct Verdict {
  bool is_bad = false;
  int warnings = 0;
  std::string warning;
};

std::vector<Verdict> verdicts(const Trial& trial) {
  std::vector<Verdict> all(trial.vents.exhausts.size());
  for (const conflicts::Finding& finding : trial.findings) {
    if (finding.exhaust.is_none() || finding.severity == conflicts::Severity::note) {
      continue;
    }
    Verdict& own = all[finding.exhaust.value];
    own.is_bad = own.is_bad || finding.severity == conflicts::Severity::error;
    own.warnings += 1;
    const vents::Exhaust& exhaust = trial.vents.exhausts[finding.exhaust];
    own.warning = own.warning.empty() ? by_product(finding.message, exhaust.id, exhaust.product)
                                      : own.warning;
  }
  return all;
}

/// What an exhaust gives each compartment that it serves.
std::vector<Share> shares_of(const vents::Exhaust& exhaust) {
  if (exhaust.shares.empty()) {
    return {{exhaust.compartment, exhaust.free_area_m2, std::min(exhaust.from.z, exhaust.to.z)}};
  }
  std::map<std::uint32_t, Share> over;
  for (const vents::ExhaustShare& share : exhaust.shares) {
    Share& own = over.try_emplace(share.compartment.value, Share{share.compartment, 0.0, HUGE_VAL})
                     .first->second;
    own.area_m2 += share.free_area_m2;
    own.low_m = std::min(own.low_m, share.low_m);
  }
  std::vector<Share> shares;
  shares.reserve(over.size());
  for (const auto& [compartment, share] : over) {
    shares.push_back(share);
  }
  return shares;
}

Candidate candidate_for(const Ground& ground, const vents::Exhaust& exhaust,
                        const model::ExhaustVent& vent) {
  Candidate candidate;
  candidate.product = exhaust.product;
  candidate.kind = exhaust.kind;
  candidate.vents = {vent};
  candidate.shares = shares_of(exhaust);
  candidate.length_m = exhaust.length_m;
  candidate.low_m = HUGE_VAL;
  for (const Share& share : candidate.shares) {
    candidate.low_m = std::min(candidate.low_m, share.low_m);
  }
  const model::Product& product = ground.catalogue.products.at(exhaust.product);
  candidate.cost = cost_of(ground.model, product, exhaust.length_m,
                           is_whole(exhaust.length_m, product.length_m) ? 0 : 1);
  return candidate;
}

/// Of the rows on one plane over one compartment the one with the most good places is kept, the
/// highest of those with equally many.
void add_pieces(const Ground& ground, Candidates& all) {
  Survey survey;
  survey_planes(ground, survey);
  survey_walls(ground, survey);
  const Trial trial = tried(ground, {}, survey.vents);
  const std::vector<Verdict> judged = verdicts(trial);
  struct Row {
    std::vector<std::size_t> good;  ///< exhausts
  };
  using Place = std::tuple<std::string, std::string, std::uint32_t>;
  std::map<Place, std::map<std::size_t, Row>> rows;
  for (const ExhaustId id : trial.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = trial.vents.exhausts[id];
    const std::size_t number = std::stoul(exhaust.vent.substr(1));
    const Verdict& own = judged[id.value];
    if (!own.is_bad && own.warnings == 0 && vents::serves_any(exhaust)) {
      const model::ExhaustVent& vent = survey.vents[number];
      const std::string& place = vent.wall.empty() ? vent.plane : vent.wall;
      rows[{exhaust.product, place, shares_of(exhaust).front().compartment.value}]
          [survey.row[number]]
              .good.push_back(id.value);
    }
  }
  for (const auto& [place, by_row] : rows) {
    const auto best = std::max_element(
        by_row.begin(), by_row.end(),
        [](const auto& l, const auto& r) { return l.second.good.size() < r.second.good.size(); });
    Candidate candidate;
    for (const std::size_t index : best->second.good) {
      const vents::Exhaust& exhaust = trial.vents.exhausts[ExhaustId(index)];
      const model::ExhaustVent& vent = survey.vents[std::stoul(exhaust.vent.substr(1))];
      if (candidate.vents.empty()) {
        candidate = candidate_for(ground, exhaust, vent);
      } else {
        candidate.vents.push_back(vent);
      }
    }
    all.all.push_back(std::move(candidate));
  }
}

/// Whole lines, to learn what is left of each between hold-backs, obstacles and compartments.
std::vector<model::ExhaustVent> whole_lines(const Ground& ground) {
  std::vector<model::ExhaustVent> vents;
  for (const model::Product* product : products_of(ground, model::runs_along)) {
    if (model::is_intake(product->kind)) {
      continue;
    }
    const surface::LineKind wanted = product->kind == model::VentKind::hip_vent
                                         ? surface::LineKind::hip
                                         : surface::LineKind::ridge;
    for (const surface::Line& line : ground.surface.lines) {
      if (line.kind == wanted && !line.left_plane().is_none() && !line.right_plane().is_none()) {
        model::ExhaustVent vent;
        vent.id = "w" + std::to_string(vents.size());
        vent.product = product->id;
        vent.line = line.id;
        vent.whole = true;
        vents.push_back(std::move(vent));
      }
    }
  }
  return vents;
}

/// Runs of vents along lines, and the stretch that each lies in.
struct LineRuns {
  std::vector<model::ExhaustVent> vents;
  std::vector<std::size_t> stretch_of;
};

/// What is left of a line for one product, from border to border.
void add_runs(const Ground& ground, const Borders& borders, const vents::Exhaust& exhaust,
              const model::ExhaustVent& whole, std::pair<Candidates&, LineRuns&> into) {
  const model::Product& product = ground.catalogue.products.at(exhaust.product);
  const Rest rest = product.kind == model::VentKind::hip_vent ? Rest::at_end : Rest::in_middle;
  const std::vector<Piece> pieces = pieces_along(ground, exhaust);
  std::vector<Range> ranges = borders.ranges(pieces);
  if (pieces.empty()) {
    ranges.push_back({{exhaust.from_m, exhaust.to_m}, {}, true, {}, {}});
  }
  auto& [all, runs] = into;
  for (const Range& range : ranges) {
    all.stretches.push_back({false, {}, exhaust.line, range.span.from_m, range.span.to_m, 0});
    for (const Span& span : runs_in(range, product, rest, ground.model.unit)) {
      model::ExhaustVent run = whole;
      run.id = "x" + std::to_string(runs.vents.size());
      run.whole = false;
      run.from_m = span.from_m;
      run.to_m = span.to_m;
      runs.vents.push_back(std::move(run));
      runs.stretch_of.push_back(all.stretches.size() - 1);
    }
  }
}

void add_lines(const Ground& ground, Candidates& all) {
  const std::vector<model::ExhaustVent> whole = whole_lines(ground);
  const Trial survey = tried(ground, {}, whole);
  const Borders borders(ground);
  LineRuns runs;
  for (const vents::Exhaust& exhaust : survey.vents.exhausts) {
    if (vents::serves_any(exhaust)) {
      add_runs(ground, borders, exhaust, whole[std::stoul(exhaust.vent.substr(1))], {all, runs});
    }
  }
  const Trial trial = tried(ground, {}, runs.vents);
  const std::vector<Verdict> judged = verdicts(trial);
  std::map<std::string, int> pieces;
  for (const vents::Exhaust& exhaust : trial.vents.exhausts) {
    ++pieces[exhaust.vent];
  }
  for (const ExhaustId id : trial.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = trial.vents.exhausts[id];
    const std::size_t number = std::stoul(exhaust.vent.substr(1));
    if (judged[id.value].is_bad || !vents::serves_any(exhaust) || pieces[exhaust.vent] != 1 ||
        exhaust.free_area_m2 <= 0.0) {
      continue;
    }
    Candidate candidate = candidate_for(ground, exhaust, runs.vents[number]);
    candidate.warnings = judged[id.value].warnings;
    candidate.warning = judged[id.value].warning;
    candidate.stretch = runs.stretch_of[number];
    all.all.push_back(std::move(candidate));
  }
}

}  // namespace

void add_exhausts(const Ground& ground, Candidates& all) {
  add_lines(ground, all);
  add_pieces(ground, all);
}

}  // namespace ridgeward::placement

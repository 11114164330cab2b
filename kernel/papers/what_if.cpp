#include "papers/what_if.hpp"

#include "airflow/words.hpp"
#include "papers/lesson.hpp"
#include "papers/section_drawing.hpp"
#include "papers/told_tests.hpp"
#include "units/area.hpp"
#include "vents/stage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <optional>
#include <set>

namespace ridgeward::papers {

namespace {

constexpr double too_much = 1.5;  // exhaust over intake, at least
constexpr double drift_m = 0.05;  // insulation heaped this far past the deck
constexpr std::size_t most_findings = 4;

/// "calm winter night" at the start of a sentence.
std::string capitalised_name(std::string name) {
  if (!name.empty()) {
    name.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(name.front())));
  }
  return name;
}

class Meddler {
 public:
  Meddler(const Assessment& a, const model::Catalogue& catalogue)
      : a_(a), catalogue_(catalogue), space_(largest_compartment(a)) {}

  /// Makes the mistake; what it is in words, or none where the house has nothing for it.
  std::optional<WhatIf> make(Mistake mistake, Variant& variant) const;

 private:
  std::optional<WhatIf> bay(Variant& variant) const;
  std::optional<WhatIf> insulation(Variant& variant) const;
  std::optional<WhatIf> blocking(Variant& variant) const;
  std::optional<WhatIf> snow(Variant& variant) const;
  std::optional<WhatIf> exhaust(Variant& variant) const;
  std::optional<WhatIf> mixed(Variant& variant) const;
  const model::Product* second_kind() const;
  bool set_on(const model::Product& product, Variant& variant, std::string& plane) const;

  const Assessment& a_;
  const model::Catalogue& catalogue_;
  CompartmentId space_;
};

std::optional<WhatIf> Meddler::make(Mistake mistake, Variant& variant) const {
  switch (mistake) {
    case Mistake::bay:
      return bay(variant);
    case Mistake::insulation:
      return insulation(variant);
    case Mistake::blocking:
      return blocking(variant);
    case Mistake::snow:
      return snow(variant);
    case Mistake::exhaust:
      return exhaust(variant);
    case Mistake::mixed:
      return mixed(variant);
  }
  return std::nullopt;
}

/// The slot stays as it is cut; the bay under it leads nowhere.
std::optional<WhatIf> Meddler::bay(Variant& variant) const {
  const std::optional<SectionPlace> place = place_of_section(a_);
  if (!place) {
    return std::nullopt;
  }
  const vents::Slot& slot = a_.vents.slots[place->slot];
  const framing::Bay& bay = a_.framing.bays[place->bay];
  const surface::Plane& plane = a_.surface.planes[bay.plane];
  const double at_m = 0.5 * (bay.from_u_m + bay.to_u_m) - plane.wall_start_u_m;
  auto& measured = variant.model.parts[plane.part].framing.measured;
  auto edge = std::find_if(measured.begin(), measured.end(), [&](const model::MeasuredEdge& one) {
    return one.edge == static_cast<int>(plane.edge);
  });
  if (edge == measured.end()) {
    edge = measured.insert(measured.end(), {static_cast<int>(plane.edge), {}, {}});
  }
  edge->stopped_m.push_back(at_m);
  return WhatIf{
      Mistake::bay, "Block a bay",
      fmt::format("Bay {} is stopped up at its foot. Slot {} is cut as planned; over this "
                  "bay it counts for nothing.",
                  bay.id, slot.id)};
}

std::optional<WhatIf> Meddler::insulation(Variant& variant) const {
  double missing = -1.0;
  for (const vents::Slot& slot : a_.vents.slots) {
    const double slope = a_.surface.planes[slot.plane].pitch.radians();
    for (const vents::SlotBay& under : slot.bays) {
      if (under.live && under.space_over_insulation_m) {
        missing = std::max(missing, *under.space_over_insulation_m / std::cos(slope));
      }
    }
  }
  if (missing < 0.0 || variant.model.ceilings.empty()) {
    return std::nullopt;
  }
  for (model::Ceiling& ceiling : variant.model.ceilings) {
    ceiling.baffles = false;
    ceiling.insulation_m += missing + drift_m;
  }
  return WhatIf{Mistake::insulation, "Insulation over the intake",
                "Insulation is heaped up to the deck at the eaves and the baffles are left out."};
}

std::optional<WhatIf> Meddler::blocking(Variant& variant) const {
  bool changes = false;
  for (const vents::Slot& slot : a_.vents.slots) {
    const std::size_t part = a_.surface.planes[slot.plane].part;
    changes = changes || (slot.is_over_overhang && !slot.is_blocked &&
                          a_.model.parts[part].framing.blocking != model::Blocking::solid);
  }
  if (!changes) {
    return std::nullopt;
  }
  for (model::Part& part : variant.model.parts) {
    part.framing.blocking = model::Blocking::solid;
  }
  return WhatIf{Mistake::blocking, "Solid blocking on the plate",
                "Blocking of full depth stands between the rafters over every wall."};
}

std::optional<WhatIf> Meddler::snow(Variant& variant) const {
  if (variant.model.intake.empty()) {
    return std::nullopt;
  }
  variant.model.intake.clear();
  variant.model.site.snow = true;
  return WhatIf{Mistake::snow, "Snow over the intake",
                "Snow slides down and lies over the eaves: all intake is shut, the upper vents "
                "stay free."};
}

std::optional<WhatIf> Meddler::exhaust(Variant& variant) const {
  if (space_.is_none()) {
    return std::nullopt;
  }
  const vents::CompartmentTotals& totals = a_.vents.totals[space_];
  if (totals.exhaust_m2 <= 0.0 || totals.intake_m2 <= 0.0) {
    return std::nullopt;
  }
  const double times =
      std::max(2.0, std::ceil(too_much * totals.intake_m2 / totals.exhaust_m2 - 1e-9));
  std::set<std::string> products;
  for (const model::ExhaustVent& vent : a_.model.exhaust) {
    products.insert(vent.product);
  }
  for (const std::string& id : products) {
    model::Product& product = variant.catalogue.products.at(id);
    product.free_area_per_length_m *= times;
    product.free_area_each_m2 *= times;
    if (!model::stands_on_plane(product.kind)) {
      product.slot.width_m *= times;
    }
  }
  return WhatIf{Mistake::exhaust, "Too much exhaust",
                fmt::format("Every exhaust vent is {:.0f} times as open as planned.", times)};
}

/// A kind that is set on a plane and not yet there.
const model::Product* Meddler::second_kind() const {
  std::set<model::VentKind> there;
  for (const vents::Exhaust& exhaust : a_.vents.exhausts) {
    there.insert(exhaust.kind);
  }
  for (const model::VentKind kind :
       {model::VentKind::box_vent, model::VentKind::turbine, model::VentKind::powered}) {
    for (const auto& [id, product] : catalogue_.products) {
      if (product.kind == kind && !there.contains(kind)) {
        return &product;
      }
    }
  }
  return nullptr;
}

/// On the longest bay of the space that takes it, well below the ridge.
bool Meddler::set_on(const model::Product& product, Variant& variant, std::string& plane) const {
  std::vector<BayId> bays;
  for (const BayId id : a_.framing.bays.ids()) {
    if (a_.attic.bays.has(id) && a_.attic.bays[id].compartment == space_) {
      bays.push_back(id);
    }
  }
  std::stable_sort(bays.begin(), bays.end(), [&](BayId x, BayId y) {
    return a_.framing.bays[x].length_m > a_.framing.bays[y].length_m;
  });
  constexpr std::array<double, 3> heights{0.6, 0.45, 0.75};
  for (std::size_t i = 0; i < std::min<std::size_t>(bays.size(), 12); ++i) {
    const framing::Bay& bay = a_.framing.bays[bays[i]];
    for (const double height : heights) {
      model::RoofModel trial = a_.model;
      model::ExhaustVent vent;
      vent.id = "second-kind";
      vent.product = product.id;
      vent.plane = a_.surface.planes[bay.plane].id;
      vent.at = {(bay.from_u_m + bay.to_u_m) / 2, height * bay.length_m};
      trial.exhaust.push_back(vent);
      const auto set = vents::set_out(trial, catalogue_, a_.surface, a_.framing, a_.attic);
      if (set && vents::free_area_over_m2(*(set.value().exhausts.end() - 1), space_) > 0.0) {
        variant.model.exhaust.push_back(vent);
        plane = vent.plane;
        return true;
      }
    }
  }
  return false;
}

std::optional<WhatIf> Meddler::mixed(Variant& variant) const {
  const model::Product* product = second_kind();
  if (space_.is_none() || product == nullptr || a_.vents.totals[space_].exhaust_m2 <= 0.0) {
    return std::nullopt;
  }
  std::string plane;
  if (!set_on(*product, variant, plane)) {
    return std::nullopt;
  }
  std::string kind = model::word(product->kind);
  std::replace(kind.begin(), kind.end(), '_', ' ');
  return WhatIf{Mistake::mixed, "Mix two kinds of exhaust",
                fmt::format("A vent more, of another kind, over \"{}\": {} ({}) on plane {}.",
                            a_.attic.compartments[space_].id, product->id, kind, plane)};
}

constexpr std::array<Mistake, 6> all_mistakes{Mistake::bay,  Mistake::insulation, Mistake::blocking,
                                              Mistake::snow, Mistake::exhaust,    Mistake::mixed};

/// Live bays with an open slot over them.
std::set<BayId> fed_bays(const Assessment& a) {
  std::set<BayId> fed;
  for (const vents::Slot& slot : a.vents.slots) {
    for (const vents::SlotBay& bay : slot.bays) {
      if (bay.live && bay.free_area_m2 > 0.0 && !slot.is_blocked) {
        fed.insert(bay.bay);
      }
    }
  }
  return fed;
}

/// One house with and one without mistakes.
class Comparer {
 public:
  Comparer(const Assessment& before, const Assessment& after, units::Style style)
      : before_(before), after_(after), style_(style), space_(largest_compartment(before)) {}

  Outcome run() {
    areas();
    bays();
    findings();
    air();
    return std::move(outcome_);
  }

 private:
  template <class Of>
  void row(const std::string& what, Of of) {
    outcome_.changes.push_back({what, of(before_), of(after_)});
  }
  void areas();
  void bays();
  void findings();
  void air();
  void exhaust_as_intake();
  bool has_space(const Assessment& a) const {
    return !space_.is_none() && a.vents.totals.has(space_) &&
           a.attic.compartments[space_].id == before_.attic.compartments[space_].id;
  }

  const Assessment& before_;
  const Assessment& after_;
  units::Style style_;
  CompartmentId space_;
  Outcome outcome_;
};

void Comparer::areas() {
  if (!has_space(before_) || !has_space(after_)) {
    return;
  }
  const auto opening = [&](double m2) { return units::show_free_area(m2, style_); };
  row("Required",
      [&](const Assessment& a) { return opening(a.tests.required[space_].required_m2); });
  row("Intake", [&](const Assessment& a) { return opening(a.vents.totals[space_].intake_m2); });
  row("Exhaust", [&](const Assessment& a) { return opening(a.vents.totals[space_].exhaust_m2); });
  row("Share of intake", [&](const Assessment& a) {
    return fmt::format("{:.0f} %", 100 * a.vents.totals[space_].intake_share());
  });
}

void Comparer::bays() {
  row("Bays that a slot feeds",
      [](const Assessment& a) { return fmt::format("{}", fed_bays(a).size()); });
}

void Comparer::findings() {
  for (const auto& [severity, what] :
       {std::pair{conflicts::Severity::error, "Conflicts that are errors"},
        std::pair{conflicts::Severity::warning, "Conflicts that are warnings"}}) {
    row(what, [severity = severity](const Assessment& a) {
      return fmt::format("{}", std::count_if(a.findings.begin(), a.findings.end(),
                                             [&](const conflicts::Finding& finding) {
                                               return finding.severity == severity;
                                             }));
    });
  }
  row("Failed tests of the code", [](const Assessment& a) {
    return fmt::format("{}", std::count_if(a.tests.tests.begin(), a.tests.tests.end(),
                                           [](const codes::Test& test) { return test.fails(); }));
  });
  std::vector<const conflicts::Finding*> fresh;
  for (const conflicts::Finding& finding : after_.findings) {
    const bool was_there = std::any_of(
        before_.findings.begin(), before_.findings.end(), [&](const conflicts::Finding& one) {
          return one.kind == finding.kind && one.message == finding.message;
        });
    if (!was_there) {
      fresh.push_back(&finding);
    }
  }
  std::stable_sort(fresh.begin(), fresh.end(),
                   [](const conflicts::Finding* x, const conflicts::Finding* y) {
                     return x->severity > y->severity;
                   });
  for (std::size_t i = 0; i < std::min(most_findings, fresh.size()); ++i) {
    outcome_.says.push_back({fresh[i]->message, fresh[i]->severity});
  }
  if (fresh.size() > most_findings) {
    outcome_.says.push_back({fmt::format("And {}.", counted(fresh.size() - most_findings,
                                                            "more finding", "more findings")),
                             fresh[most_findings]->severity});
  }
}

void Comparer::air() {
  if (!has_space(before_) || !has_space(after_)) {
    return;
  }
  for (const airflow::CaseKind kind : {airflow::CaseKind::winter, airflow::CaseKind::summer}) {
    const airflow::CaseAir* was = before_.airflow.first(kind);
    const airflow::CaseAir* now = after_.airflow.first(kind);
    if (was == nullptr || now == nullptr) {
      continue;
    }
    const std::string name = kind == airflow::CaseKind::winter ? "winter" : "summer";
    const airflow::SpaceAir& then = was->spaces[space_];
    const airflow::SpaceAir& here = now->spaces[space_];
    outcome_.changes.push_back({"Air changes an hour, " + name,
                                fmt::format("{:.1f}", then.air_changes_per_h),
                                fmt::format("{:.1f}", here.air_changes_per_h)});
    outcome_.changes.push_back({"Air from the rooms, " + name,
                                fmt::format("{:.0f} %", 100 * then.house_share),
                                fmt::format("{:.0f} %", 100 * here.house_share)});
    outcome_.changes.push_back({"Under the roof, " + name,
                                airflow::temperature_words(then.air_c, style_),
                                airflow::temperature_words(here.air_c, style_)});
    if (here.house_share > then.house_share + 0.01) {
      outcome_.says.push_back({fmt::format(
          "{}: what the intake no longer brings comes up from the rooms, {:.0f} % of the air "
          "instead of {:.0f} %, and brings their damp and heat with it.",
          capitalised_name(now->conditions.name), 100 * here.house_share, 100 * then.house_share)});
    }
  }
  exhaust_as_intake();
}

/// The weather in which most comes in through what should let out.
void Comparer::exhaust_as_intake() {
  double most = 0.0;
  std::size_t at = 0;
  const std::size_t count = std::min(before_.airflow.cases.size(), after_.airflow.cases.size());
  for (std::size_t i = 0; i < count; ++i) {
    const double share = after_.airflow.cases[i].spaces[space_].exhaust_fed_share;
    if (share > most) {
      most = share;
      at = i;
    }
  }
  const airflow::CaseAir& now = after_.airflow.cases[at];
  const auto was = std::find_if(
      before_.airflow.cases.begin(), before_.airflow.cases.end(),
      [&](const airflow::CaseAir& one) { return one.conditions.name == now.conditions.name; });
  const double then =
      was == before_.airflow.cases.end() ? 0.0 : was->spaces[space_].exhaust_fed_share;
  if (most > then + 0.01) {
    outcome_.says.push_back(
        {fmt::format("{}: {:.0f} % of the air comes in through the exhaust vents, before {:.0f} %. "
                     "Rain and snow can come with it.",
                     capitalised_name(now.conditions.name), 100 * most, 100 * then)});
  }
}

}  // namespace

const char* word(Mistake mistake) {
  constexpr std::array<const char*, 6> words{"bay",  "insulation", "blocking",
                                             "snow", "exhaust",    "mixed"};
  return words[static_cast<std::size_t>(mistake)];
}

std::vector<WhatIf> what_ifs_of(const Assessment& assessment, const model::Catalogue& catalogue) {
  std::vector<WhatIf> all;
  const Meddler meddler(assessment, catalogue);
  for (const Mistake mistake : all_mistakes) {
    Variant variant{assessment.model, catalogue};
    if (auto what_if = meddler.make(mistake, variant)) {
      all.push_back(std::move(*what_if));
    }
  }
  return all;
}

Variant varied(const Assessment& assessment, const model::Catalogue& catalogue,
               const std::vector<Mistake>& mistakes) {
  const Meddler meddler(assessment, catalogue);
  Variant variant{assessment.model, catalogue};
  for (const Mistake mistake : all_mistakes) {
    if (std::find(mistakes.begin(), mistakes.end(), mistake) != mistakes.end()) {
      (void)meddler.make(mistake, variant);
    }
  }
  return variant;
}

Outcome compared(const Assessment& before, const Assessment& after, units::Style style) {
  return Comparer(before, after, style).run();
}

}  // namespace ridgeward::papers

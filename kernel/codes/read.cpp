// Reads code sets.
#include "codes/code_set.hpp"
#include "codes/keys.hpp"
#include "model/file_bytes.hpp"
#include "model/json_cursor.hpp"
#include "model/read_pieces.hpp"

#include <fmt/format.h>

namespace ridgeward::codes {

namespace {

using model::Cursor;
using model::take;

/// What the bounds of a measure are written in.
enum class BoundForm { share, length, slope, area_per_length, count };

BoundForm form_of(Measure measure) {
  switch (measure) {
    case Measure::exhaust_below_top_m:
    case Measure::exhaust_above_intake_m:
    case Measure::space_over_insulation_m:
    case Measure::span_m:
    case Measure::rafter_length_m:
      return BoundForm::length;
    case Measure::lowest_slope:
      return BoundForm::slope;
    case Measure::intake_per_eave_m:
    case Measure::exhaust_per_ridge_m:
      return BoundForm::area_per_length;
    case Measure::slope_directions:
      return BoundForm::count;
    case Measure::high_share_of_required:
    case Measure::low_share_of_required:
    case Measure::intake_height_share:
    case Measure::intake_share_of_total:
    case Measure::intake_share_of_slope:
    case Measure::exhaust_share_of_roof:
      return BoundForm::share;
  }
  return BoundForm::share;
}

std::optional<Measure> read_measure(const Cursor& cursor) {
  return cursor.required("give what is measured")
      .one_of<Measure>({{"high_share_of_required", Measure::high_share_of_required},
                        {"low_share_of_required", Measure::low_share_of_required},
                        {"exhaust_below_top", Measure::exhaust_below_top_m},
                        {"intake_height_share", Measure::intake_height_share},
                        {"exhaust_above_intake", Measure::exhaust_above_intake_m},
                        {"space_over_insulation", Measure::space_over_insulation_m},
                        {"intake_share_of_total", Measure::intake_share_of_total},
                        {"lowest_slope", Measure::lowest_slope},
                        {"intake_per_eave", Measure::intake_per_eave_m},
                        {"exhaust_per_ridge", Measure::exhaust_per_ridge_m},
                        {"intake_share_of_slope", Measure::intake_share_of_slope},
                        {"exhaust_share_of_roof", Measure::exhaust_share_of_roof},
                        {"span", Measure::span_m},
                        {"rafter_length", Measure::rafter_length_m},
                        {"slope_directions", Measure::slope_directions}});
}

std::optional<double> read_bound(const Cursor& cursor, BoundForm form) {
  constexpr double most_directions = 1000.0;
  switch (form) {
    case BoundForm::length:
      return cursor.length(model::any_length);
    case BoundForm::share:
      return cursor.share();
    case BoundForm::area_per_length:
      return cursor.area_per_length();
    case BoundForm::count:
      return cursor.number({0.0, most_directions});
    case BoundForm::slope:
      break;
  }
  const std::optional<units::Pitch> pitch = cursor.pitch();
  return pitch ? std::optional(pitch->tangent()) : std::nullopt;
}

/// `least` and `most` of a measure, at least one of them.
Bounds read_bounds(const Cursor& item, Measure measure) {
  const Cursor least = item.key("least");
  const Cursor most = item.key("most");
  if (!least.is_there() && !most.is_there()) {
    item.fault("field.missing", "this rule has no bound", R"(give "least", "most" or both)");
  }
  const BoundForm form = form_of(measure);
  const Bounds bounds{read_bound(least, form), read_bound(most, form)};
  if (bounds.least && bounds.most && *bounds.least > *bounds.most) {
    most.fault("field.range", "no measure lies over the least and under the most",
               "give a least that is less than the most");
  }
  return bounds;
}

void read_when(const Cursor& list, std::vector<When>& when) {
  if (!list.open_list()) {
    return;
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    Cursor item = list.item(i);
    if (!item.open_object(keys::when)) {
      continue;
    }
    if (const std::optional<Measure> measure = read_measure(item.key("measure"))) {
      when.push_back({*measure, read_bounds(item, *measure)});
    }
  }
}

Rule read_rule(const Cursor& item, std::string id) {
  Rule rule;
  rule.id = std::move(id);
  take(rule.section,
       item.key("section").required(R"(give the section, or "common practice")").text());
  take(rule.words, item.key("words").required("say the rule in plain words").text(2000));
  take(rule.from_memory, item.key("from_memory").boolean());
  take(rule.is_advice, item.key("is_advice").boolean());
  if (!take(rule.measure, read_measure(item.key("measure")))) {
    return rule;
  }
  rule.bounds = read_bounds(item, rule.measure);
  read_when(item.key("when"), rule.when);
  return rule;
}

void read_rules(const Cursor& list, std::vector<Rule>& rules, model::Ids& ids) {
  if (!list.open_list()) {
    return;
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    Cursor item = list.item(i);
    if (item.open_object(keys::rule)) {
      const Cursor id = item.key("id").required("give a stable word for this rule");
      rules.push_back(read_rule(item, ids.read(id, fmt::format("rule-{}", i + 1))));
    }
  }
}

void read_required(Cursor cursor, CodeSet& code) {
  code.ratio = 0.0;
  if (!cursor.open_object(keys::required)) {
    return;
  }
  take(code.ratio,
       cursor.key("ratio").required("give floor area over free area, 150").number({1.0, 1.0e6}));
  take(code.ratio_section, cursor.key("section").required("give the section").text());
  take(code.ratio_words, cursor.key("words").required("say it in plain words").text(2000));
}

void read_reduced(Cursor cursor, CodeSet& code, model::Ids& ids) {
  code.reduced_ratio = 0.0;
  if (!cursor.open_object(keys::reduced)) {
    return;
  }
  const Cursor ratio = cursor.key("ratio");
  take(code.reduced_ratio,
       ratio.required("give floor area over free area, 300").number({1.0, 1.0e6}));
  if (code.reduced_ratio != 0.0 && code.reduced_ratio <= code.ratio) {
    ratio.fault("field.range", "the reduced ratio asks for no less than the ordinary one",
                "give a ratio over the ordinary one");
  }
  take(code.reduced_section, cursor.key("section").required("give the section").text());
  take(code.reduced_words, cursor.key("words").required("say it in plain words").text(2000));
  take(code.reduced_needs_all, cursor.key("needs").one_of<bool>({{"all", true}, {"any", false}}));
  Cursor proviso = cursor.key("proviso");
  if (proviso.is_there() && proviso.open_object(keys::proviso)) {
    take(code.proviso_zones,
         proviso.key("zones").required("give the first figures of the zones: \"678\"").text(20));
    take(code.proviso_words, proviso.key("words").required("say what is asked for").text(2000));
  }
  const Cursor conditions = cursor.key("conditions").required("give the conditions");
  read_rules(conditions, code.conditions, ids);
}

void read_sections(Cursor cursor, CodeSet::Sections& sections) {
  if (!cursor.is_there() || !cursor.open_object(keys::sections)) {
    return;
  }
  take(sections.slope, cursor.key("slope").text());
  take(sections.ice_barrier, cursor.key("ice_barrier").text());
  take(sections.cricket, cursor.key("cricket").text());
  take(sections.beside_opening, cursor.key("beside_opening").text());
  take(sections.nails, cursor.key("nails").text());
}

void read_notes(const Cursor& list, CodeSet& code) {
  if (!list.open_list()) {
    return;
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (std::optional<std::string> note = list.item(i).text(2000)) {
      code.notes.push_back(std::move(*note));
    }
  }
}

}  // namespace

Result<CodeSet> read_code_set(std::string_view json) {
  model::Reading reading;
  reading.unit = units::LengthUnit::m;
  Result<model::Document> document = model::parse_json(json, reading.warnings);
  if (!document) {
    return document.faults();
  }
  Cursor root(document.value(), reading);
  CodeSet code;
  if (root.open_object(keys::code_set)) {
    model::read_version(root.key("ridgeward"));
    take(code.id, root.key("id").required("give the word that models use: \"us-irc-2021\"").id());
    take(code.name, root.key("name").required("give the name of the code").text());
    take(code.edition, root.key("edition").text());
    model::Ids ids;
    if (root.key("reduced").is_there()) {
      root.key("required")
          .required("give the required area: {\"ratio\": 150, \"section\": ..., \"words\": ...}");
    }
    read_required(root.key("required"), code);
    read_reduced(root.key("reduced"), code, ids);
    read_rules(root.key("rules"), code.rules, ids);
    read_sections(root.key("sections"), code.sections);
    read_notes(root.key("notes"), code);
  }
  if (!reading.faults.empty()) {
    return std::move(reading.faults);
  }
  code.warnings = std::move(reading.warnings);
  return code;
}

Result<CodeSet> read_code_set_file(const std::string& path) {
  const Result<std::string> bytes = model::file_bytes(path);
  return bytes ? read_code_set(bytes.value()) : Result<CodeSet>(bytes.faults());
}

}  // namespace ridgeward::codes

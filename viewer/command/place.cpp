// ridgeward place MODEL -o OUT
#include "model/read.hpp"
#include "papers/file.hpp"
#include "papers/summary.hpp"
#include "papers/text_table.hpp"
#include "placement/stage.hpp"
#include "units/area.hpp"
#include "units/length.hpp"

#include "command/commands.hpp"
#include "command/complain.hpp"
#include "command/load.hpp"
#include "command/outputs.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::command {

namespace {

struct Wish {
  std::string model;
  std::string output;
  LoadOptions load;
};

/// Whether the cost is the least, and if not how far from it.
std::string proof_in_words(const placement::Placed& placed) {
  if (placed.is_proven) {
    return "proven the least of runs in whole sections";
  }
  return placed.above < HUGE_VAL
             ? fmt::format(
                   "NOT proven the least: the search ended first. The least is at most "
                   "{:.2f} below",
                   placed.above)
             : "NOT proven the least: the search ended first";
}

std::string intake_in_words(const model::IntakeRun& run, units::Style style) {
  return fmt::format("  {:<6} {} on {}, {} position, from {} to {}\n", run.id, run.product,
                     run.plane, run.position == model::Position::upslope ? "upslope" : "eave",
                     units::show(run.from_m, style), units::show(run.to_m, style));
}

std::string exhaust_in_words(const model::ExhaustVent& vent, units::Style style) {
  const std::string& on = vent.wall.empty() ? vent.plane : vent.wall;
  return vent.line.empty()
             ? fmt::format("  {:<6} {} on {}, {} along, {} up\n", vent.id, vent.product, on,
                           units::show(vent.at.x, style), units::show(vent.at.y, style))
             : fmt::format("  {:<6} {} on {}, from {} to {}\n", vent.id, vent.product, vent.line,
                           units::show(vent.from_m, style), units::show(vent.to_m, style));
}

std::string counted(int count, const char* noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

/// What its spaces need and got by the assessment of the placed model, and whether the code holds.
std::string assessed_in_words(const placement::Placed& group, const Assessment& found,
                              units::Style style) {
  const auto area = [&](double area_m2) { return units::show_free_area(area_m2, style); };
  const std::set<std::string> ours(group.compartments.begin(), group.compartments.end());
  double required_m2 = 0.0;
  double placed_m2 = 0.0;
  int tests = 0;
  std::vector<std::string> failed;
  for (const CompartmentId id : found.attic.compartments.ids()) {
    if (ours.count(found.attic.compartments[id].id) == 0) {
      continue;
    }
    required_m2 += found.tests.required[id].required_m2;
    placed_m2 += found.vents.totals[id].intake_m2 + found.vents.totals[id].exhaust_m2;
    for (const codes::Test& test : found.tests.tests) {
      // A condition that is not met only takes the reduced area away.
      if (test.compartment != id || test.is_condition || !test.is_tested) {
        continue;
      }
      ++tests;
      if (!test.holds) {
        failed.push_back(test.section + (test.is_advice ? " (advice)" : ""));
      }
    }
  }
  std::string out =
      fmt::format("  free area needed {}, placed {}\n", area(required_m2), area(placed_m2));
  out += failed.empty()
             ? fmt::format("  the code by the assessment: {} hold\n",
                           tests == 1 ? "its one test" : fmt::format("all {} tests", tests))
             : fmt::format("  the code by the assessment: {} of {} FAIL: {}\n", failed.size(),
                           counted(tests, "test"), fmt::join(failed, ", "));
  return out;
}

/// What was chosen for one group and why, without its name; with what the assessment `found` where
/// there is one.
std::string group_in_words(const placement::Placed& placed, const Assessment* found,
                           units::Style style) {
  const auto area = [&](double area_m2) { return units::show_free_area(area_m2, style); };
  std::string out;
  if (placed.is_met) {
    const double both = placed.intake_m2 + placed.exhaust_m2;
    out += fmt::format("  {} of intake, {}; {} of {}, {}; intake {:.0f} % of both\n",
                       counted(placed.runs, "run"), area(placed.intake_m2), placed.exhausts,
                       placed.exhaust, area(placed.exhaust_m2),
                       both > 0.0 ? 100.0 * placed.intake_m2 / both : 0.0);
    out += fmt::format("  cost {:.2f}{}, {}\n", placed.cost,
                       placed.money > 0.0 ? " in money" : " in effort (1: a metre of vent laid)",
                       proof_in_words(placed));
    out += found != nullptr ? assessed_in_words(placed, *found, style) : std::string();
  } else {
    out += placed.is_proven ? "  no placement meets the code\n"
                            : "  no placement was found, and the search ended before it was known "
                              "that there is none\n";
  }
  for (const std::string& words : placed.exhaust_over) {
    out += "  exhaust: " + words + "\n";
  }
  for (const std::string& words : placed.traded) {
    out += "  traded: " + words + "\n";
  }
  for (const std::string& words : placed.in_the_way) {
    out += "  in the way: " + words + "\n";
  }
  return out;
}

/// Group by group; those of which nothing else is to be told than of another, with it.
std::string groups_in_words(const placement::Placement& placement, const Assessment* found,
                            units::Style style) {
  struct Told {
    std::string name;
    std::string words;
    std::size_t alike = 0;
  };
  std::vector<Told> all;
  for (const placement::Placed& placed : placement.groups) {
    std::string words = group_in_words(placed, found, style);
    const auto same = std::find_if(all.begin(), all.end(), [&](const Told& told) {
      return !placed.is_met && told.words == words;
    });
    if (same != all.end()) {
      ++same->alike;
    } else {
      all.push_back({placed.what, std::move(words)});
    }
  }
  std::string out;
  for (const Told& told : all) {
    out += told.name + (told.alike == 0 ? "" : fmt::format(", and {} more alike", told.alike)) +
           "\n" + told.words;
  }
  return out;
}

/// All of it, for a terminal.
std::string placement_in_words(const placement::Placement& placement, const Assessment* found,
                               units::Style style) {
  std::string out = groups_in_words(placement, found, style);
  for (const std::string& words : placement.said) {
    out += words + "\n";
  }
  if (!placement.is_met) {
    return out;
  }
  out += "Placed (from the left end of eave or ridge seen from outside, on hips from the foot):\n";
  for (const model::IntakeRun& run : placement.model.intake) {
    out += intake_in_words(run, style);
  }
  for (const model::ExhaustVent& vent : placement.model.exhaust) {
    out += exhaust_in_words(vent, style);
  }
  return out;
}

/// What the whole of the placed model is found to be, and what every paper of the program says.
std::string closing(const Assessment& found, const std::string& output) {
  std::string out = found.is_at_fault()
                        ? "The assessment finds something AT FAULT: see ridgeward assess\n"
                        : "The assessment finds nothing at fault.\n";
  out += output == "-" ? "" : "Written: " + output + "\n";
  out += "CAUTIONS\n";
  for (const std::string& words : papers::cautions()) {
    out += fmt::format("  {}\n", words);
  }
  return out;
}

/// Lines that are too long for the terminal are broken between words.
void print(const std::string& text, std::FILE* out) {
  const std::size_t columns = columns_of_output();
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    const std::size_t indent = std::min(line.find_first_not_of(' '), line.size());
    if (papers::width_of(line) > columns) {
      std::fputs(papers::wrap(line.substr(indent), indent, columns).c_str(), out);
    } else {
      std::fprintf(out, "%s\n", line.c_str());
    }
  }
}

/// What placing needs beside the wish.
struct Given {
  model::RoofModel model;
  model::Catalogue catalogue;
  codes::CodeSet code;
};

Result<Given> given(const Wish& wish) {
  if (Faults faults = misdirected(wish.model, {{"-o", wish.output, {".json"}}}); !faults.empty()) {
    return faults;
  }
  Result<model::ReadModel> read = load_model(wish.model);
  if (!read) {
    return read.faults();
  }
  warn(placed(wish.model, read.value().warnings));
  Result<model::Catalogue> catalogue = load_catalogue(wish.load);
  if (!catalogue) {
    return catalogue.faults();
  }
  Result<codes::CodeSet> code =
      load_code(read.value().model.site.code, wish.model + " at /site/code", wish.load);
  if (!code) {
    return code.faults();
  }
  return Given{std::move(read).value().model, std::move(catalogue).value(),
               std::move(code).value()};
}

/// Writes the placed model and tells of it. The exit status.
int finish(const Wish& wish, const Given& with, const placement::Placement& placement,
           units::Style style) {
  const Result<Assessment> found = assess(placement.model, with.catalogue, with.code);
  if (!found) {
    complain(placed(wish.model, found.faults()));
    return 2;
  }
  warn(placed(wish.model, unused_prices(found.value(), with.catalogue)));
  std::FILE* out = wish.output == "-" ? stderr : stdout;
  if (const auto written = papers::write_whole(wish.output, model::write(placement.model));
      !written) {
    complain(written.faults());
    return 2;
  }
  print(placement_in_words(placement, &found.value(), style) + closing(found.value(), wish.output),
        out);
  return found.value().is_at_fault() ? 1 : 0;
}

int run(const Wish& wish) {
  const Result<Given> with = given(wish);
  if (!with) {
    complain(with.faults());
    return 2;
  }
  const Given& all = with.value();
  const Result<placement::Placement> placement =
      placement::place(all.model, all.catalogue, all.code);
  if (!placement) {
    complain(placed(wish.model, placement.faults()));
    return 2;
  }
  const units::LengthUnit unit = all.model.unit;
  const bool is_metric = unit == units::LengthUnit::m || unit == units::LengthUnit::mm;
  const units::Style style = is_metric ? units::Style::metric : units::Style::feet_inches;
  if (placement.value().is_met) {
    return finish(wish, all, placement.value(), style);
  }
  print(placement_in_words(placement.value(), nullptr, style),
        wish.output == "-" ? stderr : stdout);
  std::fputs(
      "ridgeward: nothing is written: no placement meets the code and is free of conflicts\n",
      stderr);
  return 1;
}

}  // namespace

void add_place(CLI::App& app, int& exit_code) {
  const auto wish = std::make_shared<Wish>();
  CLI::App* call = app.add_subcommand(
      "place", "Put intake and exhaust where they serve best, at the least cost, and say why");
  call->add_option("MODEL", wish->model, "Model file (*.roof.json); never changed")->required();
  call->add_option("-o,--output", wish->output, "Model file to write, - for stdout")->required();
  call->add_option("--code", wish->load.code, "Code set: its id or a file");
  call->add_option("--catalogue", wish->load.catalogue, "Catalogue file");
  call->callback([wish, &exit_code] { exit_code = run(*wish); });
}

}  // namespace ridgeward::command

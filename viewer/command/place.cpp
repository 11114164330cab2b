// ridgeward place MODEL -o OUT
#include "model/read.hpp"
#include "papers/file.hpp"
#include "placement/stage.hpp"
#include "units/area.hpp"
#include "units/length.hpp"

#include "command/commands.hpp"
#include "command/complain.hpp"
#include "command/load.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <memory>
#include <string>

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

/// One group: what was chosen and why.
std::string group_in_words(const placement::Placed& placed, units::Style style) {
  const auto area = [&](double area_m2) { return units::show_free_area(area_m2, style); };
  std::string out = placed.what + "\n";
  if (placed.is_met) {
    const double both = placed.intake_m2 + placed.exhaust_m2;
    out += fmt::format("  {} run(s) of intake, {}; {} of {}, {}; intake {:.0f} % of both\n",
                       placed.runs, area(placed.intake_m2), placed.exhausts, placed.exhaust,
                       area(placed.exhaust_m2), both > 0.0 ? 100.0 * placed.intake_m2 / both : 0.0);
    out += fmt::format("  cost {:.2f}{}, {}\n", placed.cost,
                       placed.money > 0.0 ? " in money" : " in effort (1: a metre of vent laid)",
                       proof_in_words(placed));
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

/// All of it, for a terminal.
std::string placement_in_words(const placement::Placement& placement, units::Style style) {
  std::string out;
  for (const placement::Placed& placed : placement.groups) {
    out += group_in_words(placed, style);
  }
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

int run(const Wish& wish) {
  if (const Faults faults = would_replace(wish.model, wish.output); !faults.empty()) {
    complain(faults);
    return 2;
  }
  const Result<model::ReadModel> read = model::read_file(wish.model);
  if (!read) {
    complain(placed(wish.model, read.faults()));
    return 2;
  }
  warn(placed(wish.model, read.value().warnings));
  const Result<model::Catalogue> catalogue = load_catalogue(wish.load);
  const Result<codes::CodeSet> code =
      load_code(read.value().model.site.code, wish.model + " at /site/code", wish.load);
  if (!catalogue || !code) {
    complain(catalogue ? code.faults() : catalogue.faults());
    return 2;
  }
  const Result<placement::Placement> placement =
      placement::place(read.value().model, catalogue.value(), code.value());
  if (!placement) {
    complain(placed(wish.model, placement.faults()));
    return 2;
  }
  const units::LengthUnit unit = read.value().model.unit;
  const bool is_metric = unit == units::LengthUnit::m || unit == units::LengthUnit::mm;
  const std::string words = placement_in_words(
      placement.value(), is_metric ? units::Style::metric : units::Style::feet_inches);
  std::fputs(words.c_str(), wish.output == "-" ? stderr : stdout);
  if (!placement.value().is_met) {
    std::fputs(
        "ridgeward: nothing is written: no placement meets the code and is free of "
        "conflicts\n",
        stderr);
    return 1;
  }
  if (const auto written = papers::write_whole(wish.output, model::write(placement.value().model));
      !written) {
    complain(written.faults());
    return 2;
  }
  return 0;
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

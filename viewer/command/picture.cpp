#include "draw/picture.hpp"

#include "papers/file.hpp"

#include "command/commands.hpp"
#include "command/complain.hpp"
#include "command/load.hpp"
#include "command/outputs.hpp"
#include "scene/camera.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <memory>
#include <string>
#include <vector>

namespace ridgeward::command {
namespace {

struct Words {
  std::string model;
  std::string output;
  std::string size = "1280x800";
  std::string from;
  std::string show;
  std::string weather;
  std::string cut;
  std::string theme = "light";
  bool flat = false;
  bool peel = false;
  std::vector<double> sun;
  double scale = 0.0;
  bool has_ribbon = false;
  LoadOptions load;
};

/// One of the three numbers that tell where the sun stands.
struct SunNumber {
  const char* what;
  double least;
  double most;
  bool is_whole;
};

Faults faults_of_sun(const std::vector<double>& sun) {
  constexpr std::array<SunNumber, 3> numbers{{{"latitude", -90.0, 90.0, false},
                                              {"day of the year", 1.0, 366.0, true},
                                              {"solar hour", 0.0, 24.0, false}}};
  Faults faults;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const SunNumber& number = numbers[i];
    // Written so that what is no number is refused too.
    const bool is_within = sun[i] >= number.least && sun[i] <= number.most;
    if (!is_within || (number.is_whole && sun[i] != std::floor(sun[i]))) {
      faults.push_back({"sun.range", "--sun",
                        fmt::format("there is no {} {:g}", number.what, sun[i]),
                        fmt::format("give a {} from {:g} to {:g}{}", number.what, number.least,
                                    number.most, number.is_whole ? ", a whole number" : "")});
    }
  }
  return faults;
}

/// What was asked for, or all that is wrong with it.
Result<draw::PictureOrder> order_of(const Words& words) {
  draw::PictureOrder order;
  Faults faults;
  const auto gather = [&faults](const Faults& more) {
    faults.insert(faults.end(), more.begin(), more.end());
  };
  if (const auto size = draw::parse_size(words.size)) {
    order.width_px = size.value().width_px;
    order.height_px = size.value().height_px;
  } else {
    gather(size.faults());
  }
  if (!words.from.empty()) {
    order.from = words.from;
    if (const auto camera = scene::looking_from(words.from, 0.0); !camera) {
      gather(camera.faults());
    }
  }
  if (!words.show.empty()) {
    if (const auto layers = scene::parse_layers(words.show)) {
      order.layers = layers.value();
    } else {
      gather(layers.faults());
    }
  }
  if (!words.cut.empty()) {
    if (const auto cut = scene::parse_cut(words.cut)) {
      order.cut = cut.value();
      if (words.show.empty()) {
        order.layers.set(scene::Layer::ceiling, true);
        order.layers.set(scene::Layer::insulation, true);
      }
    } else {
      gather(cut.faults());
    }
  }
  if (!words.sun.empty()) {
    if (const Faults wrong = faults_of_sun(words.sun); wrong.empty()) {
      order.sun = {true, words.sun[0], static_cast<int>(words.sun[1]), words.sun[2]};
    } else {
      gather(wrong);
    }
  }
  order.is_flat = words.flat;
  order.is_peeled = words.peel;
  order.is_dark = words.theme == "dark";
  order.scale = words.scale;
  order.weather = words.weather;
  order.has_ribbon = words.has_ribbon;
  if (!faults.empty()) {
    return faults;
  }
  return order;
}

int take(const Words& words) {
  auto order = order_of(words);
  if (!order) {
    complain(order.faults());
    return 2;
  }
  if (const Faults faults = misdirected(words.model, {{"-o", words.output, {".png"}}});
      !faults.empty()) {
    complain(faults);
    return 2;
  }
  const auto assessment = load_and_assess(words.model, words.load);
  if (!assessment) {
    complain(assessment.faults());
    return 2;
  }
  order.value().style = units::style_of(assessment.value().model.unit);
  const auto image = draw::take_picture(assessment.value(), order.value());
  if (!image) {
    complain(image.faults());
    return image.faults().front().code == "picture.weather" ? 2 : 3;
  }
  const auto written = papers::write_whole(words.output, draw::to_png(image.value()));
  if (!written) {
    complain(written.faults());
    return 2;
  }
  return 0;
}

}  // namespace

void add_picture(CLI::App& app, int& exit_code) {
  auto words = std::make_shared<Words>();
  CLI::App* call = app.add_subcommand("picture", "Draw the roof without a window or a display");
  call->add_option("MODEL", words->model, "Model file (*.roof.json)")->required();
  call->add_option("-o,--output", words->output, "Picture to write (PNG)")->required();
  call->add_option("--size", words->size, "Width x height in pixels")->capture_default_str();
  call->add_option("--from", words->from,
                   "Look from north, north-east, east, south-east, south, south-west, west, "
                   "north-west, above or below; left out: where most is seen");
  call->add_option("--show", words->show,
                   "Layers, separated by commas (planes, lines, lengths, names, members, bays, "
                   "slots, exhaust, walls, obstacles, ceiling, insulation, compartments, "
                   "see-through, air, findings, totals, legend, all); "
                   "+word and -word change what is usual");
  call->add_flag("--flat", words->flat,
                 "To scale: an elevation from a compass direction, the plan from above");
  call->add_option("--cut", words->cut,
                   "Cut open: across, along or level, and where, as a share of the house "
                   "(across:0.3, level:60%)");
  call->add_flag("--peel", words->peel, "Take the deck off to show the framing");
  call->add_option(
          "--sun", words->sun,
          "Light from the sun: latitude (north positive, -90 to 90), day of the year (1 to "
          "366), solar hour (0 to 24); "
          "left out: over the shoulder")
      ->expected(3);
  call->add_option("--theme", words->theme, "light or dark")
      ->capture_default_str()
      ->check(CLI::IsMember({"light", "dark"}));
  call->add_option("--weather", words->weather,
                   "Of moving air (layer air): a case of the assessment by the start of its name; "
                   "left out: the calm summer noon");
  call->add_option("--units", words->load.units, "ft-in or metric; left out: as the model is drawn")
      ->check(CLI::IsMember({"ft-in", "metric"}));
  call->add_option("--scale", words->scale, "Of text and strokes; 0: by the picture's size")
      ->check(CLI::Range(0.0, 8.0));
  call->add_flag("--ribbon", words->has_ribbon, "The eaves unrolled along the foot, bay by bay");
  call->add_option("--code", words->load.code, "Code set: its id or a file");
  call->add_option("--catalogue", words->load.catalogue, "Catalogue file");
  call->callback([words, &exit_code] { exit_code = take(*words); });
}

}  // namespace ridgeward::command

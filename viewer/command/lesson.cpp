#include "papers/cairo.hpp"
#include "papers/file.hpp"
#include "papers/lesson_sheet.hpp"

#include "command/commands.hpp"
#include "command/complain.hpp"
#include "command/load.hpp"
#include "command/outputs.hpp"
#include "command/progress.hpp"
#include "draw/picture.hpp"
#include "draw/slides.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <csignal>
#include <filesystem>
#include <list>
#include <memory>
#include <string>

namespace ridgeward::command {
namespace {

struct Words {
  std::string model;
  std::string output;
  std::string size = "1280x800";
  std::string paper = "letter";
  bool tells = false;
  LoadOptions load;
};

/// Whether pictures are asked for: a folder is named, or what may become one.
bool is_folder(const std::string& output) {
  std::error_code error;
  return output != "-" &&
         (ending_of(output).empty() || std::filesystem::is_directory(output, error));
}

/// A mistake with the house that it makes.
struct Mistaken {
  papers::WhatIf what_if;
  Assessment house;
};

/// Each mistake by itself; those that can't be assessed are left out.
std::list<Mistaken> mistaken(const Assessment& own, const model::Catalogue& catalogue) {
  std::list<Mistaken> all;
  for (const papers::WhatIf& what_if : papers::what_ifs_of(own, catalogue)) {
    const papers::Variant variant = papers::varied(own, catalogue, {what_if.mistake});
    auto assessed = assess(variant.model, variant.catalogue, own.code);
    if (assessed) {
      all.push_back({what_if, std::move(assessed).value()});
    }
  }
  return all;
}

std::vector<draw::Slide> step_slides(const Assessment& own) {
  std::vector<draw::Slide> slides;
  for (std::size_t i = 0; i < papers::topic_count; ++i) {
    panels::LessonView at;
    at.step = i;
    slides.push_back({&own, at});
  }
  return slides;
}

Result<std::string> book(const Assessment& own, const std::list<Mistaken>& mistakes,
                         draw::SlideOrder order, papers::Paper paper, Progress& progress) {
  order.has_words = false;
  // 1280 pixels over 186 mm of paper: letters of 13 pixels would be 5 points high.
  order.letters = 1.7;
  const auto images = draw::take_slides(step_slides(own), order);
  if (!images) {
    return images.faults();
  }
  papers::LessonExtras extras;
  extras.aspect = static_cast<double>(order.width_px) / order.height_px;
  for (const draw::Image& image : images.value()) {
    extras.pictures.push_back(draw::to_png(image));
  }
  for (const Mistaken& one : mistakes) {
    extras.what_ifs.push_back({one.what_if, papers::compared(own, one.house, order.style)});
  }
  return papers::to_pdf(papers::lesson_book(own, extras, order.style, paper),
                        progress.steps("pages"));
}

/// While it lives the process is not ended by being asked to: several files come all or none.
class Undisturbed {
 public:
  Undisturbed() {
    sigset_t asked{};
    sigemptyset(&asked);
    for (const int signal : {SIGTERM, SIGINT, SIGHUP}) {
      sigaddset(&asked, signal);
    }
    pthread_sigmask(SIG_BLOCK, &asked, &before_);
  }
  Undisturbed(const Undisturbed&) = delete;
  Undisturbed& operator=(const Undisturbed&) = delete;
  ~Undisturbed() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

 private:
  sigset_t before_{};
};

/// One picture a step, then one a mistake: "01-why.png", "what-if-1-bay.png".
Faults write_pictures(const Assessment& own, const std::list<Mistaken>& mistakes,
                      const std::string& folder, const draw::SlideOrder& order) {
  std::vector<draw::Slide> slides = step_slides(own);
  std::vector<std::string> names;
  for (std::size_t i = 0; i < papers::topic_count; ++i) {
    names.push_back(fmt::format("{:02}-{}.png", i + 1, word(static_cast<papers::Topic>(i))));
  }
  for (const Mistaken& one : mistakes) {
    panels::LessonView at;
    at.tab = panels::LessonTab::what_if;
    at.mistakes = {one.what_if.mistake};
    at.desk = std::make_shared<panels::WhatIfDesk>(
        panels::WhatIfDesk{{one.what_if}, papers::compared(own, one.house, order.style), {}});
    names.push_back(fmt::format("what-if-{}-{}.png", names.size() - papers::topic_count + 1,
                                word(one.what_if.mistake)));
    slides.push_back({&one.house, at});
  }
  const auto images = draw::take_slides(slides, order);
  if (!images) {
    return images.faults();
  }
  std::vector<std::string> files;
  files.reserve(names.size());
  for (const draw::Image& image : images.value()) {
    files.push_back(draw::to_png(image));
  }
  const Undisturbed undisturbed;
  std::error_code failed;
  std::filesystem::create_directories(folder, failed);
  if (failed) {
    return {Fault{"file.unwritable", folder, "the folder can't be made: " + failed.message(),
                  "name a folder in a place that you may write to"}};
  }
  for (std::size_t i = 0; i < names.size(); ++i) {
    const auto written =
        papers::write_whole((std::filesystem::path(folder) / names[i]).string(), files[i]);
    if (!written) {
      return written.faults();
    }
  }
  return {};
}

Faults write(const Words& words, const Assessment& own, const draw::SlideOrder& order,
             Progress& progress) {
  const auto catalogue = load_catalogue(words.load);
  if (!catalogue) {
    return catalogue.faults();
  }
  const std::list<Mistaken> mistakes = mistaken(own, catalogue.value());
  if (is_folder(words.output)) {
    return write_pictures(own, mistakes, words.output, order);
  }
  const papers::Paper paper = words.paper == "a4" ? papers::Paper::a4 : papers::Paper::letter;
  const auto pdf = book(own, mistakes, order, paper, progress);
  if (!pdf) {
    return pdf.faults();
  }
  const auto written = papers::write_whole(words.output, pdf.value());
  return written ? Faults{} : written.faults();
}

int teach(const Words& words) {
  const auto size = draw::parse_size(words.size);
  Faults faults = size ? Faults{} : size.faults();
  std::error_code error;
  if (faults.empty() && is_folder(words.output)) {
    faults = would_replace(words.model, words.output);
    if (faults.empty() && std::filesystem::is_regular_file(words.output, error)) {
      faults = {{"file.unwritable", words.output, "there is a file where the folder would be",
                 "name another folder for the pictures, or F.pdf for one file"}};
    }
  } else if (faults.empty()) {
    faults = misdirected(words.model, {{"-o", words.output, {".pdf"}}});
  }
  if (!faults.empty()) {
    complain(faults);
    return 2;
  }
  const auto own = load_and_assess(words.model, words.load);
  if (!own) {
    complain(own.faults());
    return 2;
  }
  draw::SlideOrder order;
  order.width_px = size.value().width_px;
  order.height_px = size.value().height_px;
  order.style = units::style_of(own.value().model.unit);
  Progress progress(words.tells);
  order.tell = progress.steps("pictures");
  faults = write(words, own.value(), order, progress);
  progress.wipe();
  if (!faults.empty()) {
    complain(faults);
    return faults.front().code == "graphics.none" ? 3 : 2;
  }
  return 0;
}

}  // namespace

void add_lesson(CLI::App& app, int& exit_code) {
  auto words = std::make_shared<Words>();
  CLI::App* call = app.add_subcommand("lesson", "Write this house's job as a lesson");
  call->add_option("MODEL", words->model, "Model file (*.roof.json)")->required();
  call->add_option("-o,--output", words->output,
                   "F.pdf: steps with pictures, what-ifs, questions and answers; else a folder for "
                   "one picture (PNG) a step and what-if")
      ->required();
  call->add_option("--size", words->size, "Width x height of the pictures in pixels")
      ->capture_default_str();
  call->add_option("--paper", words->paper, "letter or a4")
      ->check(CLI::IsMember({"letter", "a4"}))
      ->capture_default_str();
  call->add_option("--units", words->load.units, "ft-in or metric; left out: as the model is drawn")
      ->check(CLI::IsMember({"ft-in", "metric"}));
  call->add_flag("--progress", words->tells, progress_help);
  call->add_option("--code", words->load.code, "Code set: its id or a file");
  call->add_option("--catalogue", words->load.catalogue, "Catalogue file");
  call->callback([words, &exit_code] { exit_code = teach(*words); });
}

}  // namespace ridgeward::command

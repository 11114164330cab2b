#include "document/document.hpp"

#include "model/read.hpp"
#include "papers/file.hpp"

namespace ridgeward::document {

bool Document::is_dirty() const { return is_open() && (!has_saved_ || saved_ != history_.text()); }

Result<Assessment> Document::assessed(const model::RoofModel& model, bool vents_only) const {
  if (vents_only) {
    return reassess(*now_, model, library_.catalogue, Depth::live);
  }
  const Result<codes::CodeSet> code = is_open() && now_->model.site.code == model.site.code
                                          ? Result<codes::CodeSet>(now_->code)
                                          : library_.code(model.site.code);
  if (!code) {
    return code.faults();
  }
  return assess(model, library_.catalogue, code.value(), Depth::live);
}

void Document::show(Assessment assessment) {
  now_ = std::make_shared<const Assessment>(std::move(assessment));
  is_whole_ = false;
  ++revision_;
}

Faults Document::start(const model::RoofModel& model, std::string path, bool is_saved) {
  // Another file may come with another code set under the same name: it is asked for anew.
  const Result<codes::CodeSet> code = library_.code(model.site.code);
  if (!code) {
    return code.faults();
  }
  auto assessment = assess(model, library_.catalogue, code.value(), Depth::live);
  if (!assessment) {
    return assessment.faults();
  }
  base_ = model;
  history_ = History(model::write(model), folder_);
  saved_ = history_.text();
  has_saved_ = is_saved;
  path_ = std::move(path);
  show(std::move(assessment).value());
  return {};
}

Faults Document::open(const model::RoofModel& model, std::string path) {
  return start(model, std::move(path), true);
}

Faults Document::begin(const model::RoofModel& model, std::string path) {
  return start(model, std::move(path), false);
}

void Document::begin(Snapshot whole, std::string path) {
  ensure(whole != nullptr, "a house is begun with its assessment");
  base_ = whole->model;
  history_ = History(model::write(base_), folder_);
  saved_.clear();
  has_saved_ = false;
  path_ = std::move(path);
  now_ = std::move(whole);
  is_whole_ = true;
  ++revision_;
}

Result<std::vector<std::string>> Document::apply(const edit::Edit& edit, std::string name,
                                                 std::string merge) {
  ensure(is_open(), "an edit changes an open file");
  auto edited = edit::edited(now_->model, edit);
  if (!edited) {
    return edited.faults();
  }
  auto assessment = assessed(edited.value().model, edit::touches_vents_only(edit));
  if (!assessment) {
    return assessment.faults();
  }
  history_.take(model::write(edited.value().model), std::move(name), std::move(merge));
  show(std::move(assessment).value());
  return std::move(edited).value().said;
}

Faults Document::replace(const model::RoofModel& model, std::string name) {
  ensure(is_open(), "a file is open whose model is replaced");
  const std::string text = model::write(model);
  auto read = model::read(text);
  if (!read) {
    return read.faults();
  }
  auto assessment = assessed(read.value().model, false);
  if (!assessment) {
    return assessment.faults();
  }
  history_.let_go();
  history_.take(text, std::move(name), {});
  show(std::move(assessment).value());
  return {};
}

void Document::go_to_text() {
  model::RoofModel model = base_;
  if (history_.done() > 0) {
    auto read = model::read(history_.text());
    ensure(read.ok(), "each step left a model that can be read");
    model = std::move(read).value().model;
  }
  auto assessment = assessed(model, false);
  ensure(assessment.ok(), "each step left a model that can be assessed");
  show(std::move(assessment).value());
}

void Document::undo() {
  history_.undo();
  go_to_text();
}

void Document::redo() {
  history_.redo();
  go_to_text();
}

Faults Document::save(const std::string& path) {
  if (const auto written = papers::write_whole(path, history_.text()); !written) {
    return written.faults();
  }
  path_ = path;
  saved_ = history_.text();
  has_saved_ = true;
  history_.let_go();
  return {};
}

void Document::complete(Snapshot whole, std::uint64_t revision) {
  if (revision == revision_ && whole != nullptr) {
    now_ = std::move(whole);
    is_whole_ = true;
  }
}

std::function<Snapshot()> Document::whole_work() const {
  ensure(is_open(), "an open file is assessed");
  return [snapshot = now_, catalogue = library_.catalogue]() -> Snapshot {
    auto whole = reassess(*snapshot, snapshot->model, catalogue, Depth::whole);
    ensure(whole.ok(), "what could be assessed can be assessed again");
    return std::make_shared<const Assessment>(std::move(whole).value());
  };
}

}  // namespace ridgeward::document

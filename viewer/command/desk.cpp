#include "command/desk.hpp"

#include "base/overloaded.hpp"

#ifdef RIDGEWARD_HAS_SOLID
#include "exports/exporter.hpp"
#endif
#include "model/read.hpp"
#include "papers/file.hpp"

#include "command/places.hpp"
#include "edit/stage.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <system_error>
#include <unistd.h>

namespace ridgeward::command {

namespace fs = std::filesystem;
using panels::EditState;
using panels::State;

namespace {

constexpr double keep_after_s = 2.0;   // a change is at most this old before it is copied
constexpr double write_after_s = 0.5;  // what is remembered, after it changed
constexpr double not_seen = -1.0;

document::Library library(const LoadOptions& options, Result<model::Catalogue> catalogue) {
  return {catalogue ? std::move(catalogue).value() : model::Catalogue{},
          [options](const std::string& id) { return load_code(id, "/site/code", options); }};
}

}  // namespace

Desk::Desk(LoadOptions options, Result<model::Catalogue> catalogue,
           const std::function<void()>& wake, bool has_dialogs)
    : options_(std::move(options)),
      document_(library(options_, std::move(catalogue)), document::state_folder()),
      recovery_(document::state_folder().empty() ? std::string()
                                                 : document::state_folder() + "/unsaved"),
      settings_(document::read_settings(document::config_folder())),
      whole_(wake),
      work_(wake),
      dialog_(wake),
      has_dialogs_(has_dialogs) {}

void Desk::trouble(EditState& edit, const Faults& faults, const std::string& field) {
  edit.trouble = faults.empty() ? std::string() : in_plain_words(faults.front());
  edit.trouble_field = faults.empty() ? std::string() : field;
}

void Desk::remember(const std::string& path) {
  document::remember(settings_, full_path(path));
  (void)document::write_settings(document::config_folder(), settings_);
}

bool Desk::take(const model::RoofModel& model, const std::string& path, bool is_saved,
                State& state) {
  const Faults faults =
      is_saved ? document_.open(model, full_path(path)) : document_.begin(model, path);
  if (!faults.empty()) {
    state.edit.trouble =
        path.empty() ? in_plain_words(faults.front()) : in_words(placed(path, faults).front());
    return false;
  }
  panels::forget_house(state.edit);
  state.edit.browser.is_shown = false;
  preview_.reset();
  state.path = state.path_text = path;
  if (is_saved) {
    remember(path);
  }
  return true;
}

void Desk::open(const std::string& path, State& state) {
  const Result<model::ReadModel> read = load_model(path);
  if (!read) {
    state.edit.trouble = in_words(read.faults().front());
    shows_recent_ = false;  // it may have gone
    return;
  }
  warn(placed(path, read.value().warnings));
  take(read.value().model, path, true, state);
}

void Desk::save(const std::string& path, State& state) {
  if (const Faults faults = document_.save(full_path(path)); !faults.empty()) {
    trouble(state.edit, faults);
    return;
  }
  state.edit.browser.is_shown = false;
  state.path = state.path_text = document_.path();
  state.edit.trouble.clear();
  state.edit.said = {"Saved as " + document_.path() + "."};
  recovery_.drop();
  kept_.clear();
  changed_s_ = not_seen;
  remember(document_.path());
}

void Desk::apply(const panels::Do& wish, EditState& edit) {
  if (!document_.is_open()) {
    return;
  }
  auto said = document_.apply(wish.edit, wish.name, wish.merge);
  trouble(edit, said ? Faults{} : said.faults(), wish.field);
  if (said && std::holds_alternative<edit::DrawPart>(wish.edit)) {
    edit = panels::applied(std::move(edit), panels::SetTool{panels::Tool::plan});
  }
  if (said && !said.value().empty()) {
    edit.said = std::move(said).value();
  } else if (said && wish.merge.empty()) {
    edit.said.clear();
  }
}

bool Desk::must_ask(const panels::Wish& wish, EditState& edit) {
  if (!document_.is_dirty() || is_closing_) {
    return false;
  }
  waiting_ = wish;
  edit.asks_unsaved = true;
  edit.browser.is_shown = false;
  return true;
}

void Desk::answer(panels::Unsaved::Answer answer, State& state) {
  state.edit.asks_unsaved = false;
  const std::optional<panels::Wish> waiting = std::exchange(waiting_, std::nullopt);
  if (answer == panels::Unsaved::Answer::cancel || !waiting) {
    return;
  }
  if (answer == panels::Unsaved::Answer::save) {
    if (document_.path().empty()) {
      pick({panels::Pick::For::save, false}, state);  // then the person asks again
      return;
    }
    save(document_.path(), state);
    if (document_.is_dirty()) {
      return;
    }
  }
  recovery_.drop();
  kept_.clear();
  is_closing_ = true;  // what is unsaved was given up
  grant(*waiting, state);
  is_closing_ = std::holds_alternative<panels::CloseWindow>(*waiting);
}

void Desk::recover(panels::Recover::Answer answer, State& state) {
  const auto found = std::exchange(found_, std::nullopt);
  state.edit.found_work.reset();
  if (!found || answer == panels::Recover::Answer::later) {
    return;  // it stays where it is, for the next window
  }
  if (answer == panels::Recover::Answer::take) {
    const Result<model::ReadModel> read = model::read(found->model);
    if (!read) {
      trouble(state.edit, read.faults());
      return;
    }
    take(read.value().model, found->path, false, state);
    state.edit.said = {"Recovered. It is not saved yet."};
    (void)recovery_.keep(found->path, found->model);
    kept_ = document_.text();
  }
  document::Recovery::discard(*found);
}

void Desk::step(bool is_back) {
  const document::History& history = document_.history();
  if (is_back && history.can_undo()) {
    document_.undo();
  } else if (!is_back && history.can_redo()) {
    document_.redo();
  }
}

void Desk::begin_house(State& state) {
  if (!must_ask(panels::NewHouse{}, state.edit)) {
    state.edit.is_new = true;
    state.edit.tool = panels::Tool::draw;
    state.edit.plan = {};
    state.edit.trouble.clear();
    state.edit.said.clear();
  }
}

void Desk::draw_house(const panels::DrawHouse& wish, State& state) {
  const bool is_metric = state.style == units::Style::metric;
  const auto model =
      edit::new_house(wish.outline, is_metric ? units::LengthUnit::m : units::LengthUnit::ft);
  trouble(state.edit, model ? Faults{} : model.faults());
  if (model && take(model.value(), "", false, state)) {
    state.edit.is_new = false;
  }
}

void Desk::open_or_import(const panels::OpenFile& wish, State& state) {
  // A drawing or a mesh that was dropped is only shown: nothing is lost by that.
  const bool is_model = wish.path.ends_with(".json") && !wish.path.ends_with(".city.json");
  if (!is_model && !work_.is_busy()) {
    import({wish.path, {}, {}}, state);
  } else if (!must_ask(wish, state.edit)) {
    open(wish.path, state);
  }
}

void Desk::save_again(State& state) {
  if (!document_.path().empty()) {
    save(document_.path(), state);
    return;
  }
  pick({panels::Pick::For::save, false}, state);
}

void Desk::select_new_part(State& state) const {
  const model::Part& part = document_.now()->model.parts.back();
  for (std::size_t i = 0; i < part.edge_count(); ++i) {
    if (model::bears_plane(part.edge(i).kind)) {
      state.edit.target = {panels::Target::What::edge, part.id, i};
      state.edit.corner.reset();
      state.edit.has_fields = true;
      state.selected = {};  // the window selects what the fields are about
      return;
    }
  }
}

void Desk::grant(const panels::Wish& wish, State& state) {
  if (must_wait(wish)) {
    return;
  }
  std::visit(
      Overloaded{
          [&](const panels::Do& w) {
            apply(w, state.edit);
            if (state.edit.trouble.empty() && std::holds_alternative<edit::AddPart>(w.edit)) {
              select_new_part(state);
            }
          },
          [&](const panels::LetGo&) { document_.let_go(); },
          [&](const panels::Undo&) { step(true); },
          [&](const panels::Redo&) { step(false); },
          [&](const panels::NewHouse&) { begin_house(state); },
          [&](const panels::DrawHouse& w) { draw_house(w, state); },
          [&](const panels::OpenFile& w) { open_or_import(w, state); },
          [&](const panels::Save&) { save_again(state); },
          [&](const panels::SaveAs& w) { save_as(w, state); },
          [&](const panels::ImportFile& w) {
            if (!work_.is_busy()) {
              import(w, state);
            }
          },
          [&](const panels::TakeImport&) { take_import(state); },
          [&](const panels::LeaveImport&) { leave_import(state); },
          [&](const panels::Pick& w) { pick(w, state); },
          [&](const panels::StopPick&) {
            dialog_.cancel();
            is_picking_ = false;
          },
          [&](const panels::ExportFile& w) {
            if (!work_.is_busy()) {
              export_to(w, state);
            }
          },
          [&](const panels::PlaceVents&) {
            if (!work_.is_busy() && document_.is_open()) {
              place(state);
            }
          },
          [&](const panels::StopWork&) { work_.cancel(); },
          [&](const panels::Recover& w) { recover(w.answer, state); },
          [&](const panels::Unsaved& w) { answer(w.answer, state); },
          [&](const panels::Replace& w) { answer(w, state); },
          [&](const panels::CloseWindow&) {
            if (!must_ask(wish, state.edit)) {
              is_closing_ = true;
            }
            state.wants_to_close = is_closing_;
          },
      },
      wish);
}

void Desk::look_for_lost_work(EditState& edit) {
  found_ = recovery_.found();
  if (found_) {
    edit.found_work = found_->path;
  }
}

void Desk::work_on_whole() {
  if (!document_.is_open() || document_.is_whole() || whole_.is_busy()) {
    return;
  }
  whole_.start("Airflow",
               [this, work = document_.whole_work(),
                revision = document_.revision()](document::Task&) -> document::Work::After {
                 const document::Snapshot whole = work();
                 return [this, whole, revision] { document_.complete(whole, revision); };
               });
}

void Desk::keep_copy(double now_s, EditState& edit) {
  if (!document_.is_dirty() && !kept_.empty()) {
    recovery_.drop();  // back at the file as it is: nothing would be lost
    kept_.clear();
  }
  if (!document_.is_dirty() || kept_ == document_.text()) {
    changed_s_ = not_seen;
    return;
  }
  if (changed_s_ == not_seen) {
    changed_s_ = now_s;
  }
  if (now_s - changed_s_ >= keep_after_s) {
    if (const Faults faults = recovery_.keep(document_.path(), document_.text()); !faults.empty()) {
      trouble(edit, faults);
    }
    kept_ = document_.text();
    changed_s_ = not_seen;
  }
}

/// Files are looked for when their list comes into sight or changes, not at each turn.
void Desk::tell_recent(EditState& edit) {
  const bool is_shown = !edit.is_open || edit.has_palette ||
                        (edit.browser.is_shown && edit.browser.what == panels::Pick::For::open);
  const bool is_known = edit.recent == settings_.recent && (shows_recent_ || !is_shown);
  shows_recent_ = is_shown;
  if (is_known) {
    return;
  }
  edit.recent = settings_.recent;
  edit.missing.clear();
  std::error_code error;
  std::copy_if(edit.recent.begin(), edit.recent.end(), std::back_inserter(edit.missing),
               [&](const std::string& path) { return !fs::exists(path, error); });
}

void Desk::tell(State& state) {
  EditState& edit = state.edit;
  const document::History& history = document_.history();
  edit.undo_name = history.can_undo() ? history.undo_name() : "";
  edit.redo_name = history.can_redo() ? history.redo_name() : "";
  edit.steps_done = history.done();
  edit.steps = history.size();
  edit.is_open = document_.is_open();
  edit.is_dirty = document_.is_dirty();
  edit.is_whole = !document_.is_open() || document_.is_whole();
  edit.busy = work_.is_busy() ? work_.name() : std::string();
  edit.waits_for_dialog = is_picking_;
  const std::string far = work_.progress();
  edit.busy += far.empty() ? "" : ", " + far;
  edit.busy_share = document::share_of(far);
  tell_recent(edit);
  if (edit.products.empty()) {
    for (const auto& [id, product] : document_.library().catalogue.products) {
      edit.products.push_back({id, product.what, product.kind});
    }
#ifdef RIDGEWARD_HAS_SOLID
    for (const exports::Exporter* exporter : exports::exporters()) {
      edit.endings.emplace_back(exporter->ending);
    }
#endif
    edit.endings.insert(edit.endings.end(), {".pdf", ".csv", ".html", ".json"});
  }
  if (edit.intake_product.empty() || edit.exhaust_product.empty()) {
    for (const panels::ProductChoice& product : edit.products) {
      std::string& chosen =
          model::is_intake(product.kind) ? edit.intake_product : edit.exhaust_product;
      const bool is_usual = product.kind == model::VentKind::over_deck_intake ||
                            product.kind == model::VentKind::ridge_vent;
      chosen = chosen.empty() && is_usual ? product.id : chosen;
    }
  }
}

void Desk::take_run(State& state) {
  const auto put = std::exchange(state.ribbon.wants_run, std::nullopt);
  if (!put || !document_.is_open()) {
    return;
  }
  for (model::IntakeRun run : document_.now()->model.intake) {
    if (run.id == put->run) {
      run.whole = false;
      run.from_m = put->from_m;
      run.to_m = put->to_m;
      state.edit.wishes.emplace_back(
          panels::Do{edit::PutIntake{run}, "Move run " + run.id, "drag/" + run.id, "ribbon"});
      if (put->is_done) {
        state.edit.wishes.emplace_back(panels::LetGo{});
      }
      return;
    }
  }
}

bool Desk::serve(State& state, double now_s) {
  if (const auto path = std::exchange(state.wants_to_open, std::nullopt)) {
    state.edit.wishes.emplace_back(panels::OpenFile{*path});
  }
  take_run(state);
  const std::vector<panels::Wish> wishes = std::exchange(state.edit.wishes, {});
  for (const panels::Wish& wish : wishes) {
    grant(wish, state);
  }
  const bool has_whole = whole_.take();
  const bool has_outcome = work_.take();
  if (has_outcome && outcome_) {
    std::exchange(outcome_, {})(state);
  } else if (has_outcome) {
    state.edit.said = {"Stopped: nothing is changed or written."};
  }
  const bool has_picked = dialog_.take();
  take_picked(state);
  work_on_whole();
  keep_copy(now_s, state.edit);
  list_folder(state.edit.browser);
  const std::string busy = state.edit.busy;
  tell(state);
  return state.edit.busy != busy || has_whole || has_outcome || has_picked || !wishes.empty();
}

void Desk::keep_words(std::map<std::string, std::string> words, double now_s) {
  if (words != settings_.words) {
    settings_.words = std::move(words);
    words_changed_s_ = now_s;
  }
  // Not at every step of a border that is pulled.
  if (words_changed_s_ != not_seen && now_s - words_changed_s_ >= write_after_s) {
    (void)document::write_settings(document::config_folder(), settings_);
    words_changed_s_ = not_seen;
  }
}

double Desk::sleep_s() const {
  const bool waits_for_copy = changed_s_ != not_seen || words_changed_s_ != not_seen;
  return work_.is_busy() || whole_.is_busy() || waits_for_copy ? 0.25 : 0.0;
}

bool Desk::may_close(State& state) {
  if (!must_ask(panels::CloseWindow{}, state.edit)) {
    return true;
  }
  state.wants_to_close = false;
  return false;
}

void Desk::leave() {
  recovery_.drop();
  (void)document::write_settings(document::config_folder(), settings_);
}

}  // namespace ridgeward::command

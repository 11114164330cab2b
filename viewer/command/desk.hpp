#pragma once
// Grants the wishes of the window: files, edits, steps, long work. The only part of editing that
// reads and writes.

#include "command/load.hpp"
#include "document/document.hpp"
#include "document/keep.hpp"
#include "document/work.hpp"
#include "panels/state.hpp"

#include <functional>
#include <map>
#include <optional>
#include <string>

namespace ridgeward::command {

class Desk {
 public:
  /// `wake` ends the window's wait, from any thread.
  /// `has_dialogs`: whether the desktop's own dialogs may be used for files.
  Desk(LoadOptions options, Result<model::Catalogue> catalogue, const std::function<void()>& wake,
       bool has_dialogs);

  const document::Document& document() const { return document_; }
  /// What is to be seen: an import that is not taken yet, else the open file; null without either.
  document::Snapshot shown() const { return is_preview() ? preview_ : document_.now(); }
  bool is_preview() const { return preview_ != nullptr; }
  const document::Settings& settings() const { return settings_; }
  /// Remembers between runs how the window looks; written half a second after a change, so that it
  /// outlives whatever ends the program.
  void keep_words(std::map<std::string, std::string> words, double now_s);

  /// Opens a file; faults go to the state.
  void open(const std::string& path, panels::State& state);
  /// Looks for work that was lost.
  void look_for_lost_work(panels::EditState& edit);
  /// Grants what the state wishes, takes in what is done, keeps copies of unsaved work, and tells
  /// the state how things stand. `now_s` is any clock. Whether there is anything new to be seen.
  bool serve(panels::State& state, double now_s);
  /// How long the window may sleep; 0: however long.
  double sleep_s() const;
  /// Whether the window may close now; asks in the state where something is unsaved.
  bool may_close(panels::State& state);
  /// Writes what is remembered between runs; unsaved work that the person gave up is dropped.
  void leave();

 private:
  void grant(const panels::Wish& wish, panels::State& state);
  void step(bool is_back);
  void begin_house(panels::State& state);
  void draw_house(const panels::DrawHouse& wish, panels::State& state);
  void open_or_import(const panels::OpenFile& wish, panels::State& state);
  void save_again(panels::State& state);
  void apply(const panels::Do& wish, panels::EditState& edit);
  void take(const model::RoofModel& model, const std::string& path, bool is_saved,
            panels::State& state);
  void save_as(const panels::SaveAs& wish, panels::State& state);
  void save(const std::string& path, panels::State& state);
  void import(const panels::ImportFile& wish, panels::State& state);
  /// Shows what an import gave; nothing where it gave none.
  void preview(const document::Snapshot& made, panels::ImportView found, panels::State& state);
  void take_import(panels::State& state);
  void leave_import(panels::State& state);
  /// Whether a wish would change what a shown import hides.
  bool must_wait(const panels::Wish& wish) const;
  void pick(const panels::Pick& wish, panels::State& state);
  void list_files(panels::Pick::For what, panels::EditState& edit);
  void take_picked(panels::State& state);
  void export_to(const panels::ExportFile& wish, panels::State& state);
  void place(panels::State& state);
  /// A run that was pulled on the ribbon.
  void take_run(panels::State& state);
  void recover(panels::Recover::Answer answer, panels::State& state);
  void answer(panels::Unsaved::Answer answer, panels::State& state);
  /// Notes a wish that would lose changes and asks; true when it must wait.
  bool must_ask(const panels::Wish& wish, panels::EditState& edit);
  /// Likewise a wish that would replace a file other than the open one.
  bool must_ask_to_replace(const panels::Wish& wish, const std::string& path,
                           panels::EditState& edit);
  void answer(const panels::Replace& answer, panels::State& state);
  /// A file's name for the open house, without ending.
  std::string suggested_name() const;
  /// Runs this program with other words on a copy of the open model; `after` gets how it ended, on
  /// the drawing thread. Where it `ended_well` its file is there, whatever was asked meanwhile.
  struct SelfRun {
    std::string name;
    std::vector<std::string> words;
    std::string copy;  ///< of the model, removed in the end
    std::string made;  ///< to be read by `after`; removed where it was cancelled
    std::function<bool(const document::Ended&)> ended_well;
  };
  void run_self(const SelfRun& run,
                const std::function<void(const document::Ended&, panels::State&)>& after);
  std::string scratch(const std::string& name) const;
  void work_on_whole();
  void keep_copy(double now_s, panels::EditState& edit);
  void list_folder(panels::Browser& browser) const;
  void tell(panels::State& state);
  void tell_recent(panels::EditState& edit);
  void remember(const std::string& path);
  static void trouble(panels::EditState& edit, const Faults& faults, const std::string& field = {});

  LoadOptions options_;
  document::Document document_;
  document::Recovery recovery_;
  document::Settings settings_;
  document::Work whole_;   ///< airflow and takeoff
  document::Work work_;    ///< what the person asked for
  document::Work dialog_;  ///< the desktop's dialog
  bool has_dialogs_ = true;
  bool is_picking_ = false;
  std::optional<panels::Pick> next_pick_;  ///< asked for while a dialog that was left still ends
  std::optional<document::Ended> picked_;  ///< how the dialog ended
  document::Snapshot preview_;             ///< an import that is not taken yet
  std::optional<document::Recovered> found_;
  std::optional<panels::Wish> waiting_;    ///< for the answer about unsaved changes
  std::optional<panels::Wish> replacing_;  ///< for the answer about a file that is there
  bool is_closing_ = false;
  bool shows_recent_ = false;      ///< the recent files, of which is known whether they are there
  std::string kept_;               ///< text of the copy
  double changed_s_ = -1.0;        ///< when the oldest change since the copy was seen
  double words_changed_s_ = -1.0;  ///< when what is remembered changed, not written
  std::function<void(panels::State&)> outcome_;  ///< of finished work, to be taken in
};

}  // namespace ridgeward::command

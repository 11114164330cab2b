#include "panels/commands.hpp"

#include "base/fault.hpp"

#include "scene/layers.hpp"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <sstream>

namespace ridgeward::panels {
namespace {

Intents one(EditIntent intent) { return {Intent(std::move(intent))}; }
Intents wish(Wish wish) { return one(EditIntent(std::move(wish))); }

Intents if_so(bool holds, Intents intents) { return holds ? std::move(intents) : Intents{}; }

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

std::optional<edit::Thing> thing_of(Target::What what) {
  switch (what) {
    case Target::What::intake:
      return edit::Thing::intake;
    case Target::What::exhaust:
      return edit::Thing::exhaust;
    case Target::What::obstacle:
      return edit::Thing::obstacle;
    case Target::What::ceiling:
      return edit::Thing::ceiling;
    case Target::What::divider:
      return edit::Thing::divider;
    default:
      return std::nullopt;
  }
}

/// Takes out what is selected: a corner in plan, a part, a vent.
Intents removal(const EditState& edit) {
  const Target& target = edit.target;
  if (shows_plan(edit) && edit.corner) {
    return {
        EditIntent(Wish(Do{
            edit::RemoveCorner{target.id, *edit.corner}, "Remove corner of " + target.id, {}, {}})),
        EditIntent(SelectCorner{})};
  }
  if (target.what == Target::What::part) {
    return {EditIntent(Wish(Do{edit::RemovePart{target.id}, "Remove " + target.id, {}, {}})),
            EditIntent(SetTarget{})};
  }
  if (const auto thing = thing_of(target.what)) {
    return {EditIntent(Wish(Do{edit::Remove{*thing, target.id}, "Remove " + target.id, {}, {}})),
            EditIntent(SetTarget{})};
  }
  return {};
}

void add_files(const State& state, std::vector<Command>& all) {
  const EditState& edit = state.edit;
  const bool is_free = edit.busy.empty();
  const auto browse = [](Pick::For what) { return wish(Pick{what, false}); };
  all.push_back({"file/new", "New house", "Ctrl+N", wish(NewHouse{})});
  all.push_back({"file/browse", "Open ...", "Ctrl+O", browse(Browser::For::open)});
  all.push_back({"file/save", "Save", "Ctrl+S", if_so(edit.is_open, wish(Save{}))});
  all.push_back({"file/save-as", "Save as ...", "Ctrl+Shift+S",
                 if_so(edit.is_open, browse(Browser::For::save))});
  all.push_back(
      {"file/import", "Import ...", "Ctrl+I", if_so(is_free, browse(Browser::For::import))});
  all.push_back({"file/export", "Export, papers ...", "Ctrl+E",
                 if_so(edit.is_open && is_free, browse(Browser::For::export_to))});
  for (const std::string& path : edit.recent) {
    const bool is_there =
        std::find(edit.missing.begin(), edit.missing.end(), path) == edit.missing.end();
    const std::filesystem::path file(path);
    all.push_back({"recent/" + path,
                   (is_there ? "Open recent: " : "Not there any more: ") +
                       file.filename().string() + " in " + file.parent_path().string(),
                   "", if_so(is_there, wish(OpenFile{path}))});
  }
  all.push_back({"file/close", "Close the window", "Ctrl+Q", {Close{}}});
}

void add_steps(const EditState& edit, std::vector<Command>& all) {
  all.push_back({"edit/undo", edit.undo_name.empty() ? "Undo" : "Undo: " + edit.undo_name, "Ctrl+Z",
                 if_so(!edit.undo_name.empty(), wish(Undo{}))});
  all.push_back({"edit/redo", edit.redo_name.empty() ? "Redo" : "Redo: " + edit.redo_name, "Ctrl+Y",
                 if_so(!edit.redo_name.empty(), wish(Redo{}))});
  all.push_back({"edit/fields", edit.has_fields ? "Show facts" : "Change what is selected", "E",
                 one(ShowFields{!edit.has_fields})});
  all.push_back(
      {"edit/remove", "Remove what is selected", "Delete", if_so(edit.is_open, removal(edit))});
  const auto tool = [&](const char* id, const char* words, const char* keys, Tool which) {
    all.push_back({id, words, keys,
                   if_so(edit.is_open, one(SetTool{edit.tool == which ? Tool::look : which}))});
  };
  tool("tool/plan", "Change outlines in plan", "H", Tool::plan);
  tool("tool/draw", "Draw a part in plan", "D", Tool::draw);
  tool("tool/intake", "Put an intake run along an eave", "I", Tool::intake);
  tool("tool/exhaust", "Put an exhaust vent", "V", Tool::exhaust);
  tool("tool/obstacle", "Put a chimney, skylight or pipe", "", Tool::obstacle);
  const bool has_edge = edit.is_open && edit.target.what == Target::What::edge;
  for (const edit::PartKindWords& kind : edit::part_kinds()) {
    all.push_back(
        {std::string("add/") + kind.word, std::string("Add: ") + kind.words, "",
         if_so(has_edge,
               wish(Do{edit::AddPart{kind.kind, edit.target.id, edit.target.index, {}, {}, {}},
                       std::string("Add ") + lower(kind.words),
                       {},
                       "add"}))});
  }
  all.push_back({"vents/place", "Place vents where they serve best", "",
                 if_so(edit.is_open && edit.busy.empty(), wish(PlaceVents{}))});
  all.push_back(
      {"work/stop", "Cancel what is worked at", "", if_so(!edit.busy.empty(), wish(StopWork{}))});
}

void add_views(const State& state, std::vector<Command>& all) {
  for (const scene::LayerWords& layer : scene::layer_words()) {
    const bool on = state.layers.has(layer.layer);
    all.push_back({std::string("layer/") + layer.word,
                   std::string(on ? "Hide: " : "Show: ") + layer.words,
                   "",
                   {SetLayer{layer.layer, !on}}});
  }
  for (const std::string& word : scene::direction_words()) {
    all.push_back({"look/" + word, "Look from " + word, "", {LookFrom{word}}});
  }
  all.push_back({"view/fit", "Fit all", "Home", {FrameAll{}}});
  all.push_back({"view/frame", "Frame the selection", "F", {FrameSelection{}}});
  const bool is_metric = state.style == units::Style::metric;
  all.push_back({"view/units",
                 is_metric ? "Feet and inches" : "Metric",
                 "U",
                 {SetUnits{is_metric ? units::Style::feet_inches : units::Style::metric}}});
  all.push_back({"view/motion",
                 state.sight.is_still ? "Let camera and air move" : "Less motion",
                 "",
                 {SightIntent(SetStill{!state.sight.is_still})}});
  all.push_back({"view/keys", "Mouse and keys", "F1", {ShowKeys{true}}});
  all.push_back({"view/commands", "All commands", "Ctrl+P", one(ShowPalette{true})});
}

}  // namespace

std::vector<Command> commands(const State& state) {
  std::vector<Command> all;
  add_files(state, all);
  add_steps(state.edit, all);
  add_views(state, all);
  if (state.edit.import) {
    // Until it is taken or left there is nothing to change or to save.
    for (Command& command : all) {
      const bool is_view = command.id.starts_with("view/") || command.id.starts_with("look/") ||
                           command.id.starts_with("layer/") || command.id == "file/close";
      command.ask = is_view ? std::move(command.ask) : Intents{};
    }
    all.push_back({"import/take", "Take what was imported", "", wish(TakeImport{})});
    all.push_back({"import/leave", "Leave what was imported", "", wish(LeaveImport{})});
  }
  return all;
}

Command command(const State& state, const std::string& id) {
  const std::vector<Command> all = commands(state);
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Command& one) { return one.id == id; });
  ensure(found != all.end(), "commands are asked for by their ids");
  return *found;
}

std::vector<Command> matching(std::vector<Command> all, const std::string& text) {
  std::istringstream words(lower(text));
  for (std::string word; words >> word;) {
    std::erase_if(all, [&](const Command& one) {
      return lower(one.words + " " + one.keys).find(word) == std::string::npos;
    });
  }
  std::stable_partition(all.begin(), all.end(),
                        [](const Command& one) { return one.can_be_done(); });
  return all;
}

Intents asked_by(const Chord& chord, const State& state) {
  std::string keys = chord.is_delete ? "Delete" : std::string(1, chord.letter);
  if (chord.control && chord.shift && chord.letter == 'Z') {
    return command(state, "edit/redo").ask;
  }
  if (chord.control) {
    keys = (chord.shift ? "Ctrl+Shift+" : "Ctrl+") + keys;
  }
  for (const Command& one : commands(state)) {
    // Keys without Ctrl that look around belong to the pointer (pointer.hpp).
    const bool is_mine = one.id.starts_with("edit/") || one.id.starts_with("file/") ||
                         one.id.starts_with("tool/") || one.id == "view/commands";
    if (is_mine && one.keys == keys && one.id != "file/close") {
      return one.ask;
    }
  }
  return {};
}

}  // namespace ridgeward::panels

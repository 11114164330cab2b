#include "panels/commands.hpp"

#include "base/fault.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <sstream>
#include <string_view>

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
  all.push_back({"edit/redo",
                 edit.redo_name.empty() ? "Redo" : "Redo: " + edit.redo_name,
                 "Ctrl+Y",
                 if_so(!edit.redo_name.empty(), wish(Redo{})),
                 {"Ctrl+Shift+Z"}});
  all.push_back({"edit/fields",
                 edit.has_fields ? "Edit: back to facts" : "Edit: change what is selected", "E",
                 if_so(edit.is_open, one(ShowFields{!edit.has_fields}))});
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
  tool("tool/obstacle", "Put an obstacle (chimney, pipe ...)", "Q", Tool::obstacle);
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
  all.push_back({"add/list", "Add a wing, dormer or lean-to ...", "Shift+A",
                 if_so(edit.is_open, one(ShowAddList{!edit.has_add_list}))});
  all.push_back({"vents/place", "Place vents where they serve best", "Ctrl+B",
                 if_so(edit.is_open && edit.busy.empty(), wish(PlaceVents{}))});
  all.push_back(
      {"work/stop", "Cancel what is worked at", "", if_so(!edit.busy.empty(), wish(StopWork{}))});
  all.push_back({"message/forget", "Put the message away", "",
                 if_so(!edit.trouble.empty() || !edit.said.empty(), one(Forget{}))});
}

/// Whether it may be asked for as things stand.
bool may_be_asked(const State& state, const std::string& id) {
  const bool looks = id.starts_with("view/") || id.starts_with("look/") || id.starts_with("layer/");
  if (state.lesson.is_open) {
    // The house shown may be one with mistakes, and the lesson has keys of its own.
    const bool is_taken = id == "view/commands" || id == "view/keys" || id.starts_with("view/air");
    return (looks && !is_taken) || id == "lesson/open" || id == "file/close";
  }
  if (shows_plan(state.edit)) {
    // What would turn, cut or light the house that the plan hides.
    constexpr std::array<const char*, 8> of_depth{"look/",    "view/turn", "view/flat",
                                                  "view/cut", "view/peel", "view/measure",
                                                  "view/sun", "view/frame"};
    if (std::any_of(of_depth.begin(), of_depth.end(),
                    [&](const char* start) { return id.starts_with(start); })) {
      return false;
    }
  }
  // Until an import is taken or left there is nothing to change or to save.
  return !state.edit.import || looks || id == "file/close";
}

bool has_dialog(const EditState& edit) {
  return edit.has_palette || edit.browser.is_shown || edit.asks_unsaved || edit.found_work;
}

/// Closes the question or list that lies over all else.
Intents close_dialog(const EditState& edit) {
  if (edit.found_work) {
    return wish(Recover{Recover::Answer::later});
  }
  if (edit.asks_unsaved) {
    return wish(Unsaved{Unsaved::Answer::cancel});
  }
  if (!edit.asks_replace.empty()) {
    return wish(Replace{false});
  }
  return edit.browser.is_shown ? one(CloseBrowser{}) : one(ShowPalette{false});
}

}  // namespace

std::vector<Command> commands(const State& state) {
  std::vector<Command> all;
  add_files(state, all);
  add_steps(state.edit, all);
  add_keyed_commands(state, all);
  add_view_commands(state, all);
  for (Command& command : all) {
    command.ask = may_be_asked(state, command.id) ? std::move(command.ask) : Intents{};
  }
  if (state.edit.import) {
    all.push_back({"import/take", "Take what was imported", "", wish(TakeImport{})});
    all.push_back({"import/leave", "Leave what was imported", "", wish(LeaveImport{})});
  }
  return all;
}

const Command& command(const std::vector<Command>& all, const std::string& id) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Command& one) { return one.id == id; });
  ensure(found != all.end(), "commands are asked for by their ids");
  return *found;
}

Command command(const State& state, const std::string& id) { return command(commands(state), id); }

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

Intents asked_by(const std::string& key, const State& state) {
  for (const Command& one : commands(state)) {
    const bool is_its = one.keys == key || std::count(one.also.begin(), one.also.end(), key) > 0;
    if (is_its) {
      return one.ask;
    }
  }
  return {};
}

bool is_heard_while_typing(const std::string& key) {
  // What fields themselves make of keys with Ctrl: their own undo, all of it, copies.
  const std::string_view of_fields = "ACVXYZ";
  const bool is_letter = key.starts_with("Ctrl+") && key.size() == 6;
  const bool is_chord = key.starts_with("Ctrl+Shift+") && key.size() == 12;
  return key == "F1" || is_chord || (is_letter && of_fields.find(key[5]) == std::string_view::npos);
}

Intents let_go(const State& state) {
  const EditState& edit = state.edit;
  const Sight& sight = state.sight;
  if (has_dialog(edit)) {
    return close_dialog(edit);
  }
  if (state.keys_shown) {
    return {ShowKeys{false}};
  }
  if (edit.waits_for_dialog) {
    return wish(StopPick{});
  }
  if (edit.import) {
    return wish(LeaveImport{});
  }
  if (edit.has_add_list) {
    return one(ShowAddList{false});
  }
  if (edit.tool != Tool::look) {
    const bool has_line = edit.tool == Tool::draw && !edit.plan.drawn.empty();
    return one(SetTool{has_line ? Tool::draw : Tool::look});
  }
  if (!sight.measure.spots.empty()) {
    return {SightIntent(ClearMeasure{}), Select{}};
  }
  if (sight.is_measuring) {
    return {SightIntent(SetMeasuring{false})};
  }
  Intents all{Select{}};
  if (!edit.trouble.empty() || !edit.said.empty()) {
    all.emplace_back(EditIntent(Forget{}));
  }
  return all;
}

}  // namespace ridgeward::panels

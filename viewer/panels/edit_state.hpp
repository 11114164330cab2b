#pragma once
// What the window remembers of editing, and what a person can ask of it. Pure: changes of the
// model and files are only wished for here; command/desk.* grants wishes.

#include "model/catalogue.hpp"

#include "edit/edit.hpp"
#include "panels/import_panel.hpp"
#include "panels/plan_tool.hpp"

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace ridgeward::panels {

/// What the mouse does on the drawing.
enum class Tool {
  look,     ///< turn, select, drag what can be dragged
  plan,     ///< change outlines in plan
  draw,     ///< draw an outline in plan
  intake,   ///< put a run along an eave
  exhaust,  ///< put a vent on a ridge, a hip or a plane
  obstacle  ///< put a chimney, a skylight or a pipe on a plane
};

/// What the fields of the edit panel are about.
struct Target {
  enum class What { house, part, edge, intake, exhaust, obstacle, ceiling, divider };
  What what = What::house;
  std::string id;         ///< of the thing; of an edge: of its part
  std::size_t index = 0;  ///< of an edge
  bool operator==(const Target&) const = default;
};

// Wishes.

/// One edit as one step; steps with the same `merge` until LetGo are one. `field`: where a fault is
/// to be shown.
struct Do {
  edit::Edit edit;
  std::string name;
  std::string merge;
  std::string field;
};
struct LetGo {};
struct Undo {};
struct Redo {};
struct NewHouse {};
struct DrawHouse {
  std::vector<glm::dvec2> outline;
};
struct OpenFile {
  std::string path;
};
struct Save {};
struct SaveAs {
  std::string path;
  bool may_replace = false;  ///< a file that is there already; otherwise the person is asked
};
/// `importer` empty: the surest one. `options` as "key=value".
struct ImportFile {
  std::string path;
  std::string importer;
  std::vector<std::string> options;
};
/// A file to be chosen, in the desktop's dialog where there is one, else in a list in the window.
struct Pick {
  enum class For { open, save, import, export_to };
  For what = For::open;
  bool in_window = false;  ///< the list, whatever there is
};
struct StopPick {};  ///< no file after all
struct ExportFile {
  std::string path;
  bool may_replace = false;
};
/// The answer to "a file of that name is there already".
struct Replace {
  bool yes = false;
};
/// What was imported and is shown, not taken yet: take it, or bring back what was there.
struct TakeImport {};
struct LeaveImport {};
struct PlaceVents {};
struct StopWork {};
/// Unsaved work that was found: take it, throw it away, or leave it where it is.
struct Recover {
  enum class Answer { take, discard, later };
  Answer answer = Answer::take;
};
/// The answer to "there are changes that are not saved".
struct Unsaved {
  enum class Answer { save, discard, cancel };
  Answer answer = Answer::cancel;
};
struct CloseWindow {};
using Wish = std::variant<Do, LetGo, Undo, Redo, NewHouse, DrawHouse, OpenFile, Save, SaveAs,
                          ImportFile, TakeImport, LeaveImport, Pick, StopPick, ExportFile,
                          PlaceVents, StopWork, Recover, Unsaved, Replace, CloseWindow>;

/// Files, listed in the window.
struct Browser {
  using For = Pick::For;
  struct Entry {
    std::string name;
    bool is_folder = false;
    bool operator==(const Entry&) const = default;
  };
  bool is_shown = false;
  For what = For::open;
  std::string folder;
  std::string name;        ///< in the name field
  bool shows_all = false;  ///< otherwise only files with one of `endings`
  std::vector<std::string> endings;
  std::vector<Entry> entries;  ///< of `folder`, filled in by who reads folders
  std::string listed;          ///< the folder that `entries` are of
};

/// A vent of the catalogue, for lists.
struct ProductChoice {
  std::string id;
  std::string words;
  model::VentKind kind = model::VentKind::over_deck_intake;
};

struct EditState {
  Tool tool = Tool::look;
  bool has_fields = false;  ///< fields in the place of facts
  Target target;
  std::optional<std::size_t> corner;  ///< selected in plan, of the target's part
  PlanTool plan;
  edit::PartKind part_kind = edit::PartKind::wing;
  std::string intake_product;
  std::string exhaust_product;
  model::ObstacleKind obstacle_kind = model::ObstacleKind::chimney;

  bool has_palette = false;
  std::string palette_text;
  std::size_t palette_row = 0;
  bool has_add_list = false;
  Browser browser;
  std::optional<ImportView> import;  ///< shown and not taken yet

  // The field that is being typed into.
  std::string field;
  std::string field_text;
  std::set<std::string> open_groups;  ///< of fields

  std::vector<Wish> wishes;  ///< taken up by command/desk

  // Told by the desk.
  std::string undo_name;  ///< of the step that Undo takes back; empty: none
  std::string redo_name;
  std::size_t steps_done = 0;
  std::size_t steps = 0;
  bool is_new = false;  ///< a new house is drawn
  bool is_open = false;
  bool is_dirty = false;
  bool is_whole = true;  ///< false while airflow and takeoff are worked out
  bool asks_unsaved = false;
  std::string asks_replace;  ///< path of a file that is there already; empty: not asked
  std::optional<std::string> found_work;  ///< path of unsaved work that was found, "" without one
  std::string busy;                       ///< what is worked at, and how far; empty: nothing
  std::optional<double> busy_share;       ///< 0 to 1, where it is known
  bool waits_for_dialog = false;          ///< of the desktop, which has the keys
  std::string trouble;                    ///< the last fault, with its cure
  std::string trouble_field;              ///< the field that it came from; empty: none
  std::vector<std::string> said;          ///< what the last edit did beside what was asked
  std::vector<std::string> recent;
  std::vector<std::string> missing;  ///< those of them that are no longer there
  std::vector<ProductChoice> products;
  std::vector<std::string> endings;  ///< that can be exported
};

// What panels ask for.

struct SetTool {
  Tool tool;
};
struct SetTarget {
  Target target;
};
struct ShowFields {
  bool on;
};
struct ShowPalette {
  bool on;
};
struct TypePalette {
  std::string text;
  std::size_t row = 0;
};
struct ShowAddList {
  bool on;
};
struct CloseBrowser {};
struct Browse {
  std::string folder;
  std::string name;
};
struct ShowAllFiles {
  bool on;
};
struct TypeField {
  std::string field;
  std::string text;
};
struct ChooseProduct {
  bool is_intake;
  std::string id;
};
struct ChooseObstacle {
  model::ObstacleKind kind;
};
struct SelectCorner {
  std::optional<std::size_t> corner;
};
struct MovePlan {
  PlanTool plan;
};
struct ShowGiven {  ///< the planes of an imported file, as given
  bool on;
};
/// How the file that is shown is to be read the next time.
struct ChooseImporter {
  std::string name;
};
struct TypeOption {
  std::string key;
  std::string text;
};
/// A group of fields, opened or folded.
struct Fold {
  std::string id;
  bool is_open;
};
struct Forget {};  ///< what was said and the last trouble

using EditIntent =
    std::variant<Wish, SetTool, SetTarget, ShowFields, ShowPalette, TypePalette, ShowAddList,
                 CloseBrowser, Browse, ShowAllFiles, TypeField, ChooseProduct, ChooseObstacle,
                 SelectCorner, MovePlan, ShowGiven, ChooseImporter, TypeOption, Fold, Forget>;

/// One of them, held apart: edits are large beside what else is asked for.
class EditAsk {
 public:
  EditAsk(EditIntent what)  // NOLINT: an edit is one of the things that can be asked for
      : what_(std::make_shared<const EditIntent>(std::move(what))) {}
  const EditIntent& what() const { return *what_; }

 private:
  std::shared_ptr<const EditIntent> what_;
};

EditState applied(EditState state, const EditIntent& intent);

/// Forgets what was about the house that is shown: another one takes its place.
void forget_house(EditState& state);

/// Whether the plan is shown in the place of the drawing in space.
bool shows_plan(const EditState& state);

}  // namespace ridgeward::panels

#pragma once
// Everything that can be asked for by name: the one table for the palette, the keys, the list of
// keys and the toolbar.

#include "panels/pointer.hpp"

#include <string>
#include <vector>

namespace ridgeward::panels {

struct Command {
  std::string id;     ///< "edit/undo"
  std::string words;  ///< "Undo: Pitch of main/0"
  std::string keys;   ///< "Ctrl+Z", named as in Input::pressed; empty where it has none
  Intents ask;        ///< what it does; empty where it can't be done now
  std::vector<std::string> also = {};  ///< other keys for the same
  /// Keys that belong together stand in one row of the list of keys: the id of a KeyFamily.
  std::string family = {};
  bool can_be_done() const { return !ask.empty(); }
};

/// One row of the list of keys for several commands.
struct KeyFamily {
  const char* id;
  const char* keys;
  const char* words;
};
const std::vector<KeyFamily>& key_families();

/// All commands as they stand now.
std::vector<Command> commands(const State& state);
/// The command of that id. REQUIRES that there is one.
Command command(const State& state, const std::string& id);
const Command& command(const std::vector<Command>& all, const std::string& id);
/// Those whose words hold every word of `text`, in any order and case; what can be done first.
std::vector<Command> matching(std::vector<Command> all, const std::string& text);

/// What a key asks for; nothing for keys that are none of a command.
Intents asked_by(const std::string& key, const State& state);
/// Whether a key of that name is a command's although a field has the keys.
bool is_heard_while_typing(const std::string& key);
/// What Esc lets go of: one thing after the other, what lies on top first.
Intents let_go(const State& state);

// Private to the folder.

/// Adds what looks at the house, selects, and goes from panel to panel.
void add_view_commands(const State& state, std::vector<Command>& all);
/// Adds what selects and moves by keys.
void add_keyed_commands(const State& state, std::vector<Command>& all);

}  // namespace ridgeward::panels

#pragma once
// Everything that can be asked for by name: for the palette, the list of keys and the toolbar.

#include "panels/pointer.hpp"

#include <string>
#include <vector>

namespace ridgeward::panels {

struct Command {
  std::string id;     ///< "edit/undo"
  std::string words;  ///< "Undo: Pitch of main/0"
  std::string keys;   ///< "Ctrl+Z"; empty where it has none
  Intents ask;        ///< what it does; empty where it can't be done now
  bool can_be_done() const { return !ask.empty(); }
};

/// All commands as they stand now.
std::vector<Command> commands(const State& state);
/// The command of that id. REQUIRES that there is one.
Command command(const State& state, const std::string& id);
/// Those whose words hold every word of `text`, in any order and case; what can be done first.
std::vector<Command> matching(std::vector<Command> all, const std::string& text);

/// What a key asks for; nothing for keys that are none of editing.
Intents asked_by(const Chord& chord, const State& state);

}  // namespace ridgeward::panels

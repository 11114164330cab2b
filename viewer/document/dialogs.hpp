#pragma once
// The desktop's own dialogs for files: a program of the desktop that is asked, where there is one.

#include "document/work.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::document {

/// What is asked for.
struct DialogAsk {
  bool saves = false;
  std::string title;
  std::string start;                  ///< folder, or file to begin with; a folder ends with "/"
  std::string kind;                   ///< "Model files"; empty: any file
  std::vector<std::string> patterns;  ///< "*.roof.json"
};

/// Full path of zenity or kdialog, whichever the desktop prefers of those on PATH; none where
/// neither is there or no display is known.
std::optional<std::string> dialog_program();

/// What to run, word by word, for no shell: nothing in a name is taken for anything else.
std::vector<std::string> dialog_words(const std::string& program, const DialogAsk& ask);

/// What came of it.
struct DialogAnswer {
  enum class Kind { file, cancelled, no_dialog };
  Kind kind = Kind::cancelled;
  std::string path;
};
DialogAnswer dialog_answer(const Ended& ended);

}  // namespace ridgeward::document

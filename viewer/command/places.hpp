#pragma once
// Where the program finds what it ships with: from the executable, never from the environment.

#include <string>

namespace ridgeward::command {

/// Folder of the executable, symbolic links followed.
std::string executable_folder();
/// models/ installed beside the executable's folder or of the source tree it was built from.
std::string models_folder();
/// Where script, style sheet and library of the HTML report are, likewise.
std::string report_folder();
bool exists(const std::string& path);
/// From where one stands, without detours; the path itself where that is not known.
std::string full_path(const std::string& path);
/// "us-irc-2021, us-ibc-2018, ..." as installed.
std::string known_codes();

}  // namespace ridgeward::command

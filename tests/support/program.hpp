#pragma once
// The program as a user starts it: words in, exit status, standard output and error out.

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::support {

/// A folder of its own, gone when its holder goes.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  Folder(Folder&&) = delete;
  Folder& operator=(Folder&&) = delete;

  /// The path of a file in it, written or not.
  std::string file(const std::string& name) const { return (path_ / name).string(); }
  /// Writes a file in it and gives its path.
  std::string write(const std::string& name, std::string_view bytes) const;
  /// Names of everything in it, sorted.
  std::vector<std::string> names() const;

 private:
  std::filesystem::path path_;
};

struct Ran {
  int status = -1;       ///< exit status; 128 and the signal's number where one ended it
  bool is_late = false;  ///< it had to be ended after longest_s
  std::string out;
  std::string err;
};

inline constexpr int longest_s = 120;

/// Starts the program without a display and waits for it.
Ran run_program(const std::vector<std::string>& words, std::string_view input = "");

/// All bytes of a file; empty where there is none.
std::string bytes_of(const std::string& path);

std::vector<std::string> lines_of(const std::string& text);

/// Whether `text` contains `part`.
bool has(const std::string& text, std::string_view part);

/// Path of a demo house.
std::string demo_house(const std::string& name);

}  // namespace ridgeward::support

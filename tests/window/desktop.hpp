#pragma once
// A display of its own (Xvfb), the program in a window on it, and a hand on mouse and keyboard
// (xdotool). Everything waits at most a stated time and fails by throwing.

#include "draw/image.hpp"

#include <functional>
#include <memory>
#include <string>
#include <sys/types.h>
#include <vector>

namespace ridgeward::test_window {

/// A child process with its standard output and error read through pipes; killed when dropped.
class Process {
 public:
  /// `environment`: NAME=value entries that replace or add to this process's own; an entry
  /// "NAME" without "=" takes the variable away.
  Process(const std::vector<std::string>& words, const std::vector<std::string>& environment);
  Process(const Process&) = delete;
  Process& operator=(const Process&) = delete;
  ~Process();

  /// A whole line of its output.
  std::string line(double within_s);
  /// Its exit status.
  int exit_code(double within_s);
  /// All of its standard error; after exit_code().
  std::string errors() const;

 private:
  pid_t pid_ = -1;
  int output_ = -1;
  int errors_ = -1;
  bool is_over_ = false;
  std::string pending_;
};

/// Runs to the end; throws unless the exit status is 0.
void run(const std::vector<std::string>& words, const std::vector<std::string>& environment);
/// Until `is_so`, or throws with `what`.
void wait_until(const std::function<bool()>& is_so, double within_s, const std::string& what);

/// A widget as the program's dump tells it.
struct Widget {
  std::string id;
  std::string kind;
  std::string state;
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
};

class Desktop {
 public:
  /// Opens the display and the program with `arguments` after "view" on it, and waits until it has
  /// drawn. Files are chosen in the window unless `arguments` say otherwise. `environment`: as of
  /// Process.
  explicit Desktop(const std::vector<std::string>& arguments,
                   std::vector<std::string> environment = {});
  ~Desktop();
  Desktop(const Desktop&) = delete;
  Desktop& operator=(const Desktop&) = delete;

  std::vector<Widget> widgets() const;
  /// The widget of that id once it is there.
  Widget widget(const std::string& id) const;
  bool has(const std::string& id) const;
  /// Waits until the widget says `state`.
  void expect(const std::string& id, const std::string& state) const;
  /// Waits until the widget says something else than `state`.
  void expect_change(const std::string& id, const std::string& state) const;

  /// Ends the program as a power cut would, and starts it again with other arguments.
  void kill_and_start(const std::vector<std::string>& arguments);
  /// Types into what has the keys.
  void type(const std::string& text) const;
  const std::string& folder() const { return folder_; }

  void xdotool(const std::vector<std::string>& words) const;
  void click(const Widget& widget) const;
  void drag(int from_x, int from_y, int by_x, int by_y, int button) const;
  void key(const std::string& name) const;
  draw::Image screen() const;
  Process& program() { return *program_; }

 private:
  void start(const std::vector<std::string>& arguments);

  std::string folder_;
  std::string dump_;
  std::string display_;
  std::vector<std::string> environment_;
  std::unique_ptr<Process> server_;
  std::unique_ptr<Process> program_;
};

}  // namespace ridgeward::test_window

#include "window/desktop.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <poll.h>
#include <spawn.h>
#include <sstream>
#include <stdexcept>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

extern char** environ;  // NOLINT: POSIX gives it no header of its own

namespace ridgeward::test_window {
namespace {

using Clock = std::chrono::steady_clock;
constexpr double patience_s = 30.0;

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) {
    text += (text.empty() ? "" : " ") + word;
  }
  return text;
}

std::vector<std::string> merged(const std::vector<std::string>& changes) {
  std::vector<std::string> all;
  for (char** entry = environ; *entry != nullptr; ++entry) {
    const std::string text(*entry);
    const std::string name = text.substr(0, text.find('='));
    const bool is_changed = std::any_of(changes.begin(), changes.end(), [&](const std::string& c) {
      return c.substr(0, c.find('=')) == name;
    });
    if (!is_changed) {
      all.push_back(text);
    }
  }
  std::copy_if(changes.begin(), changes.end(), std::back_inserter(all),
               [](const std::string& c) { return c.find('=') != std::string::npos; });
  return all;
}

std::vector<char*> pointers(std::vector<std::string>& words) {
  std::vector<char*> list;
  for (std::string& word : words) {
    list.push_back(word.data());
  }
  list.push_back(nullptr);
  return list;
}

std::string read_whole(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

std::uint32_t big_endian(const std::string& bytes, std::size_t index) {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    value = value << 8U | static_cast<std::uint8_t>(bytes.at(4 * index + i));
  }
  return value;
}

}  // namespace

Process::Process(const std::vector<std::string>& words,
                 const std::vector<std::string>& environment) {
  std::array<int, 2> output{};
  std::array<int, 2> errors{};
  if (pipe2(output.data(), O_CLOEXEC) != 0 || pipe2(errors.data(), O_CLOEXEC) != 0) {
    throw std::runtime_error("no pipes");
  }
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, output[1], 1);
  posix_spawn_file_actions_adddup2(&actions, errors[1], 2);
  std::vector<std::string> arguments = words;
  std::vector<std::string> variables = merged(environment);
  const int failed = posix_spawnp(&pid_, words.front().c_str(), &actions, nullptr,
                                  pointers(arguments).data(), pointers(variables).data());
  posix_spawn_file_actions_destroy(&actions);
  close(output[1]);
  close(errors[1]);
  output_ = output[0];
  errors_ = errors[0];
  if (failed != 0) {
    throw std::runtime_error("can't start " + joined(words));
  }
}

Process::~Process() {
  if (!is_over_ && pid_ > 0) {
    kill(pid_, SIGKILL);
    waitpid(pid_, nullptr, 0);
  }
  close(output_);
  close(errors_);
}

std::string Process::line(double within_s) {
  const auto end = Clock::now() + std::chrono::duration<double>(within_s);
  while (pending_.find('\n') == std::string::npos) {
    const auto left =
        std::chrono::duration_cast<std::chrono::milliseconds>(end - Clock::now()).count();
    pollfd ready{output_, POLLIN, 0};
    if (left <= 0 || poll(&ready, 1, static_cast<int>(left)) <= 0) {
      throw std::runtime_error("no line in time");
    }
    std::array<char, 256> bytes{};
    const ssize_t count = read(output_, bytes.data(), bytes.size());
    if (count <= 0) {
      throw std::runtime_error("output ended: " + errors());
    }
    pending_.append(bytes.data(), static_cast<std::size_t>(count));
  }
  const auto end_of_line = pending_.find('\n');
  std::string text = pending_.substr(0, end_of_line);
  pending_.erase(0, end_of_line + 1);
  return text;
}

int Process::exit_code(double within_s) {
  int status = 0;
  wait_until([&] { return waitpid(pid_, &status, WNOHANG) == pid_; }, within_s, "no exit");
  is_over_ = true;
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

std::string Process::errors() const {
  std::string text;
  std::array<char, 4096> bytes{};
  pollfd ready{errors_, POLLIN, 0};
  while (poll(&ready, 1, 200) > 0) {
    const ssize_t count = read(errors_, bytes.data(), bytes.size());
    if (count <= 0) {
      break;
    }
    text.append(bytes.data(), static_cast<std::size_t>(count));
  }
  return text;
}

void run(const std::vector<std::string>& words, const std::vector<std::string>& environment) {
  Process process(words, environment);
  if (process.exit_code(patience_s) != 0) {
    throw std::runtime_error(joined(words) + ": " + process.errors());
  }
}

void wait_until(const std::function<bool()>& is_so, double within_s, const std::string& what) {
  const auto end = Clock::now() + std::chrono::duration<double>(within_s);
  while (!is_so()) {
    if (Clock::now() > end) {
      throw std::runtime_error("waited in vain: " + what);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
}

Desktop::Desktop(const std::vector<std::string>& arguments, std::vector<std::string> environment)
    : environment_(std::move(environment)) {
  std::string name = (std::filesystem::temp_directory_path() / "window-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) {
    throw std::runtime_error("no folder to work in");
  }
  folder_ = name;
  dump_ = folder_ + "/widgets.jsonl";
  server_ = std::make_unique<Process>(
      std::vector<std::string>{"Xvfb", "-displayfd", "1", "-screen", "0", "1280x800x24",
                               "-nolisten", "tcp", "-fbdir", folder_},
      std::vector<std::string>{});
  display_ = "DISPLAY=:" + server_->line(patience_s);
  start(arguments);
}

void Desktop::start(const std::vector<std::string>& arguments) {
  std::vector<std::string> words{RIDGEWARD_EXECUTABLE, "view", "--ui-dump", dump_};
  if (std::find(arguments.begin(), arguments.end(), "--dialogs") == arguments.end()) {
    words.insert(words.end(), {"--dialogs", "window"});
  }
  words.insert(words.end(), arguments.begin(), arguments.end());
  // What the window remembers stays out of the person's own folders.
  std::vector<std::string> environment{display_, "XDG_STATE_HOME=" + folder_ + "/state",
                                       "XDG_CONFIG_HOME=" + folder_ + "/config"};
  environment.insert(environment.end(), environment_.begin(), environment_.end());
  program_ = std::make_unique<Process>(words, environment);
  if (program_->line(patience_s) != "ready") {
    throw std::runtime_error("the program is not ready");
  }
  xdotool({"mousemove", "640", "790"});
}

void Desktop::kill_and_start(const std::vector<std::string>& arguments) {
  program_.reset();  // SIGKILL
  start(arguments);
}

void Desktop::type(const std::string& text) const { xdotool({"type", "--delay", "15", text}); }

Desktop::~Desktop() {
  program_.reset();
  server_.reset();
  std::error_code ignored;
  std::filesystem::remove_all(folder_, ignored);
}

std::vector<Widget> Desktop::widgets() const {
  std::vector<Widget> widgets;
  std::ifstream file(dump_);
  std::string line;
  while (std::getline(file, line)) {
    const auto json = nlohmann::json::parse(line);
    widgets.push_back({json.at("id"), json.at("kind"), json.at("state"), json.at("x"), json.at("y"),
                       json.at("width"), json.at("height")});
  }
  return widgets;
}

bool Desktop::has(const std::string& id) const {
  const std::vector<Widget> all = widgets();
  return std::any_of(all.begin(), all.end(), [&](const Widget& w) { return w.id == id; });
}

Widget Desktop::widget(const std::string& id) const {
  Widget found;
  wait_until(
      [&] {
        for (const Widget& widget : widgets()) {
          if (widget.id == id) {
            found = widget;
            return true;
          }
        }
        return false;
      },
      patience_s, "a widget " + id);
  return found;
}

void Desktop::expect(const std::string& id, const std::string& state) const {
  wait_until([&] { return widget(id).state == state; }, patience_s, id + " to say " + state);
}

void Desktop::expect_change(const std::string& id, const std::string& state) const {
  wait_until([&] { return widget(id).state != state; }, patience_s,
             id + " to say something else than " + state);
}

void Desktop::xdotool(const std::vector<std::string>& words) const {
  std::vector<std::string> all{"xdotool"};
  all.insert(all.end(), words.begin(), words.end());
  run(all, {display_});
}

void Desktop::click(const Widget& widget) const {
  // Near the left end: the box of a check box, the start of a field.
  const double x = widget.x + std::min(8.0, widget.width / 2);
  xdotool({"mousemove", std::to_string(static_cast<int>(x)),
           std::to_string(static_cast<int>(widget.y + widget.height / 2)), "click", "1"});
}

void Desktop::drag(int from_x, int from_y, int by_x, int by_y, int button) const {
  const std::string which = std::to_string(button);
  xdotool({"mousemove", std::to_string(from_x), std::to_string(from_y), "mousedown", which});
  for (int step = 1; step <= 4; ++step) {
    xdotool({"mousemove", std::to_string(from_x + by_x * step / 4),
             std::to_string(from_y + by_y * step / 4)});
  }
  xdotool({"mouseup", which});
}

void Desktop::key(const std::string& name) const { xdotool({"key", name}); }

draw::Image Desktop::screen() const {
  // Xvfb keeps its screen as an X window dump: a header of 32-bit words, colours, pixels.
  const std::string bytes = read_whole(folder_ + "/Xvfb_screen0");
  draw::Image image;
  image.width = static_cast<int>(big_endian(bytes, 4));
  image.height = static_cast<int>(big_endian(bytes, 5));
  const std::size_t row = big_endian(bytes, 12);
  const std::size_t start = big_endian(bytes, 0) + 12 * big_endian(bytes, 19);
  for (std::size_t y = 0; y < static_cast<std::size_t>(image.height); ++y) {
    for (std::size_t x = 0; x < static_cast<std::size_t>(image.width); ++x) {
      for (const std::size_t channel : {2U, 1U, 0U}) {
        image.rgb.push_back(static_cast<std::uint8_t>(bytes.at(start + y * row + 4 * x + channel)));
      }
    }
  }
  return image;
}

}  // namespace ridgeward::test_window

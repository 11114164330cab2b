#include "support/program.hpp"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <iterator>
#include <spawn.h>
#include <sstream>
#include <stdexcept>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace ridgeward::support {

namespace fs = std::filesystem;

namespace {

/// The environment but for what names a display.
std::vector<std::string> surroundings() {
  std::vector<std::string> all;
  for (char** entry = environ; *entry != nullptr; ++entry) {
    const std::string text = *entry;
    if (text.rfind("DISPLAY=", 0) != 0 && text.rfind("WAYLAND_DISPLAY=", 0) != 0) {
      all.push_back(text);
    }
  }
  return all;
}

std::vector<char*> pointers(std::vector<std::string>& texts) {
  std::vector<char*> all;
  all.reserve(texts.size() + 1);
  for (std::string& text : texts) {
    all.push_back(text.data());
  }
  all.push_back(nullptr);
  return all;
}

/// Waits until it ends or its time is up.
void wait_for(pid_t child, Ran& ran) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(longest_s);
  int status = 0;
  while (::waitpid(child, &status, WNOHANG) == 0) {
    if (!ran.is_late && std::chrono::steady_clock::now() > end) {
      ran.is_late = true;
      ::kill(child, SIGKILL);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

}  // namespace

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "ridgeward-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) {
    throw std::runtime_error("no folder for the test");
  }
  path_ = name;
}

Folder::~Folder() {
  std::error_code error;
  fs::remove_all(path_, error);
}

std::string Folder::write(const std::string& name, std::string_view bytes) const {
  std::ofstream(path_ / name, std::ios::binary) << bytes;
  return file(name);
}

std::vector<std::string> Folder::names() const {
  std::vector<std::string> all;
  for (const auto& entry : fs::directory_iterator(path_)) {
    all.push_back(entry.path().filename().string());
  }
  std::sort(all.begin(), all.end());
  return all;
}

Ran run_program(const std::vector<std::string>& words, std::string_view input) {
  const Folder folder;
  const std::string in = folder.write("in", input);
  std::vector<std::string> argv_texts{RIDGEWARD_EXECUTABLE};
  argv_texts.insert(argv_texts.end(), words.begin(), words.end());
  std::vector<std::string> environment = surroundings();
  posix_spawn_file_actions_t files{};
  ::posix_spawn_file_actions_init(&files);
  const auto open = [&](int number, const std::string& path, int how) {
    ::posix_spawn_file_actions_addopen(&files, number, path.c_str(), how, 0600);
  };
  open(STDIN_FILENO, in, O_RDONLY);
  open(STDOUT_FILENO, folder.file("out"), O_WRONLY | O_CREAT | O_TRUNC);
  open(STDERR_FILENO, folder.file("err"), O_WRONLY | O_CREAT | O_TRUNC);
  pid_t child = 0;
  const int trouble = ::posix_spawn(&child, RIDGEWARD_EXECUTABLE, &files, nullptr,
                                    pointers(argv_texts).data(), pointers(environment).data());
  ::posix_spawn_file_actions_destroy(&files);
  if (trouble != 0) {
    throw std::runtime_error("the program can't be started");
  }
  Ran ran;
  wait_for(child, ran);
  ran.out = bytes_of(folder.file("out"));
  ran.err = bytes_of(folder.file("err"));
  return ran;
}

std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> all;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    all.push_back(line);
  }
  return all;
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

std::string demo_house(const std::string& name) {
  return std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/" + name + ".roof.json";
}

}  // namespace ridgeward::support

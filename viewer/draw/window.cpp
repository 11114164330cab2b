#include "draw/window.hpp"

#include "draw/gui.hpp"
#include "panels/event_queue.hpp"
#include "panels/theme.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <backends/imgui_impl_glfw.h>
#include <utility>
#include <vector>

namespace ridgeward::draw {

using panels::Event;

struct Window::System {
  GLFWwindow* window = nullptr;
  std::unique_ptr<Gui> gui;
  bool has_glfw = false;
  bool has_panels = false;
  panels::EventQueue events;
  double last_frame_s = 0.0;
  std::optional<std::string> dropped;
};

/// What the system tells; every event waits for its frame and asks for more of them.
struct Window::Events {
  static Window& owner_of(GLFWwindow* window) {
    return *static_cast<Window*>(glfwGetWindowUserPointer(window));
  }
  static void push(GLFWwindow* window, const Event& event) {
    owner_of(window).system_->events.push(event);
    owner_of(window).touch();
  }
  static void drop(GLFWwindow* window, int count, const char** paths) {
    if (count > 0) {
      owner_of(window).system_->dropped = paths[0];
    }
    owner_of(window).touch();
  }

  static void listen(GLFWwindow* window) {
    glfwSetDropCallback(window, drop);
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double x, double y) {
      push(w, {Event::Kind::move, {x, y}, 0, false});
    });
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int button, int action, int) {
      push(w, {Event::Kind::button, {}, button, action == GLFW_PRESS});
    });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double x, double y) {
      push(w, {Event::Kind::wheel, {x, y}, 0, false});
    });
    glfwSetKeyCallback(window, [](GLFWwindow* w, int key, int, int action, int) {
      if (key >= 0 && action != GLFW_REPEAT) {
        push(w, {Event::Kind::key, {}, key, action == GLFW_PRESS});
      }
    });
    glfwSetCharCallback(window, [](GLFWwindow* w, unsigned int letter) {
      push(w, {Event::Kind::letter, {}, static_cast<int>(letter), false});
    });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { owner_of(w).touch(); });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { owner_of(w).touch(); });
  }
};

namespace {

void hand_over(const Event& event, ImGuiIO& io) {
  switch (event.kind) {
    case Event::Kind::move:
      io.MousePos = {static_cast<float>(event.at.x), static_cast<float>(event.at.y)};
      return;
    case Event::Kind::button:
      if (event.code >= 0 && event.code < IM_ARRAYSIZE(io.MouseDown)) {
        io.MouseDown[event.code] = event.down;
      }
      return;
    case Event::Kind::wheel:
      io.MouseWheelH += static_cast<float>(event.at.x);
      io.MouseWheel += static_cast<float>(event.at.y);
      return;
    case Event::Kind::key:
      if (event.code < IM_ARRAYSIZE(io.KeysDown)) {
        io.KeysDown[event.code] = event.down;
      }
      io.KeyCtrl = io.KeysDown[GLFW_KEY_LEFT_CONTROL] || io.KeysDown[GLFW_KEY_RIGHT_CONTROL];
      io.KeyShift = io.KeysDown[GLFW_KEY_LEFT_SHIFT] || io.KeysDown[GLFW_KEY_RIGHT_SHIFT];
      io.KeyAlt = io.KeysDown[GLFW_KEY_LEFT_ALT] || io.KeysDown[GLFW_KEY_RIGHT_ALT];
      io.KeySuper = io.KeysDown[GLFW_KEY_LEFT_SUPER] || io.KeysDown[GLFW_KEY_RIGHT_SUPER];
      return;
    case Event::Kind::letter:
      io.AddInputCharacter(static_cast<unsigned int>(event.code));
      return;
  }
}

/// What the keys without a letter are called in Input::pressed; the number pad's digits are digits.
constexpr auto named_keys = std::to_array<std::pair<int, const char*>>({
    {GLFW_KEY_SPACE, "Space"},
    {GLFW_KEY_HOME, "Home"},
    {GLFW_KEY_ESCAPE, "Esc"},
    {GLFW_KEY_ENTER, "Enter"},
    {GLFW_KEY_TAB, "Tab"},
    {GLFW_KEY_DELETE, "Delete"},
    {GLFW_KEY_F1, "F1"},
    {GLFW_KEY_F6, "F6"},
    {GLFW_KEY_LEFT, "Left"},
    {GLFW_KEY_RIGHT, "Right"},
    {GLFW_KEY_UP, "Up"},
    {GLFW_KEY_DOWN, "Down"},
    {GLFW_KEY_PAGE_UP, "Page Up"},
    {GLFW_KEY_PAGE_DOWN, "Page Down"},
    {GLFW_KEY_KP_ENTER, "Enter"},
    {GLFW_KEY_KP_DECIMAL, "F"},
    {GLFW_KEY_KP_0, "Home"},
});

std::string name_of(int code) {
  if (code >= GLFW_KEY_KP_1 && code <= GLFW_KEY_KP_9) {
    return std::to_string(code - GLFW_KEY_KP_0);
  }
  if ((code >= GLFW_KEY_A && code <= GLFW_KEY_Z) || (code >= GLFW_KEY_1 && code <= GLFW_KEY_9)) {
    return {static_cast<char>(code)};
  }
  const auto* const found = std::find_if(named_keys.begin(), named_keys.end(),
                                         [&](const auto& one) { return one.first == code; });
  return found == named_keys.end() ? std::string() : found->second;
}

/// A slow frame must not make two of a switch; what moves may go on while its key is held.
bool goes_on(int code) {
  return code >= GLFW_KEY_RIGHT && code <= GLFW_KEY_PAGE_DOWN;  // arrows, Page Up and Down
}

}  // namespace

Result<std::unique_ptr<Window>> Window::open(int width, int height, double scale) {
  const char* cure =
      "on a machine without a display take a picture: ridgeward picture MODEL -o F.png";
  std::unique_ptr<Window> made(new Window);  // NOLINT: the constructor is private
  made->system_ = std::make_unique<System>();
  System& system = *made->system_;
  if (glfwInit() != GLFW_TRUE) {
    return Fault{"window.no_display", "", "there is no display to open a window on", cure};
  }
  system.has_glfw = true;
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_DEPTH_BITS, 0);
  system.window = glfwCreateWindow(width, height, "Ridgeward", nullptr, nullptr);
  if (system.window == nullptr) {
    return Fault{"window.no_graphics", "", "the display offers no OpenGL 3.3", cure};
  }
  glfwMakeContextCurrent(system.window);
  glfwSwapInterval(1);
  glfwSetWindowUserPointer(system.window, made.get());
  float x_scale = 1.0F;
  float y_scale = 1.0F;
  glfwGetWindowContentScale(system.window, &x_scale, &y_scale);
  made->scale_ = scale > 0 ? scale : static_cast<double>(x_scale);
  system.gui = std::make_unique<Gui>(made->scale_);
  ImGui_ImplGlfw_InitForOpenGL(system.window, false);
  Events::listen(system.window);
  system.has_panels = true;
  return made;
}

Window::~Window() {
  if (system_->has_panels) {
    ImGui_ImplGlfw_Shutdown();
  }
  system_->gui.reset();
  if (system_->window != nullptr) {
    glfwDestroyWindow(system_->window);
  }
  if (system_->has_glfw) {
    glfwTerminate();
  }
}

int Window::width_px() const {
  int width = 0;
  glfwGetFramebufferSize(system_->window, &width, nullptr);
  return width;
}

int Window::height_px() const {
  int height = 0;
  glfwGetFramebufferSize(system_->window, nullptr, &height);
  return height;
}

bool Window::is_closing() const { return glfwWindowShouldClose(system_->window) == GLFW_TRUE; }

void Window::set_title(const std::string& title) {
  glfwSetWindowTitle(system_->window, title.c_str());
}

void Window::stay_open() { glfwSetWindowShouldClose(system_->window, GLFW_FALSE); }

bool Window::wait(double at_most_s) {
  if (frames_left_ > 0) {
    glfwPollEvents();
  } else if (soon_s_ > 0.0 && (at_most_s <= 0.0 || soon_s_ <= at_most_s)) {
    glfwWaitEventsTimeout(soon_s_);
    frames_left_ = std::max(frames_left_, 1);
  } else if (at_most_s > 0.0) {
    glfwWaitEventsTimeout(at_most_s);
  } else {
    glfwWaitEvents();
  }
  if (frames_left_ <= 0 || width_px() <= 0 || height_px() <= 0) {
    return false;
  }
  --frames_left_;
  soon_s_ = 0.0;
  return true;
}

void Window::wake() { glfwPostEmptyEvent(); }
double Window::frame_s() { return static_cast<double>(ImGui::GetIO().DeltaTime); }

void Window::dress(double larger, bool is_dark) {
  const double type_scale =
      panels::fitting_scale(scale_ * larger, width_px(), height_px()) / scale_;
  if (type_scale == type_scale_ && is_dark == is_dark_) {
    return;
  }
  type_scale_ = type_scale;
  is_dark_ = is_dark;
  system_->gui->dress(scale(), is_dark);
  touch();
}

void Window::begin_frame() {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {static_cast<float>(width_px()), static_cast<float>(height_px())};
  const double now = glfwGetTime();
  io.DeltaTime = static_cast<float>(std::clamp(now - system_->last_frame_s, 1e-4, 0.25));
  system_->last_frame_s = now;
  for (const Event& event : system_->events.next_frame(io.WantTextInput)) {
    hand_over(event, io);
  }
  if (!system_->events.is_empty()) {
    touch();
  }
  Gui::begin_frame();
}

void Window::end_frame() { Gui::end(); }

panels::Input Window::input() {
  const ImGuiIO& io = ImGui::GetIO();
  panels::Input input;
  input.at = {io.MousePos.x, io.MousePos.y};
  input.left_down = io.MouseDown[0];
  input.right_down = io.MouseDown[1];
  input.middle_down = io.MouseDown[2];
  input.shift = io.KeyShift;
  input.wheel = static_cast<double>(io.MouseWheel);
  input.over_panel = io.WantCaptureMouse;
  input.typing = io.WantTextInput;
  const std::string held = std::string(io.KeyCtrl ? "Ctrl+" : "") + (io.KeyAlt ? "Alt+" : "") +
                           (io.KeyShift ? "Shift+" : "");
  for (int code = GLFW_KEY_SPACE; code <= GLFW_KEY_LAST; ++code) {
    if (const std::string name = name_of(code);
        !name.empty() && ImGui::IsKeyPressed(code, goes_on(code))) {
      input.pressed.push_back(held + name);
    }
  }
  return input;
}

void Window::show() { glfwSwapBuffers(system_->window); }

std::optional<std::string> Window::dropped() { return std::exchange(system_->dropped, {}); }

}  // namespace ridgeward::draw

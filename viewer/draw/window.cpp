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

using panels::Key;

bool goes_on(Key key) {
  switch (key) {
    case Key::turn_left:
    case Key::turn_right:
    case Key::turn_up:
    case Key::turn_down:
    case Key::cut_back:
    case Key::cut_on:
      return true;
    default:
      return false;
  }
}

constexpr auto keys = std::to_array<std::pair<int, Key>>({
    {GLFW_KEY_G, Key::air},
    {GLFW_KEY_SPACE, Key::air_play},
    {GLFW_KEY_C, Key::air_case},
    {GLFW_KEY_F, Key::frame},
    {GLFW_KEY_A, Key::fit},
    {GLFW_KEY_HOME, Key::fit},
    {GLFW_KEY_ESCAPE, Key::clear},
    {GLFW_KEY_F1, Key::help},
    {GLFW_KEY_U, Key::units},
    {GLFW_KEY_LEFT, Key::turn_left},
    {GLFW_KEY_RIGHT, Key::turn_right},
    {GLFW_KEY_UP, Key::turn_up},
    {GLFW_KEY_DOWN, Key::turn_down},
    {GLFW_KEY_1, Key::pad_1},
    {GLFW_KEY_2, Key::pad_2},
    {GLFW_KEY_3, Key::pad_3},
    {GLFW_KEY_4, Key::pad_4},
    {GLFW_KEY_5, Key::pad_5},
    {GLFW_KEY_6, Key::pad_6},
    {GLFW_KEY_7, Key::pad_7},
    {GLFW_KEY_8, Key::pad_8},
    {GLFW_KEY_9, Key::pad_9},
    {GLFW_KEY_KP_1, Key::pad_1},
    {GLFW_KEY_KP_2, Key::pad_2},
    {GLFW_KEY_KP_3, Key::pad_3},
    {GLFW_KEY_KP_4, Key::pad_4},
    {GLFW_KEY_KP_5, Key::pad_5},
    {GLFW_KEY_KP_6, Key::pad_6},
    {GLFW_KEY_KP_7, Key::pad_7},
    {GLFW_KEY_KP_8, Key::pad_8},
    {GLFW_KEY_KP_9, Key::pad_9},
    {GLFW_KEY_KP_DECIMAL, Key::frame},
    {GLFW_KEY_KP_0, Key::fit},
    {GLFW_KEY_O, Key::flat},
    {GLFW_KEY_X, Key::cut},
    {GLFW_KEY_PAGE_DOWN, Key::cut_back},
    {GLFW_KEY_PAGE_UP, Key::cut_on},
    {GLFW_KEY_P, Key::peel},
    {GLFW_KEY_M, Key::measure},
    {GLFW_KEY_L, Key::lengths},
    {GLFW_KEY_S, Key::sun},
    {GLFW_KEY_N, Key::dark},
    {GLFW_KEY_T, Key::large},
});

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
  for (const auto& [code, key] : keys) {
    // A slow frame must not make two of a switch; what moves may go on while its key is held.
    if (!io.KeyCtrl && ImGui::IsKeyPressed(code, goes_on(key))) {
      input.pressed.push_back(key);
    }
  }
  for (int code = GLFW_KEY_A; code <= GLFW_KEY_Z; ++code) {
    if (ImGui::IsKeyPressed(code)) {
      input.chords.push_back({static_cast<char>(code), io.KeyCtrl, io.KeyShift, false});
    }
  }
  if (ImGui::IsKeyPressed(GLFW_KEY_DELETE)) {
    input.chords.push_back({0, io.KeyCtrl, io.KeyShift, true});
  }
  if (io.KeyCtrl) {
    input.pressed.clear();  // letters with Ctrl are commands
  }
  if (io.KeyCtrl && ImGui::IsKeyPressed(GLFW_KEY_Q)) {
    input.pressed.push_back(Key::quit);
  }
  return input;
}

void Window::show() { glfwSwapBuffers(system_->window); }

std::optional<std::string> Window::dropped() { return std::exchange(system_->dropped, {}); }

}  // namespace ridgeward::draw

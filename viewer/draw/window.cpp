#include "draw/window.hpp"

#include "draw/gui.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <array>
#include <backends/imgui_impl_glfw.h>
#include <utility>

namespace ridgeward::draw {

struct Window::System {
  GLFWwindow* window = nullptr;
  std::unique_ptr<Gui> gui;
  bool has_glfw = false;
  bool has_panels = false;
  std::optional<std::string> dropped;
  Window* owner = nullptr;
};

namespace {

Window& owner_of(GLFWwindow* window) {
  return *static_cast<Window*>(glfwGetWindowUserPointer(window));
}

void touched(GLFWwindow* window) { owner_of(window).touch(); }

/// Every event asks for frames; the panels' library calls these after its own.
void listen(GLFWwindow* window) {
  glfwSetCursorPosCallback(window, [](GLFWwindow* w, double, double) { touched(w); });
  glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int, int, int) { touched(w); });
  glfwSetScrollCallback(window, [](GLFWwindow* w, double, double) { touched(w); });
  glfwSetKeyCallback(window, [](GLFWwindow* w, int, int, int, int) { touched(w); });
  glfwSetCharCallback(window, [](GLFWwindow* w, unsigned int) { touched(w); });
  glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int) { touched(w); });
  glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int) { touched(w); });
  glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { touched(w); });
  glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { touched(w); });
}

using panels::Key;
constexpr std::array<std::pair<int, Key>, 30> keys{{
    {GLFW_KEY_F, Key::frame},          {GLFW_KEY_A, Key::fit},
    {GLFW_KEY_HOME, Key::fit},         {GLFW_KEY_ESCAPE, Key::clear},
    {GLFW_KEY_F1, Key::help},          {GLFW_KEY_U, Key::units},
    {GLFW_KEY_LEFT, Key::turn_left},   {GLFW_KEY_RIGHT, Key::turn_right},
    {GLFW_KEY_UP, Key::turn_up},       {GLFW_KEY_DOWN, Key::turn_down},
    {GLFW_KEY_1, Key::pad_1},          {GLFW_KEY_2, Key::pad_2},
    {GLFW_KEY_3, Key::pad_3},          {GLFW_KEY_4, Key::pad_4},
    {GLFW_KEY_5, Key::pad_5},          {GLFW_KEY_6, Key::pad_6},
    {GLFW_KEY_7, Key::pad_7},          {GLFW_KEY_8, Key::pad_8},
    {GLFW_KEY_9, Key::pad_9},          {GLFW_KEY_KP_1, Key::pad_1},
    {GLFW_KEY_KP_2, Key::pad_2},       {GLFW_KEY_KP_3, Key::pad_3},
    {GLFW_KEY_KP_4, Key::pad_4},       {GLFW_KEY_KP_5, Key::pad_5},
    {GLFW_KEY_KP_6, Key::pad_6},       {GLFW_KEY_KP_7, Key::pad_7},
    {GLFW_KEY_KP_8, Key::pad_8},       {GLFW_KEY_KP_9, Key::pad_9},
    {GLFW_KEY_KP_DECIMAL, Key::frame}, {GLFW_KEY_KP_0, Key::fit},
}};

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
  system.owner = made.get();
  glfwSetWindowUserPointer(system.window, made.get());
  listen(system.window);
  glfwSetDropCallback(system.window, [](GLFWwindow* w, int count, const char** paths) {
    if (count > 0) {
      owner_of(w).system_->dropped = paths[0];
    }
    touched(w);
  });
  float x_scale = 1.0F;
  float y_scale = 1.0F;
  glfwGetWindowContentScale(system.window, &x_scale, &y_scale);
  made->scale_ = scale > 0 ? scale : static_cast<double>(x_scale);
  system.gui = std::make_unique<Gui>(made->scale_);
  ImGui_ImplGlfw_InitForOpenGL(system.window, true);
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

bool Window::wait() {
  if (frames_left_ > 0) {
    glfwPollEvents();
  } else {
    glfwWaitEvents();
  }
  if (frames_left_ <= 0 || width_px() <= 0 || height_px() <= 0) {
    return false;
  }
  --frames_left_;
  return true;
}

void Window::begin_frame() {
  ImGui_ImplGlfw_NewFrame();
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
    if (ImGui::IsKeyPressed(code)) {
      input.pressed.push_back(key);
    }
  }
  if (io.KeyCtrl && ImGui::IsKeyPressed(GLFW_KEY_Q)) {
    input.pressed.push_back(Key::quit);
  }
  return input;
}

void Window::show() { glfwSwapBuffers(system_->window); }

std::optional<std::string> Window::dropped() { return std::exchange(system_->dropped, {}); }

}  // namespace ridgeward::draw

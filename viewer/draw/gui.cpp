#include "draw/gui.hpp"

#include "panels/theme.hpp"

#include <imgui.h>

#include <backends/imgui_impl_opengl3.h>

namespace ridgeward::draw {

Gui::Gui(double scale, bool is_dark) {
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  ImGui::GetIO().LogFilename = nullptr;
  panels::set_theme(scale, is_dark);
  ImGui_ImplOpenGL3_Init("#version 330 core");
}

Gui::~Gui() {
  ImGui_ImplOpenGL3_Shutdown();
  ImGui::DestroyContext();
}

void Gui::dress(double scale, bool is_dark) {
  // Only the letters are made anew: the sizes of the backend's buffers outlive the buffers
  // themselves when all of its objects are destroyed, and nothing is drawn any more.
  const bool has_letters = ImGui::GetIO().Fonts->TexID != nullptr;
  ImGui_ImplOpenGL3_DestroyFontsTexture();
  panels::set_theme(scale, is_dark);
  if (has_letters) {
    ImGui_ImplOpenGL3_CreateFontsTexture();
  }
}

void Gui::begin_frame() {
  ImGui_ImplOpenGL3_NewFrame();
  ImGui::NewFrame();
}

void Gui::begin(int width, int height) {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
  io.DeltaTime = 1.0F / 60.0F;
  begin_frame();
}

void Gui::end() {
  ImGui::Render();
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

}  // namespace ridgeward::draw

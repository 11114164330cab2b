#include "papers/sheets.hpp"

#include "papers/crew_sheet.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/inspector_sheet.hpp"
#include "papers/lesson_sheet.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace ridgeward::papers {

namespace {

using Make = Drawing (*)(const Assessment&, units::Style, Paper);
constexpr std::array<std::pair<const char*, Make>, 4> all_sheets{{{"crew", crew_sheet},
                                                                  {"inspector", inspector_sheet},
                                                                  {"estimator", estimator_sheet},
                                                                  {"lesson", lesson_sheet}}};

}  // namespace

const std::vector<std::string>& sheet_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    all.reserve(all_sheets.size());
    for (const auto& [name, make] : all_sheets) {
      all.emplace_back(name);
    }
    return all;
  }();
  return names;
}

Drawing sheets(const Assessment& assessment, const std::vector<std::string>& names,
               units::Style style, Paper paper) {
  Drawing set;
  set.title = assessment.model.name.empty() ? "Unnamed roof" : assessment.model.name;
  set.size_mm = size_of(paper);
  for (const auto& [name, make] : all_sheets) {
    if (std::find(names.begin(), names.end(), name) != names.end()) {
      Drawing sheet = make(assessment, style, paper);
      std::move(sheet.pages.begin(), sheet.pages.end(), std::back_inserter(set.pages));
    }
  }
  return set;
}

}  // namespace ridgeward::papers

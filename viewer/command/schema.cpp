#include "codes/code_set.hpp"
#include "model/catalogue.hpp"
#include "model/read.hpp"
#include "papers/json.hpp"

#include "command/commands.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>
#include <string>

namespace ridgeward::command {

void add_schema(CLI::App& app, int& exit_code) {
  auto which = std::make_shared<std::string>("model");
  CLI::App* call = app.add_subcommand("schema", "Print the JSON Schema of a format");
  call->add_option("FORMAT", *which, "model, catalogue, code or assessment")
      ->check(CLI::IsMember({"model", "catalogue", "code", "assessment"}))
      ->capture_default_str();
  call->callback([which, &exit_code] {
    const std::string text = *which == "model"       ? model::schema()
                             : *which == "catalogue" ? model::catalogue_schema()
                             : *which == "code"      ? codes::code_set_schema()
                                                     : papers::assessment_schema();
    std::cout << text << (text.empty() || text.back() != '\n' ? "\n" : "");
    exit_code = 0;
  });
}

}  // namespace ridgeward::command

#include "placement/candidates.hpp"

#include "airflow/stage.hpp"
#include "vents/stage.hpp"

#include <fmt/format.h>

#include <utility>

namespace ridgeward::placement {

Trial tried(const Ground& ground, std::vector<model::IntakeRun> intake,
            std::vector<model::ExhaustVent> exhaust, Air air) {
  Trial trial;
  trial.model = ground.model;
  trial.model.intake = std::move(intake);
  trial.model.exhaust = std::move(exhaust);
  Result<vents::Vents> vents =
      vents::set_out(trial.model, ground.catalogue, ground.surface, ground.framing, ground.attic);
  ensure(vents.ok(), "what is placed can be set out");
  trial.vents = std::move(vents).value();
  trial.tests = codes::test(ground.code, ground.surface, ground.framing, ground.attic, trial.vents);
  if (air == Air::solved) {
    trial.airflow = airflow::breathe(
        {trial.model, ground.catalogue, ground.surface, ground.framing, ground.attic, trial.vents});
  }
  trial.findings = conflicts::find({trial.model, ground.catalogue, ground.surface, ground.framing,
                                    ground.attic, trial.vents, trial.tests, trial.airflow,
                                    air == Air::left_out, &ground.code});
  return trial;
}

std::string by_product(std::string words, const std::string& id, const std::string& product) {
  const std::string name = "of " + product;
  // Where the words name the product already, that is enough.
  for (const std::string& own : {fmt::format("{} ({})", id, product), id}) {
    for (std::size_t at = words.find(own); at != std::string::npos;
         at = words.find(own, at + name.size())) {
      words.replace(at, own.size(), name);
    }
  }
  return words;
}

Candidates candidates_on(const Ground& ground) {
  Candidates all;
  add_exhausts(ground, all);
  add_intakes(ground, all);
  return all;
}

}  // namespace ridgeward::placement

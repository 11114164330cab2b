// The laws of importers, held against the one that is linked in.
#include "importer.hpp"

#include "plugin/importer_abi.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <functional>
#include <random>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ridgeward::fuzz {

namespace {

struct Seen {
  std::size_t models = 0;
  std::size_t faults = 0;
  bool is_json = true;
};

Seen& seen(void* context) { return *static_cast<Seen*>(context); }

void emit(void* context, const char* json, std::size_t size) {
  ++seen(context).models;
  seen(context).is_json = seen(context).is_json && nlohmann::json::accept(json, json + size);
}

void need(bool holds, const char* law) {
  if (!holds) {
    std::fprintf(stderr, "broken: %s\n", law);
    std::abort();
  }
}

bool is_utf8(const char* words) {
  try {
    return !nlohmann::json(words).dump().empty();
  } catch (const nlohmann::json::exception&) {
    return false;
  }
}

void fault(void* context, const char* where, const char* what, const char* cure) {
  need(is_utf8(where) && is_utf8(what) && is_utf8(cure), "faults are UTF-8");
  seen(context).faults += std::strlen(what) > 0 && std::strlen(cure) > 0 ? 1U : 0U;
}

void note(void* /*context*/, const char* words) { need(is_utf8(words), "notes are UTF-8"); }
int go_on(void* /*context*/, double /*share*/) { return 1; }
int side_file(void* /*context*/, const char* /*name*/,
              void (* /*take*/)(void*, const char*, std::size_t), void* /*taker*/) {
  return 0;
}

/// Of any option: what a person may type, and what nobody should.
constexpr std::array<const char*, 16> anything{
    "",       "0",     "1",  "-1",  "0.02", "1e308",         "nan",      "6/12",
    "90 deg", "2.5 m", "8'", "1/0", "roof", "1 ft 0 1/0 in", "\xc3\xa4", "\xff"};

/// The importer's own description: its keys, and the words that a value may be ("y or z").
struct Option {
  std::string key;
  std::vector<std::string> words;
};
std::vector<Option> described(const std::string& name) {
  std::ifstream file(std::string(RIDGEWARD_IMPORTERS) + "/" + name + "/" + name + ".json");
  const auto description = nlohmann::json::parse(file);
  std::vector<Option> options;
  for (const auto& each : description.at("options")) {
    Option option{each.at("key"), {}};
    std::string words = each.at("value");
    std::replace(words.begin(), words.end(), ',', ' ');
    std::istringstream value(words);
    for (std::string word; value >> word;) {
      option.words.push_back(word);
    }
    options.push_back(std::move(option));
  }
  return options;
}

/// Half of all inputs come with options. Which ones hangs on the bytes alone, so that what is found
/// is found again.
std::string options_for(const ridgeward_importer_table& table, std::string_view bytes) {
  static const std::vector<Option> all = described(table.name);
  std::mt19937 dice(static_cast<std::mt19937::result_type>(std::hash<std::string_view>{}(bytes)));
  std::string lines;
  if (dice() % 2 == 0) {
    return lines;
  }
  for (const Option& option : all) {
    if (dice() % 2 == 0) {
      const bool is_word = dice() % 2 == 0;
      lines += option.key + "=" +
               (is_word ? option.words[dice() % option.words.size()]
                        : std::string(anything.at(dice() % anything.size()))) +
               "\n";
    }
  }
  return lines;
}

Seen read(const ridgeward_importer_table& table, std::string_view bytes, bool each) {
  const std::string options = options_for(table, bytes);
  Seen all;
  ridgeward_host host{sizeof(ridgeward_host), &all, emit, fault, note, go_on, side_file,
                      each ? emit : nullptr};
  int failed = 1;
  bool has_thrown = false;
  try {
    failed = table.read(bytes.data(), bytes.size(), options.c_str(), &host);
  } catch (...) {
    has_thrown = true;
  }
  need(!has_thrown, "no exception leaves");
  need(failed == 0 || all.faults > 0, "an importer that fails says why");
  need(failed != 0 || all.models > 0, "an importer that does not fail gives something");
  need(failed == 0 || !each || all.faults > 0, "likewise, building by building");
  need(all.is_json, "what is given is JSON");
  return all;
}

void sniff(const ridgeward_importer_table& table, std::string_view bytes, const char* name) {
  const int sure = table.sniff(bytes.data(), bytes.size(), name);
  need(sure >= 0 && sure <= 100, "it is 0 to 100 sure");
}

}  // namespace

void hold_laws(std::string_view bytes, bool both_ways) {
  const ridgeward_importer_table* table = ridgeward_importer(RIDGEWARD_IMPORTER_ABI);
  need(table != nullptr, "it works with this version");
  sniff(*table, bytes, "file");
  std::istringstream endings(table->endings);
  for (std::string ending; endings >> ending;) {
    sniff(*table, bytes, ("file" + ending).c_str());
  }
  const Seen all = read(*table, bytes, false);
  if (both_ways) {
    const Seen each = read(*table, bytes, true);
    need((all.faults > 0) == (each.faults > 0), "both ways succeed or fail alike");
  }
}

}  // namespace ridgeward::fuzz

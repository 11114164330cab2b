// Feeds bytes to one importer in this process. What it must keep: read() gives a model and 0, or a
// fault with words and something else; what it gives is JSON; building by building it gives the
// same as all at once; sniffing survives anything.
#include "plugin/importer_abi.h"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string>
#include <string_view>

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

void fault(void* context, const char* /*where*/, const char* what, const char* cure) {
  seen(context).faults += std::strlen(what) > 0 && std::strlen(cure) > 0 ? 1U : 0U;
}

void note(void* /*context*/, const char* /*words*/) {}
int go_on(void* /*context*/, double /*share*/) { return 1; }
int side_file(void* /*context*/, const char* /*name*/,
              void (* /*take*/)(void*, const char*, std::size_t), void* /*taker*/) {
  return 0;
}

void need(bool holds, const char* law) {
  if (!holds) {
    std::fprintf(stderr, "broken: %s\n", law);
    std::abort();
  }
}

Seen read(const ridgeward_importer_table& table, std::string_view bytes, bool each) {
  Seen all;
  ridgeward_host host{sizeof(ridgeward_host), &all, emit, fault, note, go_on, side_file,
                      each ? emit : nullptr};
  const int failed = table.read(bytes.data(), bytes.size(), "", &host);
  need(failed == 0 || all.faults > 0, "an importer that fails says why");
  need(failed != 0 || all.models > 0, "an importer that does not fail gives something");
  need(failed == 0 || !each || all.faults > 0, "likewise, building by building");
  need(all.is_json, "what is given is JSON");
  return all;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const ridgeward_importer_table* table = ridgeward_importer(RIDGEWARD_IMPORTER_ABI);
  need(table != nullptr, "it works with this version");
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const int sure = table->sniff(bytes.data(), bytes.size(), "file");
  need(sure >= 0 && sure <= 100, "it is 0 to 100 sure");
  const Seen all = read(*table, bytes, false);
  const Seen each = read(*table, bytes, true);
  need((all.faults > 0) == (each.faults > 0), "both ways succeed or fail alike");
  return 0;
}

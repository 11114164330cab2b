/* An importer whose behaviour the option lines choose: what a careless author could write. */
#include "plugin/importer_abi.h"

#include <string.h>

static int sniff(const char* head, size_t size, const char* file_name) {
  (void)head;
  (void)file_name;
  return size > 0 ? 250 : -7;
}

static void take(void* taker, const char* bytes, size_t size) {
  const struct ridgeward_host* host = (const struct ridgeward_host*)taker;
  host->emit(host->context, bytes, size);
}

static int read_bytes(const char* bytes, size_t size, const char* options,
                      const struct ridgeward_host* host) {
  if (strcmp(options, "silent") == 0) {
    return 0;
  }
  if (strcmp(options, "fails") == 0) {
    return 7;
  }
  if (strcmp(options, "nulls") == 0) {
    host->note(host->context, 0);
    host->emit(host->context, 0, 5);
    host->fault(host->context, 0, 0, 0);
    return 1;
  }
  if (strcmp(options, "floods") == 0) {
    int i = 0;
    for (i = 0; i < 100000; ++i) {
      host->note(host->context, "again");
      host->fault(host->context, "", "again", "");
    }
    return 1;
  }
  if (strcmp(options, "huge") == 0) {
    host->emit(host->context, bytes, (size_t)1 << 40);
    return 0;
  }
  if (strncmp(options, "side=", 5) == 0) {
    if (host->side_file(host->context, options + 5, take, (void*)host) == 0) {
      host->fault(host->context, options + 5, "no such side file", "put it beside the input");
      return 1;
    }
    return 0;
  }
  if (host->size < sizeof(struct ridgeward_host) || host->go_on(host->context, 0.5) == 0) {
    return 1;
  }
  host->emit(host->context, bytes, size);
  host->note(host->context, "gave back what it got");
  return 0;
}

static const struct ridgeward_importer_table table = {RIDGEWARD_IMPORTER_ABI,
                                                      sizeof(struct ridgeward_importer_table),
                                                      "odd",
                                                      "odd",
                                                      ".odd",
                                                      sniff,
                                                      read_bytes};

const struct ridgeward_importer_table* ridgeward_importer(uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &table : 0;
}

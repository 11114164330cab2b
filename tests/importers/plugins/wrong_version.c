/* An importer of a later contract. */
#include "plugin/importer_abi.h"

static int sniff(const char* head, size_t size, const char* file_name) {
  (void)head;
  (void)size;
  (void)file_name;
  return 100;
}

static int read_bytes(const char* bytes, size_t size, const char* options,
                      const struct ridgeward_host* host) {
  (void)bytes;
  (void)size;
  (void)options;
  (void)host;
  return 0;
}

static const struct ridgeward_importer_table table = {
    99u, sizeof(struct ridgeward_importer_table), "later", "later", ".later", sniff, read_bytes};

const struct ridgeward_importer_table* ridgeward_importer(uint32_t host_abi) {
  (void)host_abi;
  return &table;
}

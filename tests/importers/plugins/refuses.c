/* An importer that does not work with this host. */
#include "plugin/importer_abi.h"

const struct ridgeward_importer_table* ridgeward_importer(uint32_t host_abi) {
  (void)host_abi;
  return 0;
}

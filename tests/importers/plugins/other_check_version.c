/* A check that works with no version of the host. */
#include "plugin/check_abi.h"

#include <stddef.h>

const struct ridgeward_check_table *ridgeward_check(uint32_t host_abi) {
  (void)host_abi;
  return NULL;
}

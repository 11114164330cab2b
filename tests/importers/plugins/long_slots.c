/* A check of one's own: slots over 30 ft ask for a break. Reads no more JSON than it needs. */
#include "plugin/check_abi.h"

#include <string.h>

static int run(const char *assessment, size_t size, const struct ridgeward_check_host *host) {
  struct ridgeward_finding finding;
  if (size == 0 || strstr(assessment, "\"slots\"") == NULL) {
    return 1;
  }
  memset(&finding, 0, sizeof(finding));
  finding.size = sizeof(finding);
  finding.severity = RIDGEWARD_ERROR;
  finding.at[2] = 1.0;
  finding.plane = "main/0";
  finding.slot = "no such slot";
  finding.measured = "40 ft";
  finding.needed = "at most 30 ft";
  finding.message = "The county asks for a break in long slots.";
  finding.remedy = "Part the run.";
  host->find(host->context, &finding);
  return 0;
}

static const struct ridgeward_check_table table = {RIDGEWARD_CHECK_ABI,
                                                   sizeof(struct ridgeward_check_table),
                                                   "county_long_slot", "slots over 30 ft", run};

const struct ridgeward_check_table *ridgeward_check(uint32_t host_abi) {
  return host_abi == RIDGEWARD_CHECK_ABI ? &table : NULL;
}

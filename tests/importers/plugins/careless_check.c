/* A check that does what the assessment asks: what a careless author could write. */
#include "plugin/check_abi.h"

#include <stdlib.h>
#include <string.h>

static volatile int forever = 1;
static volatile int* nowhere = 0;

static int run(const char* assessment, size_t size, const struct ridgeward_check_host* host) {
  struct ridgeward_finding finding;
  memset(&finding, 0, sizeof(finding));
  finding.size = sizeof(finding);
  finding.severity = RIDGEWARD_NOTE;
  finding.message = "first";
  host->find(host->context, &finding);
  if (size >= 5 && memcmp(assessment, "crash", 5) == 0) {
    *nowhere = 1;
  } else if (size >= 4 && memcmp(assessment, "hang", 4) == 0) {
    while (forever) {
    }
  } else if (size >= 4 && memcmp(assessment, "exit", 4) == 0) {
    exit(0);
  }
  finding.message = "second";
  finding.at[2] = 2.5;
  finding.plane = "main/0";
  host->find(host->context, &finding);
  return 0;
}

static const struct ridgeward_check_table table = {
    RIDGEWARD_CHECK_ABI, sizeof(struct ridgeward_check_table), "careless", "carelessness", run};

const struct ridgeward_check_table* ridgeward_check(uint32_t host_abi) {
  return host_abi == RIDGEWARD_CHECK_ABI ? &table : 0;
}

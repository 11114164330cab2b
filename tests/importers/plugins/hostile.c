/* An importer that does what the option asks: what a hostile file could make a careless one do. */
#include "plugin/importer_abi.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

extern long write(int, const void *, unsigned long);

static volatile int forever = 1;
static volatile int *nowhere = 0;

static int sniff(const char *head, size_t size, const char *file_name) {
  (void)head;
  (void)size;
  if (strcmp(file_name, "crash.hostile") == 0) {
    *nowhere = 1;
  }
  return 60;
}

static int eat_memory(void) {
  const size_t piece = (size_t)1 << 20;
  while (forever) {
    char *volatile bytes = (char *)malloc(piece);  // or the compiler leaves out what nobody reads
    if (bytes != NULL) {
      memset(bytes, 1, piece);
    }
  }
  return 1;
}

static int write_a_file(const char *name) {
  FILE *file = fopen(name, "w");
  if (file != NULL) {
    fputs("here I am", file);
    fclose(file);
  }
  return 1;
}

/* What is no share, what goes back, and far more than anybody wants to know. */
static int tell_shares(const struct ridgeward_host *host) {
  const double zero = 0.0;
  const double odd[] = {-1.0, 2.0, 1e300, -1e300, 0.0 / zero, 1.0 / zero, 0.5, 0.25, 0.501};
  for (size_t i = 0; i < sizeof(odd) / sizeof(odd[0]); ++i) {
    host->go_on(host->context, odd[i]);
  }
  for (int i = 0; i <= 1000000; ++i) {
    host->go_on(host->context, i / 1e6);
  }
  return 0;
}

static int read_bytes(const char *bytes, size_t size, const char *options,
                      const struct ridgeward_host *host) {
  host->emit(host->context, bytes, size);
  if (strcmp(options, "crash") == 0) {
    *nowhere = 1;
  } else if (strcmp(options, "exit") == 0) {
    exit(0);
  } else if (strcmp(options, "hang") == 0) {
    while (forever) {
    }
  } else if (strcmp(options, "memory") == 0) {
    return eat_memory();
  } else if (strcmp(options, "garbage") == 0) {
    if (write(3, "garbage", 7) != 7) {
      return 1;
    }
  } else if (strcmp(options, "chatter") == 0) {
    puts("an importer prints nothing");
    fflush(stdout);
  } else if (strncmp(options, "shares", 6) == 0) {
    return tell_shares(host);
  } else if (strncmp(options, "file=", 5) == 0) {
    return write_a_file(options + 5);
  }
  return 0;
}

static const struct ridgeward_importer_table table = {RIDGEWARD_IMPORTER_ABI,
                                                      sizeof(struct ridgeward_importer_table),
                                                      "hostile",
                                                      "harm",
                                                      ".hostile",
                                                      sniff,
                                                      read_bytes};

const struct ridgeward_importer_table *ridgeward_importer(uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &table : 0;
}

/* An importer that does what the option asks: what a hostile file could make a careless one do. */
#define _GNU_SOURCE
#include "plugin/importer_abi.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

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
  return file != NULL;
}

/* What an importer may not do, each its own way; 1 where it got away with it. */
static int do_harm(const char *how, const char *name) {
  char other[4096];
  const size_t length = strlen(name);
  if (length + 2 > sizeof(other)) {
    return 1;
  }
  memcpy(other, name, length);
  memcpy(other + length, "2", 2);
  const struct rlimit none = {RLIM_INFINITY, RLIM_INFINITY};
  if (strcmp(how, "write") == 0) {
    return write_a_file(other);
  } else if (strcmp(how, "overwrite") == 0) {
    return write_a_file(name) || truncate(name, 0) == 0 || open(name, O_RDWR) >= 0 ||
           open(name, O_RDONLY | O_TRUNC) >= 0 || syscall(SYS_open, name, O_WRONLY) >= 0;
  } else if (strcmp(how, "remove") == 0) {
    return unlink(name) == 0 || remove(name) == 0;
  } else if (strcmp(how, "move") == 0) {
    return rename(name, other) == 0 || link(name, other) == 0 || symlink(name, other) == 0 ||
           mkdir(other, 0777) == 0 || chmod(name, 0) == 0;
  } else if (strcmp(how, "signal") == 0) {
    return kill(getppid(), SIGKILL) == 0 || kill(0, SIGKILL) == 0 || kill(-1, SIGKILL) == 0 ||
           syscall(SYS_tkill, getppid(), SIGKILL) == 0 ||
           syscall(SYS_tgkill, getppid(), getppid(), SIGKILL) == 0;
  } else if (strcmp(how, "start") == 0) {
    return fork() >= 0 || vfork() >= 0 || system("true") == 0 ||
           execl("/bin/true", "true", (char *)0) == 0;
  } else if (strcmp(how, "reach") == 0) {
    return socket(AF_INET, SOCK_STREAM, 0) >= 0 || socket(AF_UNIX, SOCK_STREAM, 0) >= 0 ||
           setrlimit(RLIMIT_CPU, &none) == 0 || setsid() >= 0;
  }
  return 1;
}

static int outlive_signals(void) {
  for (int number = 1; number < 32; ++number) {
    signal(number, SIG_IGN);
  }
  while (forever) {
  }
  return 1;
}

static void tell_much(const struct ridgeward_host *host) {
  host->note(host->context, "\xff\xfe red \x1b[31m bell \a next\r line\nnote: forged \xc2\x9b m");
  for (int i = 0; i < 300; ++i) {
    host->note(host->context, "and so on");
  }
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
  } else if (strcmp(options, "deaf") == 0) {
    return outlive_signals();
  } else if (strcmp(options, "notes") == 0) {
    tell_much(host);
  } else if (strncmp(options, "harm=", 5) == 0) {
    char how[16] = {0};
    const char *name = strchr(options, ',');
    if (name == NULL || (size_t)(name - options) - 5 >= sizeof(how)) {
      return 1;
    }
    memcpy(how, options + 5, (size_t)(name - options) - 5);
    return do_harm(how, name + 1);
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

#ifndef RIDGEWARD_IMPORTER_ABI_H
#define RIDGEWARD_IMPORTER_ABI_H
/*
 * The whole contract between Ridgeward and an importer: a shared object that turns the bytes of
 * some other format into model JSON (docs/model.md). C99; nothing else is shared.
 *
 * An importer exports one function, ridgeward_importer(). It is given bytes and gives JSON text
 * back through the host's functions, so no memory changes its owner, no file name is needed, and
 * what it gives passes the same checks as a file written by hand.
 *
 * Rules for importers
 *  - No exception and no signal leaves a function of the table.
 *  - Nothing is printed, no file is opened, no state is kept between calls.
 *  - All texts are UTF-8; texts without a size end with a zero byte.
 *  - Functions of the host are called only during read(), from the thread that called it.
 * Versions
 *  - RIDGEWARD_IMPORTER_ABI counts changes that break; host and importer must agree on it.
 *  - New fields come at the end of a struct; `size` says how many bytes the other side knows.
 */
/* NOLINTBEGIN(readability-identifier-naming): names of a C contract carry their prefix */
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#define RIDGEWARD_IMPORTER_ABI 1u

/* What the host offers to read(). */
struct ridgeward_host {
  uint32_t size; /* of this struct, as the host knows it */
  void* context; /* handed back to every function below */
  /* The model, whole, or roof planes of which the host makes one (docs/importers.md, "Planes"): to
   * be called once. `json` need not end with a zero byte. */
  void (*emit)(void* context, const char* json, size_t size);
  /* Something wrong with the input: where in it, what, and what would be right. */
  void (*fault)(void* context, const char* where, const char* what, const char* cure);
  /* Something the importer assumed, in plain words. */
  void (*note)(void* context, const char* words);
  /* Progress, 0 to 1. Returns 0 when the importer should stop and return. */
  int (*go_on)(void* context, double share_done);
  /* Calls take(taker, bytes, size) with a file that lies beside the input; `name` is a plain file
   * name without folders. Returns 0 when there is none. */
  int (*side_file)(void* context, const char* name,
                   void (*take)(void* taker, const char* bytes, size_t size), void* taker);
  /* One building of a file of many, as emit() takes it, as often as there are buildings; nothing of
   * it need be kept. Null where one model of all is wanted, and missing (see `size`) in hosts that
   * know no such files: use emit() then. After emit_next() no emit() is needed. */
  void (*emit_next)(void* context, const char* json, size_t size);
};

/* What an importer is. */
struct ridgeward_importer_table {
  uint32_t abi;        /* RIDGEWARD_IMPORTER_ABI it was built with */
  uint32_t size;       /* of this struct, as the importer knows it */
  const char* name;    /* one word: "geojson" */
  const char* what;    /* what it reads, in plain words */
  const char* endings; /* of file names, with spaces between: ".geojson .json" */
  /* How sure it is, 0 to 100, that it can read a file that starts with these bytes. */
  int (*sniff)(const char* head, size_t size, const char* file_name);
  /* Reads the whole file. `options` holds lines "key=value". Returns 0 after emit(), anything else
   * after at least one fault(). */
  int (*read)(const char* bytes, size_t size, const char* options,
              const struct ridgeward_host* host);
};

/* The one exported symbol. Null when the importer can't work with the host's version. The table
 * lives as long as the shared object is loaded. */
const struct ridgeward_importer_table* ridgeward_importer(uint32_t host_abi);

#define RIDGEWARD_IMPORTER_SYMBOL "ridgeward_importer"

#ifdef __cplusplus
}
#endif
/* NOLINTEND(readability-identifier-naming) */
#endif

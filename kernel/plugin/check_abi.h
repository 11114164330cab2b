#ifndef RIDGEWARD_CHECK_ABI_H
#define RIDGEWARD_CHECK_ABI_H
/*
 * The whole contract between Ridgeward and a check of one's own: a shared object that is given the
 * assessment of a roof as JSON (docs/assessment.md) and reports what it finds in the way. C99;
 * nothing else is shared.
 *
 * A check exports one function, ridgeward_check(). What it finds stands among the conflicts of the
 * assessment, in its papers and in the exit status, as what the program finds itself.
 *
 * Rules for checks
 *  - No exception and no signal leaves a function of the table.
 *  - Nothing is printed, no file is opened, no state is kept between calls.
 *  - Equal assessments draw equal findings, in an order that does not change.
 *  - All texts are UTF-8; texts without a size end with a zero byte.
 *  - Functions of the host are called only during run(), from the thread that called it.
 * Versions
 *  - RIDGEWARD_CHECK_ABI counts changes that break; host and check must agree on it.
 *  - New fields come at the end of a struct; `size` says how many bytes the other side knows.
 */
/* NOLINTBEGIN(readability-identifier-naming): names of a C contract carry their prefix */
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#define RIDGEWARD_CHECK_ABI 1u

/* How much a finding weighs: an error makes the roof one that is at fault. */
#define RIDGEWARD_NOTE 0
#define RIDGEWARD_WARNING 1
#define RIDGEWARD_ERROR 2

/* One thing found. Texts may be null where there is nothing to say, `message` may not. */
struct ridgeward_finding {
  uint32_t size;        /* of this struct, as the check knows it */
  int severity;         /* RIDGEWARD_NOTE, RIDGEWARD_WARNING, RIDGEWARD_ERROR */
  double at[3];         /* place in the coordinates of the assessment, metres */
  const char* plane;    /* ids of the assessment */
  const char* slot;     /* likewise */
  const char* member;   /* likewise */
  const char* exhaust;  /* likewise */
  const char* measured; /* with its unit */
  const char* needed;   /* with its unit */
  const char* message;  /* what is in the way */
  const char* remedy;   /* what to do about it */
};

/* What the host offers to run(). */
struct ridgeward_check_host {
  uint32_t size; /* of this struct, as the host knows it */
  void* context; /* handed back to every function below */
  void (*find)(void* context, const struct ridgeward_finding* finding);
};

/* What a check is. */
struct ridgeward_check_table {
  uint32_t abi;      /* RIDGEWARD_CHECK_ABI it was built with */
  uint32_t size;     /* of this struct, as the check knows it */
  const char* kind;  /* one word, the kind of its findings: "county_snow_load" */
  const char* words; /* what it looks for */
  /* Looks at one assessment. Returns 0, anything else when it could not do its work. */
  int (*run)(const char* assessment, size_t size, const struct ridgeward_check_host* host);
};

/* The one exported symbol. Null when the check can't work with the host's version. The table lives
 * as long as the shared object is loaded. */
const struct ridgeward_check_table* ridgeward_check(uint32_t host_abi);

#define RIDGEWARD_CHECK_SYMBOL "ridgeward_check"

#ifdef __cplusplus
}
#endif
/* NOLINTEND(readability-identifier-naming) */
#endif

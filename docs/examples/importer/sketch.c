/*
 * An importer for sketches of houses: text files with one rectangle a line, as one could keep them
 * in a field book (docs/own-importers.md tells this file part by part). C99 and the one header.
 *
 *     sketch 1
 *     # name   x   y   width  depth  pitch  ends
 *     main     0   0   12     8      35     gable
 *     porch    4  -3   4      6      20     gable
 *
 * Lengths are metres, pitches degrees. x and y are the lower left corner of the walls. The ridge
 * runs along the longer side; "ends" says whether its two ends are gables or hips.
 *
 * Built and used:
 *     cc -std=c99 -shared -fPIC -I FOLDER_OF_THE_HEADER sketch.c -o plugins/sketch.so
 *     cp sketch.json plugins/
 *     ridgeward import house.sketch -o house.roof.json --plugins plugins
 */
#include "importer_abi.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* 1. Bounds: the bytes may come from anybody. */
enum { longest_line = 200, most_parts = 200 };

/* 2. The JSON that grows part by part. It belongs to this importer, before and after emit(). */
struct text {
  char *bytes;
  size_t size;
  size_t room;
  int is_short_of_memory;
};

static void add(struct text *text, const char *format, ...) {
  char piece[1000];
  va_list values;
  va_start(values, format);
  const int size = vsnprintf(piece, sizeof(piece), format, values);
  va_end(values);
  if (size < 0 || (size_t)size >= sizeof(piece)) {
    text->is_short_of_memory = 1;
    return;
  }
  if (text->size + (size_t)size > text->room) {
    const size_t room = 2 * (text->room + sizeof(piece));
    char *more = (char *)realloc(text->bytes, room);
    if (more == NULL) {
      text->is_short_of_memory = 1;
      return;
    }
    text->bytes = more;
    text->room = room;
  }
  memcpy(text->bytes + text->size, piece, (size_t)size);
  text->size += (size_t)size;
}

/* 3. What one read() has: nothing is kept between two of them. */
struct reading {
  const struct ridgeward_host *host;
  struct text json;
  double plate_m;
  int line; /* the line that is read, counted from 1 */
  int parts;
};

/* 4. Something wrong with the file: where, what, and what would be right. Returns 1 for read(). */
static int refuse(const struct reading *reading, const char *what, const char *cure) {
  char where[40];
  snprintf(where, sizeof(where), "line %d", reading->line);
  reading->host->fault(reading->host->context, where, what, cure);
  return 1;
}

/* 5. How sure it is of a file: by its first words, not by its name. */
static const char first_words[] = "sketch 1";

static int starts_well(const char *bytes, size_t size) {
  const size_t length = sizeof(first_words) - 1;
  return size > length && memcmp(bytes, first_words, length) == 0 &&
         (bytes[length] == '\n' || bytes[length] == '\r');
}

static int sniff(const char *head, size_t size, const char *file_name) {
  (void)file_name;
  return starts_well(head, size) ? 90 : 0;
}

/* 6. Options: lines "key=value". The program has asked the description for the keys already. */
static int read_options(struct reading *reading, const char *options) {
  const char *at = strstr(options, "plate=");
  if (at == NULL) {
    reading->plate_m = 2.5;
    reading->host->note(reading->host->context,
                        "the sketch gives no wall plate: 2.5 m is taken (option plate)");
    return 0;
  }
  char *end = NULL;
  reading->plate_m = strtod(at + strlen("plate="), &end);
  if (end == at + strlen("plate=") || (*end != '\0' && *end != '\n') ||
      !(reading->plate_m >= 0.0 && reading->plate_m <= 100.0)) {
    reading->host->fault(reading->host->context, "option plate", "this is no height of a plate",
                         "give metres from 0 to 100, as plate=2.7");
    return 1;
  }
  return 0;
}

/* 7. The names become ids of the model, where some marks have a meaning. */
static int is_name(const char *name) {
  return strspn(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") ==
         strlen(name);
}

/* 8. One line of the file, without its end, becomes a part of the model (docs/model.md). */
static int read_part(struct reading *reading, const char *line) {
  char name[41];
  char ends[8];
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double depth = 0.0;
  double pitch = 0.0;
  int used = 0;
  if (sscanf(line, "%40s %lf %lf %lf %lf %lf %7s %n", name, &x, &y, &width, &depth, &pitch, ends,
             &used) != 7 ||
      line[used] != '\0') {
    return refuse(reading, "this is no part", "give name, x, y, width, depth, pitch and ends");
  }
  if (!is_name(name)) {
    return refuse(reading, "the name has other marks than letters, digits, - and _", "rename it");
  }
  /* Comparisons in this sense are false for "nan" too. */
  if (!(x >= -1e4 && x <= 1e4 && y >= -1e4 && y <= 1e4)) {
    return refuse(reading, "the corner lies too far away", "give metres from -10000 to 10000");
  }
  if (!(width >= 0.5 && width <= 500.0 && depth >= 0.5 && depth <= 500.0)) {
    return refuse(reading, "this is no size of a house", "give metres from 0.5 to 500");
  }
  if (!(pitch >= 1.0 && pitch <= 80.0)) {
    return refuse(reading, "this is no pitch", "give degrees from 1 to 80");
  }
  const int has_gables = strcmp(ends, "gable") == 0;
  if (!has_gables && strcmp(ends, "hip") != 0) {
    return refuse(reading, "the ends are neither gables nor hips", "write gable or hip");
  }
  if (++reading->parts > most_parts) {
    return refuse(reading, "there are more than 200 parts", "give a file for each house");
  }
  add(&reading->json,
      "%s\n{\"id\": \"%s\", \"plate\": %.4f, \"outline\": "
      "[[%.4f, %.4f], [%.4f, %.4f], [%.4f, %.4f], [%.4f, %.4f]], \"edges\": [",
      reading->parts > 1 ? "," : "", name, reading->plate_m, x, y, x + width, y, x + width,
      y + depth, x, y + depth);
  /* Edge i runs from corner i to the next: 0 and 2 are `width` long, 1 and 3 `depth`. */
  for (int edge = 0; edge < 4; ++edge) {
    const int is_end = (edge % 2 == 1) == (width >= depth);
    add(&reading->json, "%s", edge > 0 ? ", " : "");
    if (has_gables && is_end) {
      add(&reading->json, "{\"kind\": \"gable\"}");
    } else {
      add(&reading->json, "{\"kind\": \"eave\", \"pitch\": \"%.4f deg\"}", pitch);
    }
  }
  add(&reading->json, "]}");
  return 0;
}

/* 9. Line by line; the bytes don't end with a zero byte. */
static int read_lines(struct reading *reading, const char *bytes, size_t size) {
  size_t at = 0;
  while (at < size) {
    const char *end = (const char *)memchr(bytes + at, '\n', size - at);
    size_t length = end != NULL ? (size_t)(end - (bytes + at)) : size - at;
    const size_t next = at + length + 1;
    char line[longest_line + 1];
    ++reading->line;
    if (length > longest_line || memchr(bytes + at, '\0', length) != NULL) {
      return refuse(reading, "this line is too long, or no text", "give the sketch as plain text");
    }
    if (length > 0 && bytes[at + length - 1] == '\r') {
      --length;
    }
    memcpy(line, bytes + at, length);
    line[length] = '\0';
    at = next;
    if (reading->line == 1 || line[0] == '#' || line[strspn(line, " \t")] == '\0') {
      continue;
    }
    if (read_part(reading, line) != 0) {
      return 1;
    }
    /* The user may have thought better of it. */
    if (reading->host->go_on(reading->host->context, (double)at / (double)size) == 0) {
      return refuse(reading, "the import was stopped", "start it again");
    }
  }
  return 0;
}

/* 10. The whole file: returns 0 after emit(), anything else after a fault(). */
static int read_sketch(const char *bytes, size_t size, const char *options,
                       const struct ridgeward_host *host) {
  struct reading reading;
  memset(&reading, 0, sizeof(reading));
  reading.host = host;
  reading.line = 1;
  if (!starts_well(bytes, size)) {
    return refuse(&reading, "the file is no sketch", "let its first line be: sketch 1");
  }
  reading.line = 0;
  add(&reading.json, "{\"ridgeward\": 1, \"units\": \"m\", \"parts\": [");
  int failed = read_options(&reading, options);
  if (failed == 0) {
    failed = read_lines(&reading, bytes, size);
  }
  if (failed == 0 && reading.parts == 0) {
    failed = refuse(&reading, "the sketch has no parts", "add a line for each part");
  }
  add(&reading.json, "]}\n");
  if (failed == 0 && reading.json.is_short_of_memory) {
    failed = refuse(&reading, "there is not enough memory", "close other programs");
  }
  if (failed == 0) {
    host->emit(host->context, reading.json.bytes, reading.json.size);
  }
  free(reading.json.bytes); /* the host has made a copy */
  return failed;
}

/* 11. What this importer is. Name and words are the same as in sketch.json. */
static const struct ridgeward_importer_table table = {
    RIDGEWARD_IMPORTER_ABI,                  /* the contract it was built with */
    sizeof(struct ridgeward_importer_table), /* what it knows of the table */
    "sketch",
    "sketches of houses, one rectangle a line",
    ".sketch",
    sniff,
    read_sketch};

/* 12. The one exported function: null for a host whose contract is another. */
const struct ridgeward_importer_table *ridgeward_importer(uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &table : NULL;
}

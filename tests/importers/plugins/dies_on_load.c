/* An importer that ends the process as it is loaded. */
#include <stdlib.h>

__attribute__((constructor)) static void die(void);
static void die(void) { abort(); }

int ridgeward_importer(void);
int ridgeward_importer(void) { return 0; }

/* A shared object that is no importer. */
int something_else(void);
int something_else(void) { return 1; }

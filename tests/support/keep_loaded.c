/* For builds with sanitizers: libraries stay loaded to the end, so that the judge of leaks can name
   the one that leaks. The graphics driver is taken down before, and a leak of it would then be a
   leak of nobody (tests/leaks.supp names whose are not ours). */
int dlclose(void* library);
int dlclose(void* library) {
  (void)library;
  return 0;
}

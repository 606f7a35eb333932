/* nothing.c - loads the libraries that the program loads, and does nothing: what starting alone costs. */
#include <curses.h>
#include <yaml.h>

int main(void) {
    int major, minor, patch;
    yaml_get_version(&major, &minor, &patch);
    return curses_version() == NULL || major + minor + patch < 0;
}

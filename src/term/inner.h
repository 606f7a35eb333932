/* term/inner.h - what the files of this room share. */
#ifndef TERM_INNER_H
#define TERM_INNER_H

#include <stdbool.h>

/* signals.c: signals become bytes in a pipe, so that waiting for a key sees them. */
enum { SIGNAL_RESIZE = 'r', SIGNAL_STOP = 's', SIGNAL_END = 'e', SIGNAL_BREAK = 'b' };

/* Catches signals; the reading end of the pipe, or -1. */
int signals_open(void);
void signals_close(void);
/* What brings the terminal back after a crash, taken from the terminal's description: written by a handler on a stack
 * of its own. */
void signals_crash_text(const char *bytes, unsigned length);

/* keys.c: a key that has arrived, or BENCH_KEY_NONE. */
int keys_waiting(void);

#endif

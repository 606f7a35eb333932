/* term/inner.h - what the files of this room share. */
#ifndef TERM_INNER_H
#define TERM_INNER_H

#include <stdbool.h>

#include "bench/bench.h"
#include "term/line.h"

/* signals.c: signals become bytes in a pipe, so that waiting for a key sees them. */
enum { SIGNAL_RESIZE = 'r', SIGNAL_STOP = 's', SIGNAL_CONTINUE = 'c', SIGNAL_END = 'e', SIGNAL_BREAK = 'b' };

/* Catches signals; the reading end of the pipe, or -1. */
int signals_open(void);
void signals_close(void);
void signals_stop(void); /* until somebody lets the program go on; at once back where nobody could */
/* What brings the terminal back after a crash, taken from the terminal's description: written by a handler on a stack
 * of its own. */
void signals_crash_text(const char *bytes, unsigned length);

/* What the mouse did last. */
typedef struct mouse_event {
    bench_pointer_act act;
    int x, y;
} mouse_event;

/* keys.c: a key that has arrived, TERM_POINTER with *mouse filled, or BENCH_KEY_NONE. */
int keys_waiting(mouse_event *mouse);

/* manners.c: what the terminal is asked for beside the screen: the mouse, and marks around what is pasted. */
void manners_begin(line *l);
void manners_end(line *l);
void manners_mouse(bool on);
/* What ends them without curses' help; writes at most `room` bytes and returns how many. */
unsigned manners_end_text(char *out, unsigned room);

#endif

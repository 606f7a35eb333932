/* term/term.h - the one room that knows curses: keys from the terminal, cells to it, and the terminal put back as it
 * was on every way out.
 */
#ifndef TERM_TERM_H
#define TERM_TERM_H

#include "bench/bench.h"

typedef struct terminal terminal;

/* What term_read may give beside a key of the bench. */
typedef enum term_event {
    TERM_RESIZED = BENCH_KEY_LAST + 1, /* also after a stop: draw everything anew */
    TERM_IDLE,                         /* nothing came for so long */
    TERM_POINTER,                      /* the mouse: term_pointer tells the rest */
    TERM_GONE                          /* hung up, told to end, or no more input: save what there is and go */
} term_event;

/* Takes the terminal over; NULL with the reason, in a sentence, if it cannot be. One at a time. */
terminal *term_open(char why[200]);
/* Puts the terminal back. False if it takes nothing any more: then nothing can be said on it, either. */
bool term_close(terminal *t);

bool term_unicode(const terminal *t);
void term_size(const terminal *t, int *width, int *height);
/* The next key or event; meanwhile sends what the terminal takes. Waits for it, for so many ms at most (-1: as long as
 * it takes). BENCH_KEY_NONE if what came was none. */
int term_read(terminal *t, int wait);
/* Is more of what was typed here already? Then what is drawn now would be drawn over at once. */
bool term_waiting(const terminal *t);
/* Has the terminal not taken yet what was drawn before? Then what is drawn now would come late; once it has, term_read
 * returns. */
bool term_busy(const terminal *t);
/* The mouse, where the terminal has one: used, or left to the terminal's own selection. */
void term_use_pointer(terminal *t, bool on);
bench_pointer_act term_pointer(const terminal *t, int *x, int *y);
/* Sends what differs from what is shown; all of it if `whole`. */
void term_draw(terminal *t, const show_grid *grid, bool whole);

#endif

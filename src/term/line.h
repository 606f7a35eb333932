/* term/line.h - what is sent to the terminal, without ever waiting for it: a slow line takes its time, a stuck one
 * takes nothing, and keys go on being obeyed. What the terminal has not taken yet is kept, in order. */
#ifndef TERM_LINE_H
#define TERM_LINE_H

#include <stdbool.h>
#include <stdio.h>

typedef struct line line;

/* To the terminal on standard output; NULL without memory or files. */
line *line_open(void);
void line_close(line *l); /* drops what was not taken; NULL is fine */
/* Where curses is to write. */
FILE *line_file(const line *l);

/* From line_catch to line_release what is written to the file is added to what waits; whatever makes curses write
 * stands between them. The terminal's modes can be set outside of them alone. */
void line_catch(line *l);
void line_release(line *l);
void line_add(line *l, const char *text); /* between them */

/* Is it worth sending more? Not before the terminal has taken nearly all of what was sent; asking sends on. */
bool line_busy(line *l);
/* What to wait on for that: a file that poll finds writable; -1 if nothing waits. */
int line_waits_on(const line *l);
/* Waits after all, as long as anything is taken; what is not taken for a second is dropped, and false. */
bool line_finish(line *l);

#endif

/* bench/bench.h - what is touched: keys in, cells out. Nothing here knows a terminal, so that scripts and tests drive
 * it as a hand does.
 *
 * A key changes the state and returns effects; only the loop that owns the screen calls bench_draw.
 */
#ifndef BENCH_BENCH_H
#define BENCH_BENCH_H

#include "desk/desk.h"
#include "show/grid.h"

/* A key is a Unicode character or one of these. */
typedef enum bench_key_code {
    BENCH_KEY_NONE = 0,
    BENCH_KEY_ENTER = 0x110000,
    BENCH_KEY_ESC,
    BENCH_KEY_TAB,
    BENCH_KEY_BACKTAB,
    BENCH_KEY_BACKSPACE,
    BENCH_KEY_DELETE,
    BENCH_KEY_UP,
    BENCH_KEY_DOWN,
    BENCH_KEY_LEFT,
    BENCH_KEY_RIGHT,
    BENCH_KEY_PAGE_UP,
    BENCH_KEY_PAGE_DOWN,
    BENCH_KEY_HOME,
    BENCH_KEY_END,
    BENCH_KEY_REPAINT, /* Ctrl-L */
    BENCH_KEY_F1,      /* F1 to F12 follow one another */
    BENCH_KEY_F12 = BENCH_KEY_F1 + 11,
    BENCH_KEY_PASTE_BEGIN, /* what comes until BENCH_KEY_PASTE_END was pasted: text, never commands */
    BENCH_KEY_PASTE_END,
    BENCH_KEY_UNKNOWN, /* a key that the terminal sends and nothing here uses */
    BENCH_KEY_DIGIT,   /* in the table of commands only: any digit */
    BENCH_KEY_LAST
} bench_key_code;

typedef enum bench_effect {
    BENCH_NOTHING = 0,
    BENCH_REDRAW = 1,
    BENCH_REPAINT = 2, /* everything, for a screen that something else wrote on */
    BENCH_QUIT = 4
} bench_effect;

typedef struct bench bench;

/* Where things are; all may be NULL. Strings are copied. */
typedef struct bench_places {
    const char *inventory; /* --inventory, NULL: the usual place */
    const char
        *state; /* folder for the list of recent files and for journals; NULL: journals beside the files, no list */
    const char *examples; /* folder of example projects */
} bench_places;

/* file NULL: the start screen. A file that does not exist: the form for a new piece of that name. NULL with problems
 * and status if the file cannot be read. */
bench *bench_create(const char *file, const bench_places *places, shop_problems *problems, shop_status *status);
void bench_destroy(bench *b);

/* Height of a terminal's cell by its width, 2 unless set: drawings rest on it. False outside 1 to 3. */
bool bench_set_aspect(bench *b, double aspect);

/* By how much a round may miss its end and still close: a length, a bare number in the unit of the open file or mm. It
 * holds for all that is opened. False with a reason. */
bool bench_set_tolerance(bench *b, const char *text, char reason[160]);

/* "plain", "blocks" or "braille": how fine drawings are where the locale has Unicode; plain unless set. False of other
 * words. */
bool bench_set_fine(bench *b, const char *word);

unsigned bench_key(bench *b, int key); /* effects */
void bench_draw(bench *b, show_grid *grid);

/* Work that goes on while no key waits: a part of it at a time, which returns effects. A script does all of it before
 * it shows a screen. */
bool bench_busy(const bench *b);
unsigned bench_idle(bench *b);

/* The mouse in the window drawn last, columns and lines from 0; effects. It does nothing that a key does not do, and
 * nothing at all once it is set off (on unless set). */
typedef enum bench_pointer_act { BENCH_CLICK, BENCH_WHEEL_UP, BENCH_WHEEL_DOWN } bench_pointer_act;
unsigned bench_pointer(bench *b, bench_pointer_act act, int x, int y);
bool bench_wants_pointer(const bench *b);
void bench_set_pointer(bench *b, bool on);
/* A word to who is here for the first time; said once, if the state folder can keep that it was. */
void bench_greet(bench *b);

/* The open layout, NULL on the start screen. */
const desk *bench_desk(const bench *b);
/* When the program must go at once: the journal of an unsaved layout stays, to be offered next time. Its file, NULL if
 * there is nothing to keep or it could not be kept (then bench_unsaved still says so). Valid until bench_destroy. */
const char *bench_leave(bench *b);
bool bench_unsaved(const bench *b);
/* Milliseconds until bench_sync should be called if no key comes, 0 = now, -1 = not at all: the journal is to be
 * brought to the disk. Never needed for keys to work. */
int bench_sync_wait(const bench *b);
void bench_sync(bench *b);

/* ---- key scripts ---- */

/* Replays a script: `Down Down "3/4 in" Enter`, a key or a quoted text a word, `Right*10` for ten of them, # for
 * comments, `click=12,3` for the mouse at a column and line from 1 (also wheel-up, wheel-down), `screen` to write the
 * screen as it is then, `size=60x18` for a new size of the window. At the end the last screen is written. False with
 * problems (named by line and column) if a word is no key or writing fails. */
typedef struct bench_size {
    int width, height;
} bench_size;

bool bench_replay(bench *b, const char *script, size_t length, bench_size size, bool unicode, FILE *screens,
                  shop_problems *problems);
/* "80x24". */
bool bench_size_read(const char *text, bench_size *size);

/* ---- keys as a maker wants them ---- */

/* Keys as a file changes them: lines such as `workbench.undo = u`; # begins a comment. False with all faults of the
 * file, by line and column; the keys then stay as they were. */
bool bench_keys_change(bench *b, const char *text, size_t length, shop_problems *problems);
/* The same of the maker's own file, which must not keep anybody from the bench: a line at fault counts as it is
 * shipped, and the first message tells the first of the problems. text NULL: the file could not be read, as problems
 * say. */
void bench_keys_own(bench *b, const char *text, size_t length, shop_problems *problems);
/* The file that is shipped, from the table of commands. */
void bench_keys_shipped(FILE *to);
/* The key section of the manual page, from the table of commands. */
void bench_keys_manual(FILE *to);

#endif

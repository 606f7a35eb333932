/* term.c - curses: opening, keys, cells, stopping and going on. */
#include "term/term.h"

#include <curses.h>
#include <errno.h>
#include <langinfo.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <term.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>
#include <wchar.h>

#include "term/inner.h"

#define ESCAPE_WAIT 25 /* ms until a lone Esc is one: the rest of a key's sequence comes together with it */
#define SIZE_MOST 1000
#define PASTE_WAIT 1000 /* ms without a byte: then the mark at the end of what was pasted is lost */

struct terminal {
    SCREEN *screen;
    line *line;
    struct termios shell, ours; /* the terminal's modes */
    int signals;
    bool unicode, colours;
    int width, height;
    mouse_event mouse;
    bool pasting;         /* the mark at its end is still to come */
    struct timespec last; /* when something came in it */
    show_grid shown;      /* what stands on the screen; cells NULL: nothing known */
};

enum { PAIR_GOOD = 1, PAIR_WARN, PAIR_BAD };

/* ---- opening and closing ---- */

/* Sizes that nobody has make curses reserve all memory. */
static void distrust_size(const char *variable) {
    const char *text = getenv(variable);
    if (text == NULL) {
        return;
    }
    char *end;
    long size = strtol(text, &end, 10);
    if (*end != '\0' || size < 1 || size > SIZE_MOST) {
        unsetenv(variable);
    }
}

static char crash_text[256];
static unsigned crash_length;

static int collect(int byte) {
    if (crash_length < sizeof crash_text) {
        crash_text[crash_length++] = (char)byte;
    }
    return byte;
}

/* What the terminal needs to hear before the program is gone, without curses' help. */
static void prepare_crash(void) {
    const char *const parts[] = {exit_attribute_mode, cursor_normal, keypad_local, exit_ca_mode};
    crash_length = 0;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (parts[i] != NULL) {
            tputs(parts[i], 1, collect);
        }
    }
    crash_length += manners_end_text(crash_text + crash_length, (unsigned)sizeof crash_text - crash_length);
    signals_crash_text(crash_text, crash_length);
}

static void prepare_colours(terminal *t) {
    const char *no = getenv("NO_COLOR");
    t->colours = (no == NULL || no[0] == '\0') && has_colors() && start_color() == OK && use_default_colors() == OK;
    if (t->colours) {
        init_pair(PAIR_GOOD, COLOR_GREEN, -1);
        init_pair(PAIR_WARN, COLOR_YELLOW, -1);
        init_pair(PAIR_BAD, COLOR_RED, -1);
    }
}

/* Ctrl-S is typed by who means to save: it must not stop the screen while keys go on being done unseen. */
static void keep_flowing(terminal *t) {
    if (tcgetattr(STDIN_FILENO, &t->ours) == 0) {
        t->ours.c_iflag &= ~(tcflag_t)IXON;
        (void)tcsetattr(STDIN_FILENO, TCSADRAIN, &t->ours);
        def_prog_mode();
    }
}

static void prepare_screen(terminal *t) {
    set_escdelay(ESCAPE_WAIT);
    cbreak();
    noecho();
    nonl();
    keep_flowing(t);
    keypad(stdscr, TRUE);
    nodelay(stdscr, TRUE);
    scrollok(stdscr, FALSE);
    idlok(stdscr, FALSE);
    leaveok(stdscr, FALSE);
    typeahead(-1); /* who calls knows when it is worth drawing */
    prepare_colours(t);
    prepare_crash();
    getmaxyx(stdscr, t->height, t->width);
}

static bool can_draw(char why[200]) {
    const char *kind = getenv("TERM");
    int found = 0;
    if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO)) {
        snprintf(why, 200, "the workbench needs a terminal; without one there are plan, fit, get, set and new");
        return false;
    }
    if (kind == NULL || kind[0] == '\0') {
        snprintf(why, 200, "TERM does not say which terminal this is, so nothing can be drawn on it");
        return false;
    }
    if (setupterm(NULL, STDOUT_FILENO, &found) != OK) {
        snprintf(why, 200, "the terminal %.60s is not known here, so nothing can be drawn on it; try TERM=vt100", kind);
        return false;
    }
    if (cursor_address == NULL || clear_screen == NULL) {
        snprintf(why, 200, "a terminal of the kind %.60s cannot move its cursor, so nothing can be drawn on it", kind);
        return false;
    }
    return true;
}

terminal *term_open(char why[200]) {
    distrust_size("LINES");
    distrust_size("COLUMNS");
    if (!can_draw(why)) {
        return NULL;
    }
    terminal *t = calloc(1, sizeof *t);
    if (t == NULL) {
        snprintf(why, 200, "out of memory");
        return NULL;
    }
    t->unicode = strcmp(nl_langinfo(CODESET), "UTF-8") == 0;
    t->signals = signals_open(); /* before curses, which leaves signals alone that are caught already */
    (void)tcgetattr(STDIN_FILENO, &t->shell);
    t->line = t->signals < 0 ? NULL : line_open();
    t->screen = t->line == NULL ? NULL : newterm(NULL, line_file(t->line), stdin);
    if (t->screen == NULL) {
        snprintf(why, 200, "the terminal cannot be used: %.100s", strerror(errno));
        line_close(t->line);
        if (t->signals >= 0) {
            signals_close();
        }
        free(t);
        return NULL;
    }
    prepare_screen(t);
    line_catch(t->line);
    manners_begin(t->line);
    line_release(t->line);
    return t;
}

/* The terminal as it was. Where there is no second screen to leave, nothing of ours is left on the only one. */
static bool give_back(terminal *t) {
    line_catch(t->line);
    if (enter_ca_mode == NULL) {
        erase();
        refresh();
    }
    manners_end(t->line);
    endwin();
    line_release(t->line);
    bool taken = line_finish(t->line);
    (void)tcsetattr(STDIN_FILENO, TCSADRAIN, &t->shell);
    return taken;
}

bool term_close(terminal *t) {
    bool taken = give_back(t);
    delscreen(t->screen);
    line_close(t->line);
    signals_close();
    show_grid_free(&t->shown);
    free(t);
    return taken;
}

bool term_unicode(const terminal *t) {
    return t->unicode;
}

void term_size(const terminal *t, int *width, int *height) {
    *width = t->width;
    *height = t->height;
}

/* ---- events ---- */

/* The window's size as the system knows it, within what curses bears. */
static void follow_size(terminal *t) {
    struct winsize size;
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_row > 0 && size.ws_col > 0) {
        int height = size.ws_row < SIZE_MOST ? size.ws_row : SIZE_MOST;
        int width = size.ws_col < SIZE_MOST ? size.ws_col : SIZE_MOST;
        resizeterm(height, width);
    }
    getmaxyx(stdscr, t->height, t->width);
}

/* Ctrl-Z: the terminal as it was, stop, and afterwards take it over again. */
static void stop(terminal *t) {
    give_back(t);
    signals_stop();
    line_catch(t->line);
    refresh();
    manners_begin(t->line);
    line_release(t->line);
    (void)tcsetattr(STDIN_FILENO, TCSADRAIN, &t->ours);
    follow_size(t);
}

/* Stopped by somebody else, who has used the terminal meanwhile. */
static void take_over(terminal *t) {
    (void)tcsetattr(STDIN_FILENO, TCSADRAIN, &t->ours);
    clearok(curscr, TRUE);
    line_catch(t->line);
    reset_prog_mode(); /* the keypad's */
    manners_begin(t->line);
    line_release(t->line);
}

static int signal_event(terminal *t) {
    char bytes[64];
    int event = BENCH_KEY_NONE;
    ssize_t count = read(t->signals, bytes, sizeof bytes);
    for (ssize_t i = 0; i < count; i++) {
        switch (bytes[i]) {
        case SIGNAL_END:
            return TERM_GONE;
        case SIGNAL_STOP:
            stop(t);
            event = TERM_RESIZED;
            break;
        case SIGNAL_CONTINUE:
            take_over(t);
            event = TERM_RESIZED;
            break;
        case SIGNAL_RESIZE:
            event = TERM_RESIZED;
            break;
        default:
            event = event == BENCH_KEY_NONE ? BENCH_KEY_ESC : event;
        }
    }
    if (event == TERM_RESIZED) {
        follow_size(t);
        show_grid_free(&t->shown);
    }
    return event;
}

/* A mark that never comes must not make text of all keys that follow: after a while without a byte it is taken as
 * read. */
static int paste_wait(const terminal *t) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    long passed = (now.tv_sec - t->last.tv_sec) * 1000 + (now.tv_nsec - t->last.tv_nsec) / 1000000;
    return passed >= PASTE_WAIT ? 0 : PASTE_WAIT - (int)passed;
}

static int note_paste(terminal *t, int key) {
    t->pasting = (t->pasting || key == BENCH_KEY_PASTE_BEGIN) && key != BENCH_KEY_PASTE_END;
    if (t->pasting) {
        clock_gettime(CLOCK_MONOTONIC, &t->last);
    }
    return key;
}

/* curses may write when it reads. */
static int next_key(terminal *t) {
    line_catch(t->line);
    int key = keys_waiting(&t->mouse);
    line_release(t->line);
    return key;
}

int term_read(terminal *t, int wait) {
    for (;;) {
        struct pollfd waits[3] = {{.fd = t->signals, .events = POLLIN},
                                  {.fd = STDIN_FILENO, .events = POLLIN},
                                  {.fd = line_waits_on(t->line), .events = POLLOUT}};
        int key = BENCH_KEY_NONE, unread = 0;
        if (poll(waits, 1, 0) > 0) {
            key = signal_event(t);
        }
        if (key == BENCH_KEY_NONE) {
            (void)ioctl(STDIN_FILENO, FIONREAD, &unread);
            key = next_key(t);
        }
        if (key != BENCH_KEY_NONE || unread > 0) {
            return note_paste(t, key); /* none: what came was no key */
        }
        int quiet = t->pasting ? paste_wait(t) : -1,
            ready = poll(waits, 3, quiet >= 0 && (wait < 0 || quiet < wait) ? quiet : wait);
        if (ready == 0) {
            return t->pasting && paste_wait(t) == 0 ? note_paste(t, BENCH_KEY_PASTE_END) : TERM_IDLE;
        }
        if (ready < 0 && errno != EINTR) {
            return TERM_GONE;
        }
        if (waits[2].revents != 0 && !line_busy(t->line)) {
            return BENCH_KEY_NONE; /* what was held back can be drawn */
        }
        /* Readable and yet nothing to read: the other end is gone. Asking again would never wait. */
        bool readable = (waits[1].revents & POLLIN) != 0;
        if ((waits[1].revents & (POLLHUP | POLLERR | POLLNVAL)) != 0 ||
            (readable && ioctl(STDIN_FILENO, FIONREAD, &unread) == 0 && unread == 0)) {
            return TERM_GONE;
        }
    }
}

bool term_waiting(const terminal *t) {
    struct pollfd waits[2] = {{.fd = t->signals, .events = POLLIN}, {.fd = STDIN_FILENO, .events = POLLIN}};
    return poll(waits, 2, 0) > 0;
}

bool term_busy(const terminal *t) {
    return line_busy(t->line);
}

void term_use_pointer(terminal *t, bool on) {
    line_catch(t->line);
    manners_mouse(on);
    line_release(t->line);
}

bench_pointer_act term_pointer(const terminal *t, int *x, int *y) {
    *x = t->mouse.x;
    *y = t->mouse.y;
    return t->mouse.act;
}

/* ---- cells ---- */

static attr_t look_of(const terminal *t, uint16_t look, short *pair) {
    attr_t attributes = A_NORMAL;
    attributes |= (look & SHOW_BOLD) != 0 ? A_BOLD : A_NORMAL;
    attributes |= (look & SHOW_REVERSE) != 0 ? A_REVERSE : A_NORMAL;
    attributes |= (look & SHOW_DIM) != 0 ? A_DIM : A_NORMAL;
    attributes |= (look & SHOW_UNDERLINE) != 0 ? A_UNDERLINE : A_NORMAL;
    *pair = !t->colours               ? 0
            : (look & SHOW_BAD) != 0  ? PAIR_BAD
            : (look & SHOW_WARN) != 0 ? PAIR_WARN
            : (look & SHOW_GOOD) != 0 ? PAIR_GOOD
                                      : 0;
    return attributes;
}

static void put_cell(const terminal *t, int x, int y, const show_cell *cell) {
    wchar_t text[3] = {(wchar_t)cell->code, (wchar_t)cell->mark, 0};
    short pair;
    attr_t look = look_of(t, cell->look, &pair);
    cchar_t out;
    if (cell->code == 0) {
        return; /* the right half of a wide character */
    }
    if (!t->unicode && cell->code > 0x7E) {
        text[0] = L'?';
        text[1] = 0;
    }
    if (setcchar(&out, text, look, pair, NULL) == OK) {
        mvadd_wch(y, x, &out);
    }
}

static bool same_cell(const show_cell *a, const show_cell *b) {
    return a->code == b->code && a->mark == b->mark && a->look == b->look;
}

static bool remember(terminal *t, const show_grid *grid) {
    if (t->shown.cells == NULL || t->shown.width != grid->width || t->shown.height != grid->height) {
        show_grid_free(&t->shown);
        if (!show_grid_init(&t->shown, grid->width, grid->height, grid->unicode)) {
            t->shown.cells = NULL;
            return false;
        }
    }
    memcpy(t->shown.cells, grid->cells, (size_t)grid->width * (size_t)grid->height * sizeof *grid->cells);
    return true;
}

#define GAP_MOST 4 /* cells: behind longer ones a change of look costs less than the cells would */

static bool is_blank(const show_cell *cell) {
    return cell->code == ' ' && cell->mark == 0 && (cell->look & (SHOW_REVERSE | SHOW_UNDERLINE)) == 0;
}

/* Most looks cannot be seen on a blank: it is plain, or between two words of one look has theirs, so that no look is
 * changed for it. */
static void even_out(show_cell *row, int width) {
    int begin = 0;
    for (int x = 0; x <= width; x++) {
        if (x < width && is_blank(&row[x])) {
            continue;
        }
        bool same = begin > 0 && x < width && row[begin - 1].look == row[x].look && x - begin <= GAP_MOST &&
                    (row[x].look & (SHOW_REVERSE | SHOW_UNDERLINE)) == 0;
        for (int i = begin; i < x; i++) {
            row[i].look = same ? row[x].look : SHOW_PLAIN;
        }
        begin = x + 1;
    }
}

void term_draw(terminal *t, const show_grid *grid, bool whole) {
    for (int y = 0; y < grid->height; y++) {
        even_out(grid->cells + (size_t)y * (size_t)grid->width, grid->width);
    }
    bool fresh = whole || t->shown.cells == NULL || t->shown.width != grid->width || t->shown.height != grid->height;
    if (fresh) {
        erase();
    }
    if (whole) {
        clearok(stdscr, TRUE);
    }
    for (int y = 0; y < grid->height && y < t->height; y++) {
        for (int x = 0; x < grid->width && x < t->width; x++) {
            size_t i = (size_t)y * (size_t)grid->width + (size_t)x;
            if (fresh || !same_cell(&grid->cells[i], &t->shown.cells[i])) {
                put_cell(t, x, y, &grid->cells[i]);
            }
        }
    }
    remember(t, grid);
    line_catch(t->line);
    bool cursor = grid->cursor_x >= 0 && grid->cursor_y >= 0 && grid->cursor_x < t->width && grid->cursor_y < t->height;
    curs_set(cursor ? 1 : 0);
    if (cursor) {
        move(grid->cursor_y, grid->cursor_x);
    }
    refresh();
    line_release(t->line);
}

/* script.c - key scripts: what a hand would do, as a text. */
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

#define REPEAT_MOST 100000
#define WORD_SCREEN "screen"
#define WORD_SIZE "size="

bool bench_size_read(const char *text, bench_size *size) {
    int width = 0, height = 0, used = 0;
    if (sscanf(text, "%4dx%4d%n", &width, &height, &used) != 2 || text[used] != '\0' || width < 1 || height < 1 ||
        width > 1000 || height > 1000) {
        return false;
    }
    *size = (bench_size){width, height};
    return true;
}

typedef struct replay {
    bench *b;
    const char *script;
    size_t length, at, line, line_start;
    bench_size size;
    bool unicode, quit, written;
    FILE *screens;
    shop_problems *problems;
} replay;

__attribute__((format(printf, 3, 4))) static bool wrong(replay *r, size_t at, const char *format, ...) {
    char text[300];
    va_list list;
    va_start(list, format);
    vsnprintf(text, sizeof text, format, list);
    va_end(list);
    shop_problem_add(r->problems, false, r->line, at - r->line_start + 1, "%s", text);
    return false;
}

/* A screen follows another behind a line of its own. */
static bool write_screen(replay *r) {
    show_grid grid;
    if (!show_grid_init(&grid, r->size.width, r->size.height, r->unicode)) {
        return wrong(r, r->at, "out of memory");
    }
    bench_draw(r->b, &grid);
    char *text = show_grid_text(&grid);
    show_grid_free(&grid);
    bool fine = text != NULL && (!r->written || fputs("---\n", r->screens) >= 0) && fputs(text, r->screens) >= 0;
    free(text);
    r->written = true;
    return fine || wrong(r, r->at, "the screen cannot be written");
}

/* A terminal draws after every key, and lists keep what is seen: so does this. */
static void redraw(replay *r) {
    show_grid grid;
    while (!r->quit && bench_busy(r->b)) {
        (void)bench_idle(r->b);
    }
    if (!r->quit && show_grid_init(&grid, r->size.width, r->size.height, r->unicode)) {
        bench_draw(r->b, &grid);
        show_grid_free(&grid);
    }
}

static void press(replay *r, int key) {
    r->quit = (bench_key(r->b, key) & BENCH_QUIT) != 0;
    redraw(r);
}

static bool press_quoted(replay *r) {
    size_t begin = r->at++;
    for (; r->at < r->length && r->script[r->at] != '"' && !r->quit;) {
        size_t here = r->at;
        if (r->script[here] == '\n') {
            break;
        }
        if (r->script[here] == '\\' && here + 1 < r->length) {
            here = ++r->at;
        }
        int key = entry_character(r->script, r->length, &r->at);
        if (key == BENCH_KEY_NONE) {
            return wrong(r, here, "this is not UTF-8");
        }
        press(r, key);
    }
    if (!r->quit && (r->at >= r->length || r->script[r->at] != '"')) {
        return wrong(r, begin, "the closing quotation mark is missing");
    }
    r->at++;
    return true;
}

/* `click=12,3`; false if the word is none of these. */
static bool point(replay *r, const char *text, bool *fine, size_t at) {
    static const struct {
        const char *word;
        bench_pointer_act act;
    } acts[] = {{"click=", BENCH_CLICK}, {"wheel-up=", BENCH_WHEEL_UP}, {"wheel-down=", BENCH_WHEEL_DOWN}};
    for (size_t i = 0; i < sizeof acts / sizeof acts[0]; i++) {
        size_t length = strlen(acts[i].word);
        int x, y, used = 0;
        if (strncmp(text, acts[i].word, length) != 0) {
            continue;
        }
        if (sscanf(text + length, "%4d,%4d%n", &x, &y, &used) != 2 || text[length + (size_t)used] != '\0' || x < 1 ||
            y < 1) {
            *fine = wrong(r, at, "a place is a column and a line from 1, like click=12,3");
            return true;
        }
        r->quit = (bench_pointer(r->b, acts[i].act, x - 1, y - 1) & BENCH_QUIT) != 0;
        redraw(r);
        *fine = true;
        return true;
    }
    return false;
}

static bool press_word(replay *r, const char *word, size_t length, size_t at) {
    char text[64];
    int times = 1, used = 0;
    snprintf(text, sizeof text, "%.*s", (int)(length < sizeof text ? length : sizeof text - 1), word);
    bool fine;
    if (strcmp(text, WORD_SCREEN) == 0) {
        return write_screen(r);
    }
    if (point(r, text, &fine, at)) {
        return fine;
    }
    if (strncmp(text, WORD_SIZE, strlen(WORD_SIZE)) == 0) {
        return bench_size_read(text + strlen(WORD_SIZE), &r->size) || wrong(r, at, "a size is written like size=80x24");
    }
    const char *star = length > 1 ? memchr(word + 1, '*', length - 1) : NULL;
    if (star != NULL) {
        const char *number = text + (star - word) + 1;
        if (sscanf(number, "%6d%n", &times, &used) != 1 || number[used] != '\0' || times < 1 || times > REPEAT_MOST) {
            return wrong(r, at, "%s: a key is repeated like Right*10, up to %d times", text, REPEAT_MOST);
        }
        length = (size_t)(star - word);
    }
    int key = key_of_name(word, length);
    if (key == BENCH_KEY_NONE) {
        return wrong(r, at,
                     "%s is no key; a key is a character or a name like Up, Enter, Esc, Tab, Space; text stands "
                     "in \"quotation marks\"",
                     text);
    }
    for (int i = 0; i < times && !r->quit; i++) {
        press(r, key);
    }
    return true;
}

bool bench_replay(bench *b, const char *script, size_t length, bench_size size, bool unicode, FILE *screens,
                  shop_problems *problems) {
    replay r = {.b = b,
                .script = script,
                .length = length,
                .line = 1,
                .size = size,
                .unicode = unicode,
                .screens = screens,
                .problems = problems};
    redraw(&r);
    while (r.at < length && !r.quit) {
        char c = script[r.at];
        bool fine = true;
        if (c == '\n') {
            r.line++;
            r.line_start = ++r.at;
        } else if (c == ' ' || c == '\t' || c == '\r') {
            r.at++;
        } else if (c == '#') {
            while (r.at < length && script[r.at] != '\n') {
                r.at++;
            }
        } else if (c == '"') {
            fine = press_quoted(&r);
        } else {
            size_t begin = r.at;
            while (r.at < length && strchr(" \t\r\n", script[r.at]) == NULL) {
                r.at++;
            }
            fine = press_word(&r, script + begin, r.at - begin, begin);
        }
        if (!fine) {
            return false;
        }
    }
    return r.quit || write_screen(&r);
}

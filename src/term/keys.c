/* keys.c - what the terminal sends, as keys of the bench. */
#include <curses.h>
#include <poll.h>
#include <unistd.h>

#include "bench/bench.h"
#include "term/inner.h"
#include "term/term.h"

static int special_key(wint_t code) {
    if (code >= KEY_F(1) && code <= KEY_F(12)) {
        return BENCH_KEY_F1 + (int)(code - KEY_F(1));
    }
    static const struct {
        wint_t code;
        int key;
    } table[] = {
        {KEY_UP, BENCH_KEY_UP},         {KEY_DOWN, BENCH_KEY_DOWN},
        {KEY_LEFT, BENCH_KEY_LEFT},     {KEY_RIGHT, BENCH_KEY_RIGHT},
        {KEY_PPAGE, BENCH_KEY_PAGE_UP}, {KEY_NPAGE, BENCH_KEY_PAGE_DOWN},
        {KEY_HOME, BENCH_KEY_HOME},     {KEY_END, BENCH_KEY_END},
        {KEY_ENTER, BENCH_KEY_ENTER},   {KEY_BACKSPACE, BENCH_KEY_BACKSPACE},
        {KEY_DC, BENCH_KEY_DELETE},     {KEY_BTAB, BENCH_KEY_BACKTAB},
    };
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        if (table[i].code == code) {
            return table[i].key;
        }
    }
    return BENCH_KEY_UNKNOWN;
}

static int character_key(wint_t code) {
    switch (code) {
    case '\r':
    case '\n':
        return BENCH_KEY_ENTER;
    case '\t':
        return BENCH_KEY_TAB;
    case '\b':
    case 0x7F:
        return BENCH_KEY_BACKSPACE;
    case 0x1B:
    case 0x03:
        return BENCH_KEY_ESC;
    case 0x0C:
        return BENCH_KEY_REPAINT;
    default:
        return code < ' ' || (code >= 0x80 && code < 0xA0) || code > 0x10FFFF ? BENCH_KEY_UNKNOWN : (int)code;
    }
}

/* ---- sequences that the terminal's description does not name ---- */

/* Terminals send keys in more ways than their descriptions say. A sequence that nobody knows is one unknown key, never
 * a row of letters that each do something. */
static int final_key(wint_t final) {
    switch (final) {
    case 'A':
        return BENCH_KEY_UP;
    case 'B':
        return BENCH_KEY_DOWN;
    case 'C':
        return BENCH_KEY_RIGHT;
    case 'D':
        return BENCH_KEY_LEFT;
    case 'H':
        return BENCH_KEY_HOME;
    case 'F':
        return BENCH_KEY_END;
    case 'M':
        return BENCH_KEY_ENTER; /* of the keypad, behind ESC O */
    case 'Z':
        return BENCH_KEY_BACKTAB;
    case 'P':
    case 'Q':
    case 'R':
    case 'S':
        return BENCH_KEY_F1 + (int)(final - 'P');
    default:
        return BENCH_KEY_UNKNOWN;
    }
}

static int numbered_key(int number) {
    switch (number) {
    case 1:
    case 7:
        return BENCH_KEY_HOME;
    case 3:
        return BENCH_KEY_DELETE;
    case 4:
    case 8:
        return BENCH_KEY_END;
    case 5:
        return BENCH_KEY_PAGE_UP;
    case 6:
        return BENCH_KEY_PAGE_DOWN;
    case 200:
        return BENCH_KEY_PASTE_BEGIN;
    case 201:
        return BENCH_KEY_PASTE_END;
    default:
        /* F1 to F5, F6 to F10, F11 and F12 */
        return number >= 11 && number <= 15   ? BENCH_KEY_F1 + number - 11
               : number >= 17 && number <= 21 ? BENCH_KEY_F1 + number - 12
               : number == 23 || number == 24 ? BENCH_KEY_F1 + number - 13
                                              : BENCH_KEY_UNKNOWN;
    }
}

#define REST_WAIT 100 /* ms: over a slow line the bytes of a key come one by one */

/* The next byte of a sequence that has begun. */
static int next_code(wint_t *code) {
    int got = get_wch(code);
    if (got == ERR) {
        struct pollfd wait = {.fd = STDIN_FILENO, .events = POLLIN};
        got = poll(&wait, 1, REST_WAIT) > 0 ? get_wch(code) : ERR;
    }
    return got;
}

/* Behind ESC [: parameters and a final byte, by ECMA-48. */
static int control_sequence(void) {
    wint_t code = 0;
    int number = 0, parameters = 0;
    while (next_code(&code) == OK && code >= 0x20 && code < 0x40) {
        if (code >= '0' && code <= '9' && parameters == 0 && number < 1000) {
            number = number * 10 + (int)(code - '0');
        } else {
            parameters++;
        }
    }
    if (code == '~') {
        return parameters == 0 ? numbered_key(number) : BENCH_KEY_UNKNOWN;
    }
    return number == 0 && parameters == 0 ? final_key(code) : BENCH_KEY_UNKNOWN;
}

/* After an ESC: alone it is the key, with [ or O come the others. What else follows is a key of its own. */
static int after_escape(void) {
    wint_t code = 0;
    int got = get_wch(&code); /* curses has waited already before it gave the ESC */
    if (got == OK && code == '[') {
        return control_sequence();
    }
    if (got == OK && code == 'O') {
        return next_code(&code) == OK ? final_key(code) : BENCH_KEY_UNKNOWN;
    }
    if (got == OK) {
        unget_wch((wchar_t)code);
    } else if (got == KEY_CODE_YES) {
        ungetch((int)code);
    }
    return BENCH_KEY_ESC;
}

/* Of what the mouse does only the presses that were asked for arrive; what else comes is no key. */
static int pointer(mouse_event *mouse) {
    MEVENT event;
    if (getmouse(&event) != OK) {
        return BENCH_KEY_NONE;
    }
    mouse->x = event.x;
    mouse->y = event.y;
    if ((event.bstate & (BUTTON4_PRESSED | BUTTON5_PRESSED)) != 0) {
        mouse->act = (event.bstate & BUTTON4_PRESSED) != 0 ? BENCH_WHEEL_UP : BENCH_WHEEL_DOWN;
        return TERM_POINTER;
    }
    mouse->act = BENCH_CLICK;
    return (event.bstate & BUTTON1_PRESSED) != 0 ? TERM_POINTER : BENCH_KEY_NONE;
}

int keys_waiting(mouse_event *mouse) {
    wint_t code = 0;
    switch (get_wch(&code)) {
    case OK:
        return code == 0x1B ? after_escape() : character_key(code);
    case KEY_CODE_YES:
        return code == KEY_RESIZE ? BENCH_KEY_NONE : code == KEY_MOUSE ? pointer(mouse) : special_key(code);
    default:
        return BENCH_KEY_NONE;
    }
}

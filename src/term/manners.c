/* manners.c - what the terminal is asked for beside the screen, and given back: the mouse, and marks around pasted
 * text.
 *
 * The marks are asked for where the terminal's description knows them (BE, BD), or where it knows a mouse: such
 * terminals pass over private modes that they have not got. Others are sent nothing that they are not known to take.
 */
#include "term/inner.h" /* before curses, whose names are everywhere */

#include <curses.h>
#include <stdio.h>
#include <term.h>

#define MARKS_ON "\033[?2004h"
#define MARKS_OFF "\033[?2004l"
#define MOUSE_OFF "\033[?1006;1000l"

static bool has_text(const char *capability) {
    const char *text = tigetstr(capability);
    return text != NULL && text != (const char *)-1;
}

static bool has_marks(void) {
    return has_text("BE") || key_mouse != NULL;
}

void manners_begin(line *l) {
    if (has_marks()) {
        line_add(l, MARKS_ON);
    }
}

void manners_end(line *l) {
    if (has_marks()) {
        line_add(l, MARKS_OFF);
    }
}

void manners_mouse(bool on) {
    mmask_t wanted = BUTTON1_PRESSED | BUTTON4_PRESSED | BUTTON5_PRESSED;
    mouseinterval(0); /* a press is a press: no waiting for a second one */
    mousemask(on ? wanted : 0, NULL);
}

unsigned manners_end_text(char *out, unsigned room) {
    int length = snprintf(out, room, "%s%s", key_mouse != NULL ? MOUSE_OFF : "", has_marks() ? MARKS_OFF : "");
    return length > 0 && (unsigned)length < room ? (unsigned)length : 0;
}

/* pointer.c - the mouse, as a shorter way to what keys do: whatever is drawn tells where it can be clicked. */
#include "bench/inner.h"

void spot_add(bench *b, int x, int y, int width, spot_kind kind, size_t which) {
    if (b->spot_count < SPOTS_MOST && width > 0) {
        b->spots[b->spot_count++] = (bench_spot){x, y, width, kind, which};
    }
}

/* What was drawn later lies on top. */
static const bench_spot *spot_at(const bench *b, int x, int y) {
    for (size_t i = b->spot_count; i > 0; i--) {
        const bench_spot *spot = &b->spots[i - 1];
        if (y == spot->y && x >= spot->x && x < spot->x + spot->width) {
            return spot;
        }
    }
    return NULL;
}

/* The one before (or behind) comes into hand first, so that the key does all that choosing does. */
static unsigned choose_row(bench *b, size_t which) {
    if (which >= b->list.count) {
        return BENCH_NOTHING;
    }
    if (which == b->list.at) {
        return bench_meant(b, BENCH_KEY_ENTER);
    }
    b->list.at = which > 0 ? which - 1 : 1;
    return bench_meant(b, which > 0 ? BENCH_KEY_DOWN : BENCH_KEY_UP);
}

static unsigned choose_card(bench *b, size_t which) {
    size_t cards = bench_cards(b);
    if (b->screen != BENCH_WORK) {
        bench_refuse(b, "What is in hand is changed on the workbench: %s.", bench_hint(bench_where(b)));
        return BENCH_REDRAW;
    }
    if (which >= cards || which == b->card) {
        return BENCH_NOTHING;
    }
    b->card = (which + cards - 1) % cards;
    return bench_meant(b, BENCH_KEY_TAB);
}

static unsigned choose_value(bench *b, size_t which) {
    if (b->screen == BENCH_FORM) {
        if (!form_has(&b->form, (form_row)which)) { /* pointed at as drawn, but keys not yet drawn took it away */
            return BENCH_NOTHING;
        }
        if (b->form.at == (form_row)which) {
            return bench_meant(b, BENCH_KEY_ENTER);
        }
        b->form.at = (form_row)which;
    } else if (b->screen == BENCH_STRIP) {
        if (b->strip.at == (strip_row)which) {
            return bench_meant(b, BENCH_KEY_ENTER);
        }
        b->strip.at = (strip_row)which;
    } else {
        size_t *field = b->screen == BENCH_TOOL ? &b->shelf.field : &b->field;
        if (*field == which) {
            return bench_meant(b, BENCH_KEY_ENTER);
        }
        *field = which;
    }
    b->message[0] = '\0';
    return BENCH_REDRAW;
}

/* A second click on the layout that is chosen is Enter; on the copy that is in hand there is nothing to do. */
static unsigned choose_side(bench *b, size_t which) {
    if (b->screen == BENCH_TOOL) {
        return b->shelf.piece == (which == 1) ? BENCH_NOTHING : bench_meant(b, BENCH_KEY_TAB);
    }
    return b->second_chosen == (int)which ? bench_meant(b, BENCH_KEY_ENTER)
                                          : bench_meant(b, which == 1 ? BENCH_KEY_RIGHT : BENCH_KEY_LEFT);
}

static unsigned wheel(bench *b, bool up) {
    switch (bench_where(b)) {
    case BENCH_TYPING:
    case BENCH_ASK:
    case BENCH_STRIKES: /* a strike must not be counted by a touch */
        return BENCH_NOTHING;
    case BENCH_ROUND:
        return bench_meant(b, up ? BENCH_KEY_LEFT : BENCH_KEY_RIGHT);
    case BENCH_READ:
        for (int i = 0; i < 2; i++) {
            (void)bench_meant(b, up ? BENCH_KEY_UP : BENCH_KEY_DOWN);
        }
        return bench_meant(b, up ? BENCH_KEY_UP : BENCH_KEY_DOWN);
    default:
        return bench_meant(b, up ? BENCH_KEY_UP : BENCH_KEY_DOWN);
    }
}

unsigned bench_pointer(bench *b, bench_pointer_act act, int x, int y) {
    if (b->pasting || !b->pointer) {
        return BENCH_NOTHING;
    }
    if (act != BENCH_CLICK) {
        return wheel(b, act == BENCH_WHEEL_UP);
    }
    const bench_spot *spot = spot_at(b, x, y);
    if (spot == NULL) {
        return BENCH_NOTHING;
    }
    if (spot->kind == SPOT_KEY) {
        return bench_key(b, (int)spot->which);
    }
    if (bench_where(b) == BENCH_TYPING) {
        bench_refuse(b, "What is typed is finished first: %s.", bench_hint(BENCH_TYPING));
        return BENCH_REDRAW;
    }
    switch (spot->kind) {
    case SPOT_ROW:
        return choose_row(b, spot->which);
    case SPOT_CARD:
        return choose_card(b, spot->which);
    case SPOT_SIDE:
        return choose_side(b, spot->which);
    case SPOT_CELL:
        return table_click(b, spot->which);
    case SPOT_MEANT:
        return bench_meant(b, (int)spot->which);
    default:
        return choose_value(b, spot->which);
    }
}

bool bench_wants_pointer(const bench *b) {
    return b->pointer;
}

void bench_set_pointer(bench *b, bool on) {
    b->pointer = on;
}

void do_mouse(bench *b, int key) {
    (void)key;
    b->pointer = !b->pointer;
    bench_say(b, "%s",
              b->pointer ? "The mouse is used: click what you want in hand, click it again to act on it."
                         : "The mouse is left to the terminal, whose own selection works now.");
}

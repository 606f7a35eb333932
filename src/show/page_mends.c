/* What would make a band work that does not: the least change of each value, as it was planned anew. */
#include <math.h>

#include "bandwright/moves.h"
#include "show/page.h"

enum { TOLD = 4, PIECES_MOST = 4000 }; /* an edge of more pieces would keep the page waiting */

/* A value that works, in words; false of what has none here. */
static bool say_change(const page *p, const bw_change *change, show_words *out) {
    const bw_outline *o = &p->project->layout.outline;
    show_figure_text length = show_length(p->project, change->value);
    const char *value = length.text;
    bool around = isnan(o->diameter) && !isnan(o->around);
    switch (change->knob) {
    case BW_KNOB_CORNER:
        show_say(out, "rounded corners of %s", value);
        return true;
    case BW_KNOB_DIAMETER:
        show_say(out, "a %s of %s", around ? "circumference" : "diameter", value);
        return true;
    case BW_KNOB_LENGTH:
        show_say(out, "a piece %s long", value);
        return true;
    case BW_KNOB_WIDTH:
        show_say(out, "a piece %s wide", value);
        return true;
    case BW_KNOB_RADIUS:
        show_say(out, "a radius of %s", value);
        return true;
    case BW_KNOB_BAND_WIDTH:
        show_say(out, "a band %s wide", value);
        return true;
    case BW_KNOB_SPACE:
        show_say(out, "a space of %s before it", value);
        return true;
    case BW_KNOB_COUNT:
        if (change->number == 0)
            return false;
        show_say(out, "%d %s", change->number, show_impressions_word(p->plan->bands[change->band].fill));
        return true;
    case BW_KNOB_LOSE:
        show_say(out, "the difference spread evenly");
        return true;
    case BW_KNOB_GUIDE:
        show_say(out, "the guide %s from its outer line", value);
        return true;
    default:
        return false;
    }
}

static bool mends(const bw_move *move) {
    return move->cures_warning && move->cures == BW_WARN_VERDICT && move->verdict >= BW_TIGHT;
}

/* The smallest change of each value comes first in the list. */
static bool first_of_knob(const bw_move *moves, size_t i) {
    for (size_t k = 0; k < i; k++)
        if (moves[k].change.knob == moves[i].change.knob && mends(&moves[k]))
            return false;
    return true;
}

void page_mends(page *p, size_t band) {
    bw_move *moves;
    size_t count, told = 0;
    if (bw_curve_pieces(p->plan->edge) > PIECES_MOST ||
        bw_moves_create(&p->project->layout, p->plan, band, NULL, &moves, &count) != BW_OK)
        return;
    show_words words;
    show_start(&words);
    for (size_t i = 0; i < count && told < TOLD; i++) {
        show_words one;
        show_start(&one);
        if (!mends(&moves[i]) || !first_of_knob(moves, i) || !say_change(p, &moves[i].change, &one))
            continue;
        show_say(&words, "%s%s", told++ ? "; or " : "it would work with ", one.text);
    }
    bw_moves_release(moves, NULL);
    if (told > 0)
        page_put(p, "  ", words.text);
}

/* What stamp would do: one size of it is changed, outward from what it is in growing strides, and where it begins or
 * ends to work is then halved in. */
#include "bandwright/stamp.h"

#include <math.h>

#include "bandwright/limits.h"
#include "maths/kept.h"

#define STRIDE 0.01 /* share of the value in use */
#define GROWTH 1.06 /* of one stride to the next */
#define STRIDE_MANY 0.03
#define GROWTH_MANY 1.25
#define SHARE_ENDS 0.02 /* legs and rails of no breadth are no legs and rails */
enum { MANY_PIECES = 64, STRIDES_MOST = 80, HALVINGS = 14, HALVINGS_MANY = 10 };

typedef enum size_of { LENGTH, LEG, RAIL } size_of;

typedef struct seeking {
    const bw_layout *layout;
    const bw_plan *plan;
    size_t band;
    size_of which;
    double now, least, most; /* of the size: what it is, and what a tool may have */
    bool many, no_memory;
} seeking;

static bw_tool with_size(const seeking *s, double value) {
    const bw_band_plan *made = &s->plan->bands[s->band];
    const bw_face *face = &made->face;
    bw_tool tool = s->layout->tools[s->layout->bands[s->band].tool];
    if (s->which == LENGTH) {
        *(tool.kind == BW_IRON ? &tool.pitch : &tool.length) = value;
        tool.bar = value * face->bar / face->length;
    } else if (s->which == LEG)
        tool.bar = face->length * (1 - 2 * value);
    else
        tool.rail = value;
    if (tool.kind == BW_BASKET) { /* what was estimated from the length is kept, too */
        tool.width = face->width;
        tool.rail = s->which == RAIL ? value : face->rail;
    }
    if (tool.kind == BW_BASKET && s->which == RAIL)
        tool.bar = face->bar;
    else
        tool.closest = tool.usual = tool.widest = (double)NAN;
    return tool;
}

static bool works(seeking *s, double value) {
    bw_verdict verdict = BW_NO_ROOM;
    bw_tool tool = with_size(s, value);
    if (!maths_verdict_alone(s->layout, s->plan, s->band, &s->layout->bands[s->band], &tool, &verdict))
        s->no_memory = true;
    return verdict >= BW_TIGHT;
}

/* Between a value that works and one that does not: the last that works. */
static double edge_of(seeking *s, double good, double bad) {
    for (int i = 0; i < (s->many ? HALVINGS_MANY : HALVINGS); i++) {
        double middle = (good + bad) / 2;
        *(works(s, middle) ? &good : &bad) = middle;
    }
    return good;
}

/* From a value, one way, to the first one that works, or does not; false if none does up to the end, which is then in
 * *found. before: the value just before it. */
static bool stride(seeking *s, double from, int way, bool wanted, double *found, double *before) {
    double step = s->now * (s->many ? STRIDE_MANY : STRIDE), at = from, end = way > 0 ? s->most : s->least;
    for (int i = 0; i < STRIDES_MOST && at != end; i++) {
        *before = at;
        at = way > 0 ? fmin(at + step, end) : fmax(at - step, end);
        step *= s->many ? GROWTH_MANY : GROWTH;
        *found = at;
        if (works(s, at) == wanted)
            return true;
    }
    *found = at;
    return false;
}

/* The range around a value that works. */
static bw_span around(seeking *s, double good) {
    bw_span span = {.any = true};
    double bad, last;
    span.below = !stride(s, good, -1, false, &bad, &last);
    span.least = span.below ? bad : edge_of(s, last, bad);
    span.above = !stride(s, good, 1, false, &bad, &last);
    span.most = span.above ? bad : edge_of(s, last, bad);
    return span;
}

static bw_span span_of(seeking *s) {
    double found[2] = {0, 0}, last[2] = {s->now, s->now};
    if (!(s->now > s->least && s->now < s->most))
        return (bw_span){.any = false};
    if (works(s, s->now))
        return around(s, s->now);
    bool below = stride(s, s->now, -1, true, &found[0], &last[0]);
    bool above = stride(s, s->now, 1, true, &found[1], &last[1]);
    if (!below && !above)
        return (bw_span){.any = false};
    bool lower = below && (!above || s->now - found[0] <= found[1] - s->now);
    return around(s, found[lower ? 0 : 1]);
}

static bw_span find(seeking s, size_of which, double now, double least, double most, bool *no_memory) {
    s.which = which;
    s.now = now;
    s.least = least;
    s.most = most;
    bw_span span = span_of(&s);
    *no_memory = *no_memory || s.no_memory;
    return span;
}

static bool look_for(const bw_layout *layout, const bw_plan *plan, size_t band, bw_stamp *out) {
    const bw_band_plan *made = &plan->bands[band];
    const bw_face *face = &made->face;
    bool no_memory = false;
    seeking s = {.layout = layout, .plan = plan, .band = band, .many = bw_curve_pieces(plan->edge) > MANY_PIECES};
    bw_verdict verdict;
    if (!maths_verdict_alone(layout, plan, band, &layout->bands[band], NULL, &verdict))
        return false;
    out->works = verdict >= BW_TIGHT;
    if (made->fill == BW_FILL_STITCH)
        out->length = find(s, LENGTH, face->length, BW_PITCH_LEAST, BW_PITCH_MOST, &no_memory);
    else if (made->fill == BW_FILL_BORDER)
        out->length = find(s, LENGTH, face->length, BW_BORDER_LEAST, BW_BORDER_MOST, &no_memory);
    else {
        out->length = find(s, LENGTH, face->length, BW_BASKET_LEAST, BW_BASKET_MOST, &no_memory);
        out->leg = find(s, LEG, face->leg / face->length, SHARE_ENDS, 0.5 - SHARE_ENDS, &no_memory);
        out->rail = find(s, RAIL, face->rail, SHARE_ENDS * face->width, (0.5 - SHARE_ENDS) * face->width, &no_memory);
    }
    return !no_memory;
}

const bw_stamp *bw_plan_stamp(const bw_layout *layout, const bw_plan *plan, size_t band) {
    if (band >= plan->band_count || band >= layout->band_count || plan->bands[band].fill == BW_FILL_PLAIN)
        return NULL;
    const bw_allocator *a = maths_plan_allocator(plan);
    maths_kept *kept = maths_plan_kept(plan, band);
    bw_stamp *there = atomic_load(&kept->stamp);
    if (there != NULL)
        return there;
    bw_stamp *made = maths_alloc(a, 1, sizeof *made);
    if (made == NULL ||
        (look_for(layout, plan, band, made) && atomic_compare_exchange_strong(&kept->stamp, &there, made)))
        return made;
    maths_release(a, made); /* no memory, or another thread was first */
    return there;
}

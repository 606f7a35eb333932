/* Linking slices into loops, cut by cut (see parallel.h). */
#include <math.h>
#include <stdint.h>

#include "maths/parallel.h"

#define NO_SLICE SIZE_MAX

typedef struct linking {
    const maths_slices *slices;
    const maths_moved *moved;
    size_t *next;   /* the slice behind slice i, or NO_SLICE */
    bool *entered;  /* some slice goes on into it */
    size_t *at_cut; /* first slice that begins at a cut, and so on by `sibling` */
    size_t *sibling;
    bool sound;
} linking;

static double heading_in(const linking *l, size_t i) {
    const maths_slice *s = &l->slices->list[i];
    return maths_piece_at(&l->moved->pieces[s->last], s->until).heading;
}

static double heading_out(const linking *l, size_t i) {
    const maths_slice *s = &l->slices->list[i];
    return maths_piece_at(&l->moved->pieces[s->first], s->from).heading;
}

/* The leather lies to the left of both slices: between the way out, turning left, and the way back. Where several begin
 * at one spot the nearest to the right of the way back keeps the parts of the leather separate. */
static size_t onward(const linking *l, size_t i) {
    size_t best = NO_SLICE;
    double least = INFINITY, back = heading_in(l, i) + BW_PI;
    for (size_t k = l->at_cut[l->slices->list[i].end]; k != NO_SLICE; k = l->sibling[k]) {
        if (l->entered[k])
            continue;
        double between = maths_angle(back - heading_out(l, k));
        if (between < 0)
            between += 2 * BW_PI;
        if (between < least) {
            least = between;
            best = k;
        }
    }
    return best;
}

static void link_all(linking *l) {
    const maths_slices *s = l->slices;
    for (size_t i = 0; i < s->cuts; i++)
        l->at_cut[i] = NO_SLICE;
    for (size_t i = s->count; i-- > 0;) {
        l->sibling[i] = l->at_cut[s->list[i].begin];
        l->at_cut[s->list[i].begin] = i;
    }
    for (size_t i = 0; i < s->count; i++) {
        l->next[i] = onward(l, i);
        if (l->next[i] != NO_SLICE)
            l->entered[l->next[i]] = true;
        else if (!s->loose[s->list[i].end])
            l->sound = false;
    }
    for (size_t i = 0; i < s->count; i++)
        if (!l->entered[i] && !s->loose[s->list[i].begin])
            l->sound = false;
}

static void add_slice(bw_curve *to, const linking *l, size_t i) {
    const maths_slice *s = &l->slices->list[i];
    for (size_t k = s->first; k <= s->last; k++) {
        const bw_piece *piece = &l->moved->pieces[k];
        double from = k == s->first ? s->from : 0, until = k == s->last ? s->until : piece->length;
        maths_curve_add(to, maths_piece_part(piece, from, until));
    }
}

/* Slices from `first` on, marked as done; a closed one ends where it began. */
static void add_loop(bw_curve *to, const linking *l, size_t first, bool closed, bool *done) {
    int loops = to->loops;
    maths_curve_begin(to, closed);
    for (size_t i = first; i != NO_SLICE && !done[i]; i = l->next[i]) {
        done[i] = true;
        add_slice(to, l, i);
    }
    if (closed && to->loops > loops)
        maths_curve_drop_thin(to);
}

static bw_curve *assemble(const linking *l, const bw_curve *edge, bool *done, maths_arena *arena) {
    size_t n = l->slices->count, room = 0;
    for (size_t i = 0; i < n; i++)
        room += l->slices->list[i].last - l->slices->list[i].first + 1;
    bool *inside = maths_take(arena, n, sizeof *inside); /* of an open loop, behind its first slice */
    bw_curve *made = inside != NULL ? maths_curve_new_loops(&arena->allocator, room, n, edge->closed) : NULL;
    if (made == NULL)
        return NULL;
    for (size_t i = 0; i < n; i++)
        for (size_t k = l->entered[i] ? NO_SLICE : l->next[i]; k != NO_SLICE; k = l->next[k])
            inside[k] = true;
    for (size_t i = 0; i < n; i++) {
        bool open = !l->entered[i];
        if (done[i] || inside[i] || (open && edge->closed)) /* what leads nowhere on a closed edge is no loop */
            continue;
        add_loop(made, l, i, !open, done);
    }
    return made;
}

bw_curve *maths_link(const maths_slices *slices, const maths_moved *moved, const bw_curve *edge, maths_arena *arena,
                     bool *sound) {
    linking l = {.slices = slices, .moved = moved, .sound = true};
    l.next = maths_take(arena, slices->count, sizeof *l.next);
    l.entered = maths_take(arena, slices->count, sizeof *l.entered);
    l.at_cut = maths_take(arena, slices->cuts, sizeof *l.at_cut);
    l.sibling = maths_take(arena, slices->count, sizeof *l.sibling);
    bool *done = maths_take(arena, slices->count, sizeof *done);
    if (arena->failed)
        return NULL;
    link_all(&l);
    *sound = l.sound;
    return assemble(&l, edge, done, arena);
}

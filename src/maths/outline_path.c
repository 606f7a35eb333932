/* Paths: SVG path data, turned over and scaled, as lines and arcs. */
#include <math.h>

#include "bandwright/limits.h"
#include "maths/fit.h"
#include "maths/svg.h"
#include "maths/svg_number.h"

#define ENDS_MEET 0.01   /* mm: ends that lie no further apart close the path */
#define HALF_ROUND 1e-12 /* share: an arc this near to its radius's least chord is half a round */

/* mm, y upwards. */
typedef struct piece {
    maths_svg_kind kind;
    bw_point p[4]; /* from, both controls, to */
    double rx, ry, turn, way;
    bool large;
} piece;

static bw_point turned_over(bw_point p, double scale) {
    return (bw_point){p.x * scale, 0 - p.y * scale}; /* no negative zero */
}

static piece piece_from(const maths_svg_piece *svg, double scale) {
    return (piece){.kind = svg->kind,
                   .p = {turned_over(svg->from, scale), turned_over(svg->control[0], scale),
                         turned_over(svg->control[1], scale), turned_over(svg->to, scale)},
                   .rx = svg->rx * scale,
                   .ry = svg->ry * scale,
                   .turn = -fmod(svg->turn, 360) * BW_PI / 180,
                   .way = svg->increasing ? -1 : 1,
                   .large = svg->large};
}

static double between(bw_point a, bw_point b) {
    return hypot(b.x - a.x, b.y - a.y);
}

static bool empty(const piece *p) {
    bool still = between(p->p[0], p->p[3]) <= BW_EPS;
    if (p->kind == MATHS_SVG_CUBIC)
        return still && between(p->p[0], p->p[1]) <= BW_EPS && between(p->p[0], p->p[2]) <= BW_EPS;
    return still;
}

/* Part of a circle, from its chord. */
static void add_round(maths_chain *chain, const piece *p) {
    bw_point from = p->p[0], to = p->p[3];
    double chord = between(from, to), share = chord / 2 / p->rx;
    double half = share >= 1 - HALF_ROUND ? BW_PI / 2 : asin(share), radius = chord / 2 / sin(half);
    double sweep = p->way * (p->large ? 2 * BW_PI - 2 * half : 2 * half);
    double heading = atan2(to.y - from.y, to.x - from.x) - sweep / 2;
    maths_chain_bend(chain, maths_bend_of(from, heading, radius * fabs(sweep), sweep));
    chain->at = to;
}

/* From end points to centre and angles: SVG 1.1, appendix F.6.5; radii that do not reach grow, F.6.6. */
static maths_bow ellipse_of(const piece *p, double *begin, double *sweep) {
    bw_point from = p->p[0], to = p->p[3];
    double c = cos(p->turn), s = sin(p->turn), hx = (from.x - to.x) / 2, hy = (from.y - to.y) / 2;
    double x = (c * hx + s * hy) / p->rx, y = (c * hy - s * hx) / p->ry, reach = x * x + y * y;
    double grown = reach >= 1 - HALF_ROUND ? sqrt(reach) : 1;
    x /= grown;
    y /= grown;
    double off = grown == 1 ? sqrt(fmax(0, 1 / reach - 1)) * (p->large == (p->way > 0) ? -1 : 1) : 0;
    double cx = off * y, cy = -off * x; /* in units of the radii */
    *begin = atan2(y - cy, x - cx);
    *sweep = maths_angle(atan2(-y - cy, -x - cx) - *begin);
    if (*sweep * p->way < 0)
        *sweep += 2 * BW_PI * p->way;
    double rx = p->rx * grown, ry = p->ry * grown;
    maths_bow ellipse = {.elliptic = true, .rx = rx, .ry = ry, .cos = c, .sin = s};
    ellipse.centre.x = (from.x + to.x) / 2 + c * cx * rx - s * cy * ry;
    ellipse.centre.y = (from.y + to.y) / 2 + s * cx * rx + c * cy * ry;
    return ellipse;
}

static void add_elliptic(maths_chain *chain, const piece *p) {
    double begin, sweep;
    maths_bow ellipse = ellipse_of(p, &begin, &sweep);
    maths_fit_elliptic(chain, &ellipse, p->p[0], p->p[3], begin, sweep);
    chain->at = p->p[3];
}

static bool has_radii(const piece *p) { /* F.6.2 */
    return p->rx > BW_EPS && p->ry > BW_EPS;
}

/* An arc whose radii had to grow may lead anywhere. */
static bool leads_too_far(const piece *p) {
    enum { PLACES = 64 };
    double begin, sweep;
    if (p->kind != MATHS_SVG_ARC || !has_radii(p))
        return false;
    maths_bow ellipse = ellipse_of(p, &begin, &sweep);
    for (int i = 1; i < PLACES; i++) {
        bw_point at, first, second;
        maths_bow_at(&ellipse, begin + sweep * i / PLACES, &at, &first, &second);
        if (!(fmax(fabs(at.x), fabs(at.y)) <= BW_PLACE_MOST))
            return true;
    }
    return false;
}

#define TEXT_OF(number) #number
#define ARCS_TEXT(number) "the path is too detailed: its curves up to here make more than " TEXT_OF(number) " arcs"

static bool too_detailed(const maths_chain *chain, maths_svg *svg) {
    if (chain->count > BW_ARCS_MOST)
        maths_svg_wrong(svg, svg->at, ARCS_TEXT(BW_ARCS_MOST));
    return chain->count > BW_ARCS_MOST;
}

static void add(maths_chain *chain, const piece *p) {
    switch (p->kind) {
    case MATHS_SVG_CUBIC:
        maths_fit_cubic(chain, p->p);
        return;
    case MATHS_SVG_ARC:
        if (!has_radii(p))
            break;
        if (p->rx == p->ry)
            add_round(chain, p);
        else
            add_elliptic(chain, p);
        return;
    case MATHS_SVG_LINE:
    case MATHS_SVG_CLOSE:
        break;
    }
    maths_chain_line(chain, p->p[3]);
}

/* Every piece waits for the next one: the last may have to be moved. */
static void read_pieces(maths_chain *chain, maths_svg *svg, double scale) {
    maths_svg_piece next;
    piece waiting = {.kind = MATHS_SVG_LINE};
    bool any = false, more = maths_svg_next(svg, &next);
    bw_point first = turned_over(svg->first, scale);
    maths_chain_init(chain, &chain->allocator, first);
    for (; more && next.kind != MATHS_SVG_CLOSE; more = maths_svg_next(svg, &next)) {
        piece p = piece_from(&next, scale);
        if (empty(&p))
            continue;
        if (leads_too_far(&p)) {
            maths_svg_wrong(svg, svg->at, "the arc that ends here leads too far off: more than 100 m");
            return;
        }
        if (any)
            add(chain, &waiting);
        if (too_detailed(chain, svg))
            return;
        waiting = p;
        any = true;
    }
    if (more) /* nothing but spaces may follow */
        maths_svg_next(svg, &next);
    if (!any || svg->why != NULL)
        return;
    bool meet = between(waiting.p[3], first) <= ENDS_MEET;
    chain->closed = more || meet;
    if (meet && (waiting.kind != MATHS_SVG_ARC || between(waiting.p[0], first) > ENDS_MEET))
        waiting.p[3] = first; /* but an arc of almost a whole round keeps its way */
    add(chain, &waiting);
    if (!too_detailed(chain, svg) && chain->closed)
        maths_chain_line(chain, first);
}

bw_status maths_path(maths_chain *chain, const bw_outline *o, bw_outline_fault *fault) {
    maths_svg svg;
    maths_svg_open(&svg, o->svg, BW_PLACE_MOST / o->scale);
    read_pieces(chain, &svg, o->scale);
    if (svg.why != NULL) {
        *fault = (bw_outline_fault){.what = BW_TROUBLE_SVG, .item = svg.at, .why = svg.why};
        return BW_BAD_VALUE;
    }
    if (chain->count == 0 && !chain->failed) {
        fault->what = BW_TROUBLE_FEW;
        return BW_BAD_VALUE;
    }
    if (chain->closed && maths_chain_area(chain) < 0)
        maths_chain_reverse(chain);
    return BW_OK;
}

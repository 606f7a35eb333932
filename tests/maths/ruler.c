/* ruler.c - distances from an edge and places along its parallels, from the sizes of the edge alone. */
#include <check.h>
#include <math.h>

#include "maths/measure.h"

#define QUARTER (BW_PI / 2)

bool ruler_open(const ruler *edge) {
    return edge->shape == BW_LINE || edge->shape == BW_ARC;
}

static double left_of(double radius, double offset) {
    return radius > offset ? radius - offset : 0;
}

double ruler_length(const ruler *edge, double offset) {
    switch (edge->shape) {
    case BW_CIRCLE:
        return 2 * BW_PI * (edge->radius - offset);
    case BW_LINE:
        return edge->length;
    case BW_ARC:
        return fabs(edge->sweep) * (edge->sweep > 0 ? edge->radius - offset : edge->radius + offset);
    default: {
        double corners = 0;
        for (int i = 0; i < 4; i++) {
            corners += left_of(edge->corner[i], offset);
        }
        return 2 * (edge->length + edge->width - 4 * offset) + corners * (QUARTER - 2);
    }
    }
}

int ruler_cuts(const ruler *edge, double offset) {
    int cuts = 0;
    for (int i = 0; edge->shape == BW_RECTANGLE && i < 4; i++) {
        cuts += edge->corner[i] <= offset + 1e-9;
    }
    return cuts;
}

static ruler_reading read_round(const ruler *edge, double guide, double x, double y, double heading) {
    bool away = edge->shape == BW_ARC && edge->sweep < 0;
    double out_x = sin(heading), out_y = -cos(heading); /* to the right of the walk */
    double angle = away ? atan2(-out_y, -out_x) : atan2(out_y, out_x);
    double from_centre = x * cos(angle) + y * sin(angle);
    double turned = away ? -angle : angle;
    turned = turned < -1e-9 ? turned + 2 * BW_PI : turned;
    return (ruler_reading){
        .offset = away ? from_centre - edge->radius : edge->radius - from_centre,
        .aside = x * cos(heading) + y * sin(heading),
        .place = turned * (away ? edge->radius + guide : edge->radius - guide),
        .bend = true,
    };
}

/* Place where side `side` of the parallel begins: bottom, right, top, left. */
static double side_start(const ruler *edge, double guide, int side) {
    double start = 0;
    for (int i = 0; i < side; i++) {
        double along = (i % 2 == 0 ? edge->length : edge->width) - 2 * guide;
        double here = left_of(edge->corner[i], guide), next = left_of(edge->corner[i + 1], guide);
        start += along - here - next + next * QUARTER;
    }
    return start;
}

static ruler_reading read_side(const ruler *edge, double guide, double x, double y, int side) {
    double in[4] = {y, edge->length - x, edge->width - y, x};
    double along[4] = {x, y, edge->length - x, edge->width - y};
    return (ruler_reading){.offset = in[side],
                           .place = side_start(edge, guide, side) + along[side] - guide -
                                    left_of(edge->corner[side], guide)};
}

static ruler_reading read_rectangle(const ruler *edge, double guide, double x, double y, double heading) {
    double h = fmod(heading + 4 * BW_PI, 2 * BW_PI);
    int side = (int)lround(h / QUARTER) % 4;
    if (fabs(remainder(h, QUARTER)) < 1e-9) {
        return read_side(edge, guide, x, y, side);
    }
    int before = (int)floor(h / QUARTER), corner = (before + 1) % 4;
    double r = edge->corner[corner];
    double cx = corner == 1 || corner == 2 ? edge->length - r : r, cy = corner >= 2 ? edge->width - r : r;
    double end = before < 3 ? side_start(edge, guide, before + 1) : ruler_length(edge, guide);
    double turn_left = (before + 1) * QUARTER - h;
    return (ruler_reading){.offset = r - ((x - cx) * sin(h) - (y - cy) * cos(h)),
                           .aside = (x - cx) * cos(h) + (y - cy) * sin(h),
                           .place = end - turn_left * left_of(r, guide),
                           .bend = true};
}

ruler_reading ruler_read(const ruler *edge, double guide, double x, double y, double heading) {
    switch (edge->shape) {
    case BW_LINE:
        return (ruler_reading){.offset = y, .aside = edge->length * sin(heading), .place = x};
    case BW_RECTANGLE:
        return read_rectangle(edge, guide, x, y, heading);
    default:
        return read_round(edge, guide, x, y, heading);
    }
}

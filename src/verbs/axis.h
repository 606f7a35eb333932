/* verbs/axis.h - one --sweep PATH=FROM:TO:STEP or PATH=VALUE,VALUE...: the values that a path takes one after the
 * other. */
#ifndef VERBS_AXIS_H
#define VERBS_AXIS_H

#include "shop/shop.h"

#define VERB_AXIS_MOST 1000000 /* values of one --sweep */

typedef struct verb_axis {
    char *path;
    size_t count;            /* of values */
    bool steps;              /* FROM:TO:STEP; else a list */
    double from, step, unit; /* of steps, in the field's inner unit, and what 1 of the suffix is in it */
    char suffix[8];          /* as FROM has it, a blank in front; "" for a bare number */
    char *list;              /* else the items, a NUL behind each */
} verb_axis;

/* Reads it for this project, whose unit holds for bare lengths. False after a message: no path, no such value in this
 * file, or no range. Released with verb_axis_free either way. */
bool verb_axis_read(const char *given, const shop_project *project, const char *file, verb_axis *axis);
/* Value i (from 0) as text for the file; malloc'ed, NULL without memory. */
char *verb_axis_value(const verb_axis *axis, size_t i);
void verb_axis_free(verb_axis *axis);

#endif

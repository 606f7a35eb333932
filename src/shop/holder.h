/* shop/holder.h - what reading one value needs. Where a function is false, `why` says what is allowed. */
#ifndef SHOP_HOLDER_H
#define SHOP_HOLDER_H

#include "shop/load.h"
#include "shop/values.h"

typedef struct shop_holder {
    shop_loader *loader;
    const shop_node *node; /* aliases followed */
    const shop_field *field;
    const char *path;
    char *place;   /* where the value goes */
    bw_band *band; /* the whole band, for values that fill several members */
    const shop_target *target;
    char why[SHOP_REASON];
} shop_holder;

#define SHOP_END_ALLOWED "allowed: square, round, or {point: LENGTH}, such as {point: 30}"

/* An error at a node, with h->path and h->why. */
void shop_hold_refuse(shop_holder *h, const shop_node *node);
/* A length, share, angle or decimal within the field's range. */
bool shop_hold_double(shop_holder *h, const shop_node *node, double *value);

/* The forms that only an outline has; those that return nothing tell of all errors themselves. */
bool shop_hold_end(shop_holder *h);     /* a word */
void shop_hold_point(shop_holder *h);   /* {point: LENGTH} */
void shop_hold_corners(shop_holder *h); /* a list */
bool shop_hold_svg(shop_holder *h);

/* Lists of mappings: strips and rounds of a tool, rounds of a band; they tell of all errors themselves. */
void shop_hold_maps(shop_holder *h);

#endif

/* shop/fields.h - looking into the one table of fields. */
#ifndef SHOP_FIELDS_H
#define SHOP_FIELDS_H

#include "shop/shop.h"

#define SHOP_ANY_KIND (~0u)

/* The row of a pattern ("bands[].width") that belongs to one of these kinds; with any kind the first. */
const shop_field *shop_field_of(const char *pattern, unsigned kinds);
/* Whether rows lie below a pattern: "bands[].outer", "leather". */
bool shop_field_below(const char *pattern);
/* Turns a path of values into its pattern: "bands.weave.width", "bands[2].width" -> "bands[].width",
 * "outline.corner[2]"
 * -> "outline.corner[]". False if it does not fit. */
bool shop_path_pattern(const char *path, char *pattern, size_t room);
/* Whether a path means anything: a value, what holds values, or one item of a list of values. */
bool shop_path_known(const char *path);
/* Whether other values lie below: bands, bands.weave, bands.weave.outer. */
bool shop_path_holds(const char *path);
/* Whether the field's value is a text, so that one that looks like a number must be quoted. */
bool shop_field_is_text(const shop_field *field);
/* Whether the value may be a list. */
bool shop_field_may_list(const shop_field *field);
/* Whether it may be written as [a, b] or {key: value}. */
bool shop_field_may_flow(const shop_field *field);
/* The row of a pattern, or of the list in which it is an item ("outline.corner[]", "outline.corners[][]"); *item if
 * wanted. */
const shop_field *shop_field_around(const char *pattern, unsigned kinds, bool *item);

#endif

/* shop/drawing.h - sizes and path data in a drawing. */
#ifndef SHOP_DRAWING_H
#define SHOP_DRAWING_H

#include "shop/xml.h"

/* mm per unit by width, height and viewBox of the element that opened last; NAN if they do not say. */
double shop_drawing_unit(const shop_xml *xml);
/* By how much a transform enlarges, where it does nothing else but move; NAN for all others. */
double shop_transform_factor(const char *text, size_t length);
/* Cuts path data behind its first subpath, and makes single blanks of all others. How many subpaths went. */
size_t shop_first_subpath(char *svg);

#endif

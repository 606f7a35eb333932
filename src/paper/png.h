/* paper/png.h - what a PNG says about its size (PNG specification, 2nd edition, 11.3.5.3 pHYs). */
#ifndef PAPER_PNG_H
#define PAPER_PNG_H

#include "shop/alloc.h"

/* Whole dots a metre for dots an inch: a PNG can tell no others. */
double paper_png_dots(double dpi);
/* Writes into a PNG how many dots it has a metre. False without memory. */
bool paper_png_sized(shop_buffer *png, double dots);

#endif

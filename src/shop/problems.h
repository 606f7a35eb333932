/* shop/problems.h - what only this room does with problems. */
#ifndef SHOP_PROBLEMS_H
#define SHOP_PROBLEMS_H

#include "shop/shop.h"

/* Those from an index on, by line and column. */
void shop_problems_sort(shop_problems *problems, size_t from);

#endif

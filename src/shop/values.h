/* shop/values.h - one value of the file format from its text. Each is false with a reason that says what is allowed. */
#ifndef SHOP_VALUES_H
#define SHOP_VALUES_H

#include "shop/shop.h"

#define SHOP_REASON 160
#define SHOP_NUMBER_MOST 40 /* characters of a number; a longer one is no measure */

bool shop_parse_whole(const char *text, size_t length, int *number, char reason[SHOP_REASON]);
bool shop_parse_decimal(const char *text, size_t length, double *number, char reason[SHOP_REASON]);
bool shop_parse_angle(const char *text, size_t length, double *radians, char reason[SHOP_REASON]);
bool shop_parse_yes_no(const char *text, size_t length, bool *yes, char reason[SHOP_REASON]);
bool shop_parse_word(const char *text, size_t length, const char *const *words, int *index, char reason[SHOP_REASON]);
bool shop_parse_place(const char *text, size_t length, shop_unit bare, bw_place *place, char reason[SHOP_REASON]);
/* A bare number is a share, a length carries its unit. */
bool shop_parse_guide(const char *text, size_t length, bool *is_length, double *value, char reason[SHOP_REASON]);
bool shop_parse_count(const char *text, size_t length, int *count, char reason[SHOP_REASON]); /* 0 = auto */
bool shop_parse_lose(const char *text, size_t length, bw_lose *lose, int *last, char reason[SHOP_REASON]);
/* What a band's name or a tool's id may be. */
bool shop_check_name(const char *text, size_t length, char reason[SHOP_REASON]);
/* The number from..to, SHOP_NUMBER_MOST characters at most, whose form the caller has checked. No locale plays a part.
 */
double shop_convert(const char *from, const char *to);
/* A number as text, shortest that reads back the same, without an exponent. */
void shop_write_number(double number, char *out, size_t room);

#endif

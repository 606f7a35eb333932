/* png.c - a PNG that knows how large it is: the chunk pHYs put behind the header. */
#include "paper/png.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "bandwright/base.h"

enum { SIGNATURE = 8, HEADER = 25, SIZED = 21 }; /* bytes of signature, IHDR and pHYs with length, name and check */

double paper_png_dots(double dpi) {
    return floor(dpi * 1000.0 / BW_MM_PER_INCH + 0.5);
}

/* PNG specification, annex D: the cyclic redundancy check of a chunk. */
static uint32_t check_of(const unsigned char *bytes, size_t length) {
    uint32_t check = 0xFFFFFFFFu;
    for (size_t i = 0; i < length; i++) {
        check ^= bytes[i];
        for (int bit = 0; bit < 8; bit++)
            check = (check >> 1) ^ ((check & 1u) ? 0xEDB88320u : 0u);
    }
    return check ^ 0xFFFFFFFFu;
}

static void put_number(unsigned char *to, uint32_t number) {
    for (int i = 0; i < 4; i++)
        to[i] = (unsigned char)(number >> (24 - 8 * i));
}

bool paper_png_sized(shop_buffer *png, double dots) {
    unsigned char chunk[SIZED] = {0, 0, 0, 9, 'p', 'H', 'Y', 's'};
    if (png->failed || png->length < SIGNATURE + HEADER)
        return false;
    put_number(chunk + 8, (uint32_t)dots);
    put_number(chunk + 12, (uint32_t)dots);
    chunk[16] = 1; /* the unit is the metre */
    put_number(chunk + 17, check_of(chunk + 4, 13));
    shop_buffer sized = {0};
    shop_buffer_add(&sized, png->bytes, SIGNATURE + HEADER);
    shop_buffer_add(&sized, (const char *)chunk, SIZED);
    shop_buffer_add(&sized, png->bytes + SIGNATURE + HEADER, png->length - SIGNATURE - HEADER);
    free(png->bytes);
    *png = sized;
    return !sized.failed;
}

/* maths/dice.h - a small generator of chance: the seed in, the same numbers out, on every machine. */
#ifndef MATHS_DICE_H
#define MATHS_DICE_H

#include <stdbool.h>
#include <stdint.h>

typedef struct maths_dice {
    uint64_t state;
    double spare; /* the second of two normal numbers */
    bool has_spare;
} maths_dice;

maths_dice maths_dice_from(uint64_t seed);
uint64_t maths_dice_next(maths_dice *dice); /* 64 bits by SplitMix */
double maths_dice_share(maths_dice *dice);  /* above 0, under 1 */
double maths_dice_normal(maths_dice *dice); /* deviation 1 around 0 */

#endif

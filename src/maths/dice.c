/* Sources stand in bandwright/drift.h. */
#include "maths/dice.h"

#include <math.h>

#include "bandwright/base.h"

maths_dice maths_dice_from(uint64_t seed) {
    return (maths_dice){.state = seed};
}

uint64_t maths_dice_next(maths_dice *dice) {
    uint64_t z = dice->state += 0x9E3779B97F4A7C15u;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return z ^ (z >> 31);
}

double maths_dice_share(maths_dice *dice) {
    return ((double)(maths_dice_next(dice) >> 12) + 0.5) * 0x1p-52;
}

double maths_dice_normal(maths_dice *dice) {
    dice->has_spare = !dice->has_spare;
    if (!dice->has_spare)
        return dice->spare;
    double far = sqrt(-2 * log(maths_dice_share(dice))), turn = 2 * BW_PI * maths_dice_share(dice);
    dice->spare = far * sin(turn);
    return far * cos(turn);
}

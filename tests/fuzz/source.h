/* source.h - a fuzzer's bytes turned into values. */
#ifndef TESTS_FUZZ_SOURCE_H
#define TESTS_FUZZ_SOURCE_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct source {
    const uint8_t *data;
    size_t size;
} source;

static inline unsigned byte(source *s) {
    if (s->size == 0)
        return 0;
    s->size--;
    return *s->data++;
}

/* A number in a range; often one of its ends or a round one. */
static inline double number(source *s, double least, double most) {
    unsigned kind = byte(s), high = byte(s), low = byte(s);
    double share = (high * 256 + low) / 65535.0;
    if (kind < 16)
        return least;
    if (kind < 32)
        return most;
    double value = kind < 160 ? least + (fmin(most, 200) - least) * share * share : least + (most - least) * share;
    return kind % 2 == 0 ? fmin(fmax(round(value), least), most) : value;
}

static inline bool chance(source *s, unsigned of_256) {
    return byte(s) < of_256;
}

static inline void need(bool holds) {
    if (!holds)
        __builtin_trap();
}

#endif

/* bench/strikes.h - the screens at the bench: strikes, and what is left of a round. */
#ifndef BENCH_STRIKES_H
#define BENCH_STRIKES_H

#include "bench/inner.h"
#include "show/round.h"

/* Of the band in hand; NULL if nothing is struck there. Released with desk_round_free. */
desk_round *strikes_round(const bench *b);

#endif

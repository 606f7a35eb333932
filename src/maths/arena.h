/* maths/arena.h - memory that is taken piece by piece and given back at once. */
#ifndef MATHS_ARENA_H
#define MATHS_ARENA_H

#include "bandwright/base.h"

typedef struct maths_chunk maths_chunk;

typedef struct maths_arena {
    bw_allocator allocator;
    maths_chunk *chunks;
    bool failed; /* an allocation failed; it stays set, so that one look at the end is enough */
} maths_arena;

/* The allocator to use: the given one, or the C library's. */
bw_allocator maths_allocator(const bw_allocator *allocator);
void *maths_alloc(const bw_allocator *allocator, size_t count, size_t size); /* zeroed; NULL on failure or overflow */
void maths_release(const bw_allocator *allocator, void *block);

void maths_arena_init(maths_arena *arena, const bw_allocator *allocator);
/* Zeroed room for count things of a size, at least one; NULL once memory has run out. */
void *maths_take(maths_arena *arena, size_t count, size_t size);
/* The same for what is written before it is read: not zeroed. */
void *maths_take_unset(maths_arena *arena, size_t count, size_t size);
void maths_arena_free(maths_arena *arena);

#endif

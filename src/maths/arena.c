#include "maths/arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { CHUNK_LEAST = 4096 };

struct maths_chunk {
    maths_chunk *next;
    size_t size, used;
    alignas(max_align_t) unsigned char bytes[];
};

static void *library_resize(void *context, void *block, size_t size) {
    (void)context;
    if (size == 0) {
        free(block);
        return NULL;
    }
    return realloc(block, size);
}

bw_allocator maths_allocator(const bw_allocator *allocator) {
    if (allocator != NULL)
        return *allocator;
    return (bw_allocator){.resize = library_resize};
}

void *maths_alloc(const bw_allocator *allocator, size_t count, size_t size) {
    if (count == 0)
        count = 1;
    if (size == 0 || count > SIZE_MAX / 2 / size)
        return NULL;
    void *block = allocator->resize(allocator->context, NULL, count * size);
    if (block != NULL)
        memset(block, 0, count * size);
    return block;
}

void maths_release(const bw_allocator *allocator, void *block) {
    if (block != NULL)
        allocator->resize(allocator->context, block, 0);
}

void maths_arena_init(maths_arena *arena, const bw_allocator *allocator) {
    *arena = (maths_arena){.allocator = maths_allocator(allocator)};
}

static maths_chunk *add_chunk(maths_arena *arena, size_t need) {
    size_t size = need > CHUNK_LEAST ? need : CHUNK_LEAST;
    maths_chunk *chunk = maths_alloc(&arena->allocator, 1, sizeof *chunk + size);
    if (chunk == NULL)
        return NULL;
    chunk->size = size;
    chunk->next = arena->chunks;
    arena->chunks = chunk;
    return chunk;
}

void *maths_take(maths_arena *arena, size_t count, size_t size) {
    const size_t align = alignof(max_align_t);
    if (arena->failed)
        return NULL;
    if (count == 0)
        count = 1;
    if (size == 0 || count > SIZE_MAX / 4 / size) {
        arena->failed = true;
        return NULL;
    }
    size_t need = (count * size + align - 1) / align * align;
    maths_chunk *chunk = arena->chunks;
    if (chunk == NULL || chunk->size - chunk->used < need)
        chunk = add_chunk(arena, need);
    if (chunk == NULL) {
        arena->failed = true;
        return NULL;
    }
    void *room = chunk->bytes + chunk->used; /* chunks come zeroed */
    chunk->used += need;
    return room;
}

void *maths_take_unset(maths_arena *arena, size_t count, size_t size) {
    const bw_allocator *a = &arena->allocator;
    if (count < CHUNK_LEAST / size + 1)
        return maths_take(arena, count, size);
    maths_chunk *chunk = NULL;
    if (!arena->failed && count <= SIZE_MAX / 4 / size)
        chunk = a->resize(a->context, NULL, sizeof *chunk + count * size);
    if (chunk == NULL) {
        arena->failed = true;
        return NULL;
    }
    maths_chunk *first = arena->chunks; /* which may have room left */
    *chunk = (maths_chunk){.next = first != NULL ? first->next : NULL};
    *(first != NULL ? &first->next : &arena->chunks) = chunk;
    return chunk->bytes;
}

void maths_arena_free(maths_arena *arena) {
    while (arena->chunks != NULL) {
        maths_chunk *chunk = arena->chunks;
        arena->chunks = chunk->next;
        maths_release(&arena->allocator, chunk);
    }
}

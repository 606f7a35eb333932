/* Memory of this room: a hook for tests, arenas and growing bytes. */
#include "shop/alloc.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define BLOCK 16384u
#define ALIGN sizeof(max_align_t)

static long fail_at = -1;

static bool fails_now(void) {
    if (fail_at < 0)
        return false;
    return fail_at-- == 0;
}

void shop_alloc_fail_at(long n) {
    fail_at = n;
}

void *shop_alloc(size_t size) {
    return fails_now() ? NULL : malloc(size ? size : 1);
}

void *shop_resize(void *block, size_t size) {
    return fails_now() ? NULL : realloc(block, size ? size : 1);
}

void *shop_maths_resize(void *context, void *block, size_t size) {
    (void)context;
    if (size)
        return shop_resize(block, size);
    free(block);
    return NULL;
}

char *shop_copy(const char *bytes, size_t length) {
    char *copy = shop_alloc(length + 1);
    if (!copy)
        return NULL;
    if (length)
        memcpy(copy, bytes, length);
    copy[length] = '\0';
    return copy;
}

typedef struct shop_block {
    struct shop_block *next;
    size_t used, room;
    max_align_t first; /* where the contents begin */
} shop_block;

struct shop_arena {
    shop_block *blocks;
};

shop_arena *shop_arena_create(void) {
    shop_arena *arena = shop_alloc(sizeof *arena);
    if (arena)
        arena->blocks = NULL;
    return arena;
}

void shop_arena_free(shop_arena *arena) {
    if (!arena)
        return;
    for (shop_block *block = arena->blocks; block;) {
        shop_block *next = block->next;
        free(block);
        block = next;
    }
    free(arena);
}

void *shop_arena_get(shop_arena *arena, size_t size) {
    if (size > SIZE_MAX / 4)
        return NULL;
    size = (size + ALIGN - 1) / ALIGN * ALIGN;
    shop_block *block = arena->blocks;
    if (!block || block->room - block->used < size) {
        size_t room = size > BLOCK ? size : BLOCK;
        block = shop_alloc(offsetof(shop_block, first) + room);
        if (!block)
            return NULL;
        block->used = 0;
        block->room = room;
        block->next = arena->blocks;
        arena->blocks = block;
    }
    char *place = (char *)block + offsetof(shop_block, first) + block->used;
    block->used += size;
    memset(place, 0, size);
    return place;
}

void *shop_arena_list(shop_arena *arena, size_t count, size_t size) {
    if (size && count > SIZE_MAX / 4 / size)
        return NULL;
    return shop_arena_get(arena, count ? count * size : 1);
}

char *shop_arena_copy(shop_arena *arena, const char *bytes, size_t length) {
    char *copy = shop_arena_get(arena, length + 1);
    if (copy && length)
        memcpy(copy, bytes, length);
    return copy;
}

void shop_buffer_add(shop_buffer *buffer, const char *bytes, size_t length) {
    if (buffer->failed || length > SIZE_MAX / 4 - buffer->length) {
        buffer->failed = true;
        return;
    }
    if (buffer->length + length + 1 > buffer->room) {
        size_t room = (buffer->length + length + 1) * 2;
        char *bigger = shop_resize(buffer->bytes, room);
        if (!bigger) {
            buffer->failed = true;
            return;
        }
        buffer->bytes = bigger;
        buffer->room = room;
    }
    if (length)
        memcpy(buffer->bytes + buffer->length, bytes, length);
    buffer->length += length;
    buffer->bytes[buffer->length] = '\0';
}

void shop_buffer_text(shop_buffer *buffer, const char *text) {
    shop_buffer_add(buffer, text, strlen(text));
}

void shop_buffer_spaces(shop_buffer *buffer, size_t count) {
    while (count--)
        shop_buffer_add(buffer, " ", 1);
}

char *shop_buffer_take(shop_buffer *buffer, size_t *length) {
    shop_buffer_add(buffer, "", 0);
    char *bytes = buffer->bytes;
    if (buffer->failed) {
        free(bytes);
        bytes = NULL;
    }
    if (length)
        *length = bytes ? buffer->length : 0;
    *buffer = (shop_buffer){0};
    return bytes;
}

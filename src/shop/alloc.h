/* shop/alloc.h - the one way in which this room gets memory, so that tests can make any allocation fail. What comes
 * from shop_alloc is released with free(). */
#ifndef SHOP_ALLOC_H
#define SHOP_ALLOC_H

#include <stdbool.h>
#include <stddef.h>

void *shop_alloc(size_t size);
void *shop_resize(void *block, size_t size);
/* The maths takes its memory as this room does: the hook of a bw_allocator. */
void *shop_maths_resize(void *context, void *block, size_t size);
char *shop_copy(const char *bytes, size_t length); /* with a NUL behind */

/* For tests: the n-th allocation from now (from 0) fails; negative: none does. */
void shop_alloc_fail_at(long n);

/* Things that live and go together. Everything is zeroed and aligned for any type. */
typedef struct shop_arena shop_arena;

shop_arena *shop_arena_create(void);
void shop_arena_free(shop_arena *arena);
void *shop_arena_get(shop_arena *arena, size_t size);
void *shop_arena_list(shop_arena *arena, size_t count, size_t size); /* never NULL for lack of items */
char *shop_arena_copy(shop_arena *arena, const char *bytes, size_t length);

/* Bytes that grow. Once memory runs out `failed` stays set and nothing more is added. */
typedef struct shop_buffer {
    char *bytes;
    size_t length, room;
    bool failed;
} shop_buffer;

void shop_buffer_add(shop_buffer *buffer, const char *bytes, size_t length);
void shop_buffer_text(shop_buffer *buffer, const char *text);
void shop_buffer_spaces(shop_buffer *buffer, size_t count);
/* The bytes with a NUL behind, which the caller frees; NULL if memory ran out. The buffer is empty then. */
char *shop_buffer_take(shop_buffer *buffer, size_t *length);

#endif

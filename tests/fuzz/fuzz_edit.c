/* fuzz_edit.c - an edit of any text is refused, or what it makes can be read again. Input: path, NUL, new text, NUL,
 * file. */
#include <stdlib.h>
#include <string.h>

#include "fuzz/memory.h"
#include "shop/shop.h"

static char *part(const uint8_t **data, size_t *size) {
    const uint8_t *end = memchr(*data, 0, *size);
    size_t length = end != NULL ? (size_t)(end - *data) : *size;
    char *copy = malloc(length + 1);
    if (copy == NULL)
        abort();
    memcpy(copy, *data, length);
    copy[length] = '\0';
    size_t used = end != NULL ? length + 1 : length;
    *data += used;
    *size -= used;
    return copy;
}

static void edit(const shop_text *text, char *path, char *value) {
    shop_problems problems;
    shop_edit change = {.path = path, .new_text = value};
    char *bytes = NULL;
    size_t length = 0;
    shop_problems_init(&problems, "fuzz.yaml");
    if (shop_text_edit(text, &change, &bytes, &length, &problems)) {
        shop_text *again = shop_text_read(bytes, length, &problems);
        if (again == NULL)
            __builtin_trap(); /* an edit made the file unreadable */
        shop_text_free(again);
    }
    free(bytes);
    free(change.old_text);
    shop_problems_free(&problems);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *path = part(&data, &size), *value = part(&data, &size);
    shop_problems problems;
    shop_problems_init(&problems, "fuzz.yaml");
    shop_text *text = shop_text_read((const char *)data, size, &problems);
    if (text != NULL)
        edit(text, path, value);
    shop_text_free(text);
    shop_problems_free(&problems);
    free(path);
    free(value);
    return 0;
}

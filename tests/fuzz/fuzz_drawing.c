/* fuzz_drawing.c - any bytes as an SVG drawing: refused with a reason, or path data on one line that a piece can hold.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz/memory.h"
#include "shop/shop.h"

static void need(bool holds) {
    if (!holds)
        __builtin_trap();
}

/* The path data, written into a fresh project as `new` does, say the same again. */
static void into_a_project(const shop_drawing *drawing) {
    static const char fresh[] = "bandwright-project: 1\noutline: {shape: path}\n";
    char path[] = "outline.svg";
    size_t length;
    char *bytes;
    shop_problems problems;
    shop_problems_init(&problems, NULL);
    shop_text *text = shop_text_read(fresh, sizeof fresh - 1, &problems);
    shop_edit edit = {.path = path, .new_text = drawing->svg};
    if (shop_text_edit(text, &edit, &bytes, &length, &problems)) {
        shop_text *again = shop_text_read(bytes, length, &problems);
        char *svg = shop_text_get(again, path);
        need(svg != NULL && strcmp(svg, drawing->svg) == 0);
        shop_project_free(shop_project_read(bytes, length, "fuzz.yaml", NULL, &problems));
        free(svg);
        shop_text_free(again);
        free(bytes);
    }
    free(edit.old_text);
    shop_text_free(text);
    shop_problems_free(&problems);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    shop_problems problems;
    shop_drawing drawing;
    shop_problems_init(&problems, "fuzz.svg");
    shop_status status = shop_drawing_read((const char *)data, size, size % 2 == 0, &problems, &drawing);
    need((status == SHOP_OK) == (problems.errors == 0) && (status == SHOP_OK) == (drawing.svg != NULL));
    if (drawing.svg != NULL) {
        need(strpbrk(drawing.svg, "\r\n\t") == NULL && (isnan(drawing.scale) || drawing.scale > 0));
        into_a_project(&drawing);
    }
    shop_problems_print(&problems, nowhere());
    free(drawing.svg);
    shop_problems_free(&problems);
    return 0;
}

/* set.c - `set FILE PATH=VALUE...`: edits to a file, all of them or none. */
#include <stdlib.h>

#include "verbs/verbs.h"

static int edit_and_save(desk *d, const char *file, const shop_edit *edits, size_t count) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    int status = SHOP_BAD_FILE;
    if (desk_edit_many(d, edits, count, "set", &problems)) {
        status = desk_unsaved(d) ? (int)desk_save(d, &problems) : SHOP_OK;
    }
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    return status;
}

int verb_set(const verb_args *args) {
    size_t count = (size_t)args->operand_count - 1, made = 0;
    shop_edit *edits = calloc(count, sizeof *edits);
    int status = VERB_USAGE;
    if (edits == NULL) {
        return verb_complain("out of memory");
    }
    while (made < count && verb_assignment(args->operands[made + 1], &edits[made])) {
        made++;
    }
    if (made == count) {
        desk *d = verb_open(args->operands[0], args, &status);
        if (d != NULL) {
            status = edit_and_save(d, args->operands[0], edits, count);
            desk_close(d);
        }
    }
    for (size_t i = 0; i < made; i++) {
        shop_edit_free(&edits[i]);
    }
    free(edits);
    return status;
}

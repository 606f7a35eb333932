/* desk/tools.h - tools as texts; no other room includes it. */
#ifndef DESK_TOOLS_H
#define DESK_TOOLS_H

#include "desk/inner.h"

/* A list of edits under way; `failed` once memory ran out. */
typedef struct desk_edits {
    shop_edit *edits;
    size_t count;
    bool failed;
} desk_edits;

/* Takes path and new_text. */
void desk_edits_add(desk_edits *list, char *path, char *new_text, bool take_out);
void desk_edits_free(shop_edit *edits, size_t count);
/* A copy of edits that shop_text_edit may fill in. */
shop_edit *desk_edits_copy(const shop_edit *edits, size_t count);

/* The edits by which a band gets tools[tool], copied into the project where it has no copy of its own. The caller frees
 * list->edits also when it failed. */
bool desk_tool_edits(const desk *d, size_t band, int tool, desk_edits *list, shop_problems *problems);

/* A tool that gets another id keeps its bands: their edits, after the one of the id itself. */
void desk_follow_id(const desk *d, const char *path, const char *new_text, desk_edits *list);

#endif

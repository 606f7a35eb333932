/* desk/tools.h - tools as texts; no other room includes it. */
#ifndef DESK_TOOLS_H
#define DESK_TOOLS_H

#include "desk/inner.h"

/* Takes path and new_text. */
void desk_edits_add(desk_edits *list, char *path, char *new_text, bool take_out);
void desk_edits_free(shop_edit *edits, size_t count);
/* A copy of edits that shop_text_edit may fill in. */
shop_edit *desk_edits_copy(const shop_edit *edits, size_t count);

/* A tool in flow style for a file of this unit: as it stands in its own where that has the same, else each value with
 * its unit, since a bare number would change its meaning. malloc'ed, NULL without memory or if it is not there. */
char *desk_tool_flow(const shop_text *from, shop_unit unit, const bw_tool *tool, shop_unit to);
/* The edits that make the second text of the first, one after the other: values that differ, bands and tools (known by
 * their names) that came, went or moved. What differs in comments and spelling alone is none. False without memory. */
bool desk_text_edits(const shop_text *from, const shop_text *to, shop_edit **edits, size_t *count);

/* The edits by which a band gets tools[tool], copied into the project where it has no copy of its own. The caller frees
 * list->edits also when it failed. */
bool desk_tool_edits(const desk *d, size_t band, int tool, desk_edits *list, shop_problems *problems);

/* What was kept from suggestions of a band, or of a tool, that goes. */
void desk_unfix(const desk *d, bool tool, const char *name, desk_edits *list);

/* A tool that gets another id keeps its bands: their edits, after the one of the id itself. */
void desk_follow_id(const desk *d, const char *path, const char *new_text, desk_edits *list);

#endif

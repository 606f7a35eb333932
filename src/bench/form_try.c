/* form_try.c - the form as edits of a fresh piece, and the piece that they make tried out. */
#include <string.h>

#include "bench/inner.h"

void form_edit_add(form_edits *edits, const char *path, const char *text) {
    edits->list[edits->count++] = (shop_edit){.path = (char *)(uintptr_t)path, .new_text = (char *)(uintptr_t)text};
}

/* Band lines on the side of the leather that is tooled are bevelled, as is usual around a weave. */
static bool band_edits(const bench_form *form, form_edits *edits) {
    static const char *const names[] = {"plain", "weave", "border", "stitching"};
    const shop_project *project = desk_project(form->desk);
    const char *space = form->text[FORM_SPACE], *width = form->text[FORM_WIDTH];
    bw_kind kind;
    bool filled = bw_fill_kind((bw_fill)form->fill, &kind), new_tool = filled && form->stamp == 0;
    if (filled && form->stamp > 0) {
        int index;
        if (!tool_id_written(form_tool(form, form->stamp, &index)->id, edits->id)) {
            snprintf(edits->why, sizeof edits->why, "out of memory");
            return false;
        }
    } else if (new_tool) {
        char id[64];
        if (!tool_new_flow(project, kind, form->text[FORM_LENGTH], form->text[FORM_ACROSS], id, edits->tool,
                           edits->why)) {
            edits->wrong = FORM_LENGTH;
            return false;
        }
        snprintf(edits->id, sizeof edits->id, "%s", id);
    }
    bool across = form_has(form, FORM_WIDTH);
    int used = snprintf(
        edits->band, sizeof edits->band, "{name: %s%s%s%s%s, fill: %s%s%s%s}", names[form->fill],
        space[0] != '\0' ? ", space: " : "", space, across && width[0] != '\0' ? ", width: " : "", across ? width : "",
        form_fill_words[form->fill], filled ? ", tool: " : "", filled ? edits->id : "",
        form->fill == BW_FILL_BASKET ? ", outer: {line: cut, bevel: inside}, inner: {line: cut, bevel: outside}" : "");
    if (used < 0 || (size_t)used >= sizeof edits->band) {
        snprintf(edits->why, sizeof edits->why, "the values of the first band are too long");
        edits->wrong = FORM_WIDTH;
        return false;
    }
    form_edit_add(edits, "bands[1]", edits->band);
    if (new_tool) {
        form_edit_add(edits, "tools[1]", edits->tool);
    }
    return true;
}

static bool form_edits_make(const bench_form *form, form_edits *edits) {
    memset(edits, 0, sizeof *edits);
    edits->wrong = FORM_MAKE;
    if (!form_outline_edits(form, edits)) {
        return false;
    }
    if (form->text[FORM_WEIGHT][0] != '\0') {
        form_edit_add(edits, "leather.weight", form->text[FORM_WEIGHT]);
    }
    return band_edits(form, edits);
}

/* Is it a piece yet? Then its plan can be looked at. */
bool form_try_with(bench_form *form, form_edits *edits, shop_problems *problems) {
    desk_try_leave(form->desk);
    if (!form_edits_make(form, edits)) {
        return false;
    }
    return desk_try(form->desk, edits->list, edits->count, "a new piece", problems);
}

/* Why there is no answer yet: what is missing, or what cannot be. */
static void keep_reason(bench_form *form, const form_edits *edits, const shop_problems *problems) {
    const char *text = edits->why;
    for (size_t i = problems->count; i > 0; i--) {
        text = problems->list[i - 1].note ? text : problems->list[i - 1].text; /* the first, after the loop */
    }
    form->lacking = problems->errors == 0;
    snprintf(form->why, sizeof form->why, "%s", text);
}

void form_try(bench_form *form) {
    form_edits edits;
    shop_problems problems;
    shop_problems_init(&problems, "");
    (void)form_try_with(form, &edits, &problems);
    keep_reason(form, &edits, &problems);
    form->changed = true;
    shop_problems_free(&problems);
}

/* The outline alone can be wrong before the rest is known. */
bool form_outline_holds(bench_form *form, shop_problems *problems) {
    form_edits edits;
    memset(&edits, 0, sizeof edits);
    return !form_outline_edits(form, &edits) || edits.count == 0 ||
           desk_try(form->desk, edits.list, edits.count, "an outline", problems);
}

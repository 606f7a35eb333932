/* row.c - what one value says, and what may stand in its place, in words. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "show/hand.h"

bool row_is_list(const shop_field *field) {
    return field->type == SHOP_TYPE_PLACES || field->type == SHOP_TYPE_PATHS || field->type == SHOP_TYPE_CORNERS ||
           field->type == SHOP_TYPE_LIST;
}

bool row_is_tall(const shop_field *field) {
    return field->type == SHOP_TYPE_TEXT || field->type == SHOP_TYPE_SVG || field->type == SHOP_TYPE_PATHS ||
           field->type == SHOP_TYPE_LIST;
}

/* ---- what it says ---- */

static bool is_fixed(const shop_project *project, const char *path) {
    for (size_t i = 0; i < project->fixed_count; i++) {
        const shop_string *one = &project->fixed[i];
        size_t length = one->length;
        if (strncmp(path, one->bytes, length) == 0 &&
            (path[length] == '\0' || path[length] == '.' || path[length] == '[')) {
            return true;
        }
    }
    return false;
}

/* A round piece is given in one way; the others say what they would be. The widest chord is the diameter. */
static double circle_value(const bw_outline *outline, double length, const char *key) {
    double across = length / BW_PI;
    return strcmp(key, "diameter") == 0 ? across
           : strcmp(key, "around") == 0 ? length
           : strcmp(key, "chord") == 0  ? (isnan(outline->chord) ? across : outline->chord)
                                        : (isnan(outline->chord) ? across / 2 : outline->depth);
}

/* The tool and the kind of step that a row of steps is of; NULL if it is none. */
static const bw_tool *step_of(const bench *b, const bench_row *row, bw_how *how) {
    static const char *const keys[] = {
        [BW_STRUCK_USUAL] = "usual", [BW_STRUCK_CLOSEST] = "closest", [BW_STRUCK_WIDEST] = "widest"};
    const shop_project *project = desk_project(b->desk);
    if (strncmp(row->field->path, "tools[].steps.", 14) != 0) {
        return NULL;
    }
    for (int i = 0; i < BW_STRUCK_COUNT; i++) {
        *how = strcmp(row->field->path + 14, keys[i]) == 0 ? (bw_how)i : *how;
    }
    for (size_t i = 0; i < project->own_tools; i++) {
        const char *id = project->tools[i].id, *rest = row->path + 6 + strlen(id);
        if (strncmp(row->path + 6, id, strlen(id)) == 0 && strncmp(rest, ".steps.", 7) == 0) {
            return &project->tools[i];
        }
    }
    return NULL;
}

/* Steps that are not given follow from strips, or from the face. */
static void planned_step(const bench *b, bench_row *row) {
    bw_how how = BW_STRUCK_USUAL;
    const bw_tool *tool = step_of(b, row, &how);
    double mm = tool != NULL ? bw_step_in_use(tool, how) : (double)NAN;
    if (mm > 0) {
        shop_write_length(round(mm * 1e4) / 1e4, desk_project(b->desk)->units, row->text, sizeof row->text);
    }
}

static void add_source(const bench *b, bench_row *row) {
    bw_how how = BW_STRUCK_USUAL;
    bool room = b->shelf.of != NULL && !row->given && row->text[0] != '\0'; /* the workbench's column is narrow */
    const bw_tool *tool = room ? step_of(b, row, &how) : NULL;
    size_t used = strlen(row->words);
    if (tool != NULL) {
        snprintf(row->words + used, sizeof row->words - used, ", %s", show_step_source(tool, how));
    }
}

/* A value that is not in the file and has no fixed default, but that the plan knows. */
static void planned_value(const bench *b, bench_row *row) {
    const shop_project *project = desk_project(b->desk);
    const bw_plan *plan = desk_plan(b->desk);
    size_t band = bench_card_band(b);
    const bw_outline *outline = &project->layout.outline;
    if (row->field->owner == SHOP_OF_TOOL) {
        planned_step(b, row);
        if (strcmp(row->field->path, "tools[].overlap") == 0) {
            snprintf(row->text, sizeof row->text, "%.0f %%", 100 * BW_USUAL_OVERLAP);
        }
    }
    if (plan == NULL) {
        return;
    }
    if (band != SIZE_MAX && strcmp(row->field->path, "bands[].overlap") == 0) {
        snprintf(row->text, sizeof row->text, "%.0f %%", 100 * plan->bands[band].overlap);
    } else if (row->field->owner == SHOP_OF_PROJECT && row->field->kinds == 1u << BW_CIRCLE &&
               strncmp(row->path, "outline.", 8) == 0) {
        double grown = project->layout.finished ? 1 + project->layout.growth : 1;
        double mm = circle_value(outline, plan->length * grown, row->path + 8);
        shop_write_length(round(mm * 1e4) / 1e4, project->units, row->text, sizeof row->text);
    }
}

/* "auto" says how many that are. */
const char *shape_words(const char *shape) {
    return strcmp(shape, "ellipse") == 0 ? "ellipse (oval)" : shape;
}

static bool is_share(const shop_field *field) {
    return field->type == SHOP_TYPE_SHARE || field->type == SHOP_TYPE_GUIDE;
}

void row_typed(const bench_row *row, char text[ENTRY_MOST + 1]) {
    double typed, before;
    char why[160];
    size_t length = strlen(text);
    if (!is_share(row->field) || !shop_parse_share(text, length, &typed, why)) {
        return;
    }
    if (strchr(text, '%') == NULL && typed > 1 && length + 3 <= ENTRY_MOST) {
        strcat(text, " %");
        typed /= 100;
    }
    if (row->given && shop_parse_share(row->text, strlen(row->text), &before, why) && fabs(typed - before) < BW_EPS) {
        snprintf(text, ENTRY_MOST + 1, "%s", row->text);
    }
}

static void count_words(const bench *b, bench_row *row) {
    size_t band = bench_card_band(b);
    if (band != SIZE_MAX && strcmp(row->text, "auto") == 0) {
        snprintf(row->words, sizeof row->words, "auto: %d", show_struck(desk_plan(b->desk), band));
    }
}

/* Long texts may hold line breaks: shown as one line, cut with "...". */
static void long_words(bench_row *row, const char *text) {
    size_t used = 0, room = sizeof row->words - 4;
    bool blank = false;
    for (; *text != '\0' && used < room; text++) {
        bool space = *text == ' ' || *text == '\n' || *text == '\t' || *text == '\r';
        if (!space) {
            if (blank && used > 0) {
                row->words[used++] = ' ';
            }
            row->words[used++] = *text;
        }
        blank = space;
    }
    while (*text != '\0' && used > 0 && ((unsigned char)row->words[used - 1] & 0xC0) == 0x80) {
        used--; /* not in the middle of a character */
    }
    snprintf(row->words + used, sizeof row->words - used, "%s", *text != '\0' ? "..." : "");
}

/* The place that is meant where none is given. */
static void start_words(const bench *b, bench_row *row) {
    show_words words;
    const bw_plan *plan = desk_plan(b->desk);
    show_edge_place(&words, desk_project(b->desk), plan, 0);
    const char *text = words.text;
    text += strncmp(text, "at the ", 7) == 0 || strncmp(text, "on the ", 7) == 0 ? 7 : 0;
    snprintf(row->words, sizeof row->words, "%.200s", text[0] != '\0' ? text : "its left end");
}

/* A list as a maker says it: how many there are, or the few without brackets. */
static void list_words(bench_row *row, const char *text) {
    size_t count = flow_count(text);
    static const char *const nothing[] = {[SHOP_TYPE_PLACES] = "the shape's own", [SHOP_TYPE_PATHS] = "nothing"};
    if (count == 0) {
        snprintf(row->words, sizeof row->words, "%s",
                 row_is_list(row->field) && row->field->type < sizeof nothing / sizeof nothing[0] &&
                         nothing[row->field->type] != NULL
                     ? nothing[row->field->type]
                     : "none");
    } else if (row->field->type == SHOP_TYPE_CORNERS) {
        snprintf(row->words, sizeof row->words, "%zu corners", count);
    } else if (row->field->type == SHOP_TYPE_PATHS || row->field->type == SHOP_TYPE_LIST) {
        const char *label = row->field->label;
        size_t length = strlen(label), plural = length > 0 && label[length - 1] == 's';
        snprintf(row->words, sizeof row->words, "%zu %.*s", count, (int)(plural && count == 1 ? length - 1 : length),
                 label);
    } else {
        char inner[ROW_TEXT];
        size_t length = strlen(text);
        snprintf(inner, sizeof inner, "%.*s", (int)(length >= 2 ? length - 2 : 0), text + 1);
        long_words(row, inner);
    }
}

static void special_words(const bench *b, bench_row *row, const char *found) {
    const char *text = found != NULL ? found : "";
    switch (row->field->type) {
    case SHOP_TYPE_SVG:
    case SHOP_TYPE_TEXT:
        long_words(row, text);
        break;
    case SHOP_TYPE_CORNERS:
    case SHOP_TYPE_PLACES:
    case SHOP_TYPE_PATHS:
    case SHOP_TYPE_LIST:
        list_words(row, text);
        break;
    case SHOP_TYPE_CORNER:
    case SHOP_TYPE_COUNT:
        if (text[0] == '[') {
            list_words(row, text);
        } else if (row->field->type == SHOP_TYPE_COUNT) {
            count_words(b, row);
        }
        break;
    case SHOP_TYPE_PLACE:
        if (text[0] == '\0') {
            start_words(b, row);
        }
        break;
    default:
        break;
    }
}

void row_fill(const bench *b, bench_row *row) {
    const shop_project *project = desk_project(b->desk);
    char *given = shop_text_get(project->text, row->path);
    char *text = given != NULL ? NULL : shop_project_get(project, row->path);
    const char *found = given != NULL ? given : text;
    row->given = given != NULL;
    row->fixed = is_fixed(project, row->path);
    snprintf(row->text, sizeof row->text, "%s", found != NULL ? found : "");
    if (found == NULL) {
        planned_value(b, row);
    }
    char *words = desk_value_words(row->field, project->units, row->text);
    snprintf(row->words, sizeof row->words, "%s", words != NULL ? words : row->text);
    if (strcmp(row->field->path, "outline.shape") == 0) {
        snprintf(row->words, sizeof row->words, "%s", shape_words(row->text));
    }
    special_words(b, row, found);
    add_source(b, row);
    if (row->words[0] == '\0' && !row->given) {
        snprintf(row->words, sizeof row->words, "none");
    }
    free(words);
    free(text);
    free(given);
}

/* ---- what may stand there ---- */

static void length_range(const bench *b, const shop_field *field, char *out, size_t room) {
    char least[64], most[64];
    shop_unit unit = desk_project(b->desk)->units;
    shop_show_length(field->least, unit, least, sizeof least);
    shop_show_length(field->most, unit, most, sizeof most);
    snprintf(out, room, "%s to %s", least, most);
}

static void words_range(const char *const *words, char *out, size_t room) {
    size_t used = 0;
    out[0] = '\0';
    for (int i = 0; words[i] != NULL && used < room; i++) {
        used += (size_t)snprintf(out + used, room - used, "%s%s", i > 0 ? ", " : "", words[i]);
    }
}

static void lose_range(const bench *b, char *out, size_t room) {
    size_t band = bench_card_band(b);
    const bw_band_plan *plan = band == SIZE_MAX ? NULL : &desk_plan(b->desk)->bands[band];
    int all = plan == NULL || plan->run_count == 0 ? 0 : plan->runs[0].count - !plan->runs[0].closed;
    snprintf(out, room, "even, last 1 to last %d, straights, anchored", all > 1 ? all : BW_COUNT_MOST);
}

static void number_range(const shop_field *field, double unit, const char *name, char *out, size_t room) {
    if (field->above) {
        snprintf(out, room, "above %.6g%s", field->least / unit, name);
    } else {
        snprintf(out, room, "%.7g to %.7g%s", field->least / unit, field->most / unit, name);
    }
}

static bool listed_range(const bench *b, const shop_field *field, char *out, size_t room) {
    switch (field->type) {
    case SHOP_TYPE_TOOL:
        snprintf(out, room, "a tool that fits, by its id");
        return true;
    case SHOP_TYPE_PLACE:
    case SHOP_TYPE_PLACES:
        snprintf(out, room, "bottom, right, top, left, or a length");
        return true;
    case SHOP_TYPE_CORNERS:
        snprintf(out, room, "%d to %d corners, each x, y or x, y, radius", BW_CORNERS_LEAST, BW_CORNERS_MOST);
        return true;
    case SHOP_TYPE_PATHS:
        snprintf(out, room, "such as bands.NAME.width; k on a value does it");
        return true;
    case SHOP_TYPE_LIST:
        snprintf(out, room, "kept as it stands");
        return true;
    case SHOP_TYPE_SVG:
        snprintf(out, room, "such as M 0 0 H 90 V 60 Z");
        return true;
    case SHOP_TYPE_LOSE:
        lose_range(b, out, room);
        return true;
    default:
        return false;
    }
}

void row_range_words(const bench *b, const shop_field *field, char out[ROW_TEXT]) {
    static const char *const yes_no[] = {"no", "yes", NULL};
    char text[ROW_TEXT] = "";
    if (listed_range(b, field, out, ROW_TEXT)) {
        return;
    }
    switch (field->type) {
    case SHOP_TYPE_LENGTH:
    case SHOP_TYPE_CORNER:
        length_range(b, field, text, sizeof text);
        break;
    case SHOP_TYPE_WEIGHT:
        length_range(b, field, text, sizeof text - 12);
        strcat(text, ", or oz");
        break;
    case SHOP_TYPE_END:
        snprintf(text, sizeof text, "square, round, or a point's length");
        break;
    case SHOP_TYPE_SHARE:
        number_range(field, 0.01, " %", text, sizeof text);
        break;
    case SHOP_TYPE_GUIDE:
        snprintf(text, sizeof text, "0 %% to 100 %%, or a length");
        break;
    case SHOP_TYPE_ANGLE:
        number_range(field, BW_PI / 180, " degrees, not 0", text, sizeof text);
        break;
    case SHOP_TYPE_COUNT:
        snprintf(text, sizeof text, "auto, or 1 to %d", BW_COUNT_MOST);
        break;
    case SHOP_TYPE_WORD:
        words_range(field->words, text, sizeof text);
        break;
    case SHOP_TYPE_YES_NO:
        words_range(yes_no, text, sizeof text);
        break;
    case SHOP_TYPE_NAME:
        snprintf(text, sizeof text, "1 to %d characters, but none of . \" [ ] / :", BW_NAME_MOST);
        break;
    case SHOP_TYPE_TEXT:
        snprintf(text, sizeof text, "any text");
        break;
    default:
        number_range(field, 1, "", text, sizeof text);
    }
    snprintf(out, ROW_TEXT, "%s", text);
}

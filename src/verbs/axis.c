/* axis.c - the values of one --sweep. */
#include "verbs/axis.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "shop/values.h"
#include "verbs/verbs.h"

/* ---- parts between marks, those in brackets left together ---- */

/* Bytes up to the next such mark, or to the end. */
static size_t part_length(const char *text, char mark) {
    int depth = 0;
    size_t at = 0;
    for (; text[at] != '\0'; at++) {
        char c = text[at];
        if (c == '[' || c == '{') {
            depth++;
        } else if (c == ']' || c == '}') {
            depth--;
        } else if (c == mark && depth <= 0) {
            break;
        }
    }
    return at;
}

static size_t part_count(const char *text, char mark) {
    size_t count = 1;
    for (text += part_length(text, mark); *text != '\0'; text += part_length(text, mark)) {
        count++;
        text++;
    }
    return count;
}

/* ---- numbers ---- */

/* A number of this field, in its inner unit; is_length tells a guide's lengths from its shares. */
static bool number_of(const shop_field *field, shop_unit bare, const char *text, size_t length, double *value,
                      bool *is_length, char why[SHOP_REASON]) {
    int whole;
    *is_length = false;
    switch (field->type) {
    case SHOP_TYPE_LENGTH:
    case SHOP_TYPE_WEIGHT:
    case SHOP_TYPE_CORNER:
    case SHOP_TYPE_CORNERS:
    case SHOP_TYPE_PLACE:
    case SHOP_TYPE_PLACES:
        *is_length = true;
        return shop_parse_length(text, length, bare, field->type == SHOP_TYPE_WEIGHT, value, why);
    case SHOP_TYPE_SHARE:
        return shop_parse_share(text, length, value, why);
    case SHOP_TYPE_GUIDE:
        return shop_parse_guide(text, length, is_length, value, why);
    case SHOP_TYPE_ANGLE:
        return shop_parse_angle(text, length, value, why);
    case SHOP_TYPE_DECIMAL:
        return shop_parse_decimal(text, length, value, why);
    case SHOP_TYPE_NUMBER:
    case SHOP_TYPE_COUNT:
        if (!shop_parse_whole(text, length, &whole, why)) {
            return false;
        }
        *value = whole;
        return true;
    default:
        snprintf(why, SHOP_REASON, "its values are no numbers: give them as a list, such as a,b,c");
        return false;
    }
}

/* What stands behind the number, and how much 1 of it is in the field's inner unit. */
static void take_suffix(verb_axis *axis, const shop_field *field, shop_unit bare, bool is_length, const char *text,
                        size_t length) {
    static const struct {
        const char *word;
        double unit;
    } known[] = {{"mm", 1},  {"cm", 10}, {"in", BW_MM_PER_INCH}, {"\"", BW_MM_PER_INCH}, {"oz", BW_MM_PER_OUNCE},
                 {"%", 0.01}};
    axis->unit = is_length && bare == SHOP_INCH ? BW_MM_PER_INCH : field->type == SHOP_TYPE_ANGLE ? BW_PI / 180 : 1;
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        size_t word = strlen(known[i].word), end = length;
        while (end > 0 && text[end - 1] == ' ') {
            end--;
        }
        if (end > word && memcmp(text + end - word, known[i].word, word) == 0) {
            axis->unit = known[i].unit;
            snprintf(axis->suffix, sizeof axis->suffix, " %s", known[i].word);
            return;
        }
    }
}

static bool no_range(const char *given, const char *why) {
    verb_complain("--sweep %s: %s", given, why);
    return false;
}

/* How many values there are from `from` to `to`, the last one too where a whole number of steps leads there. */
static bool count_steps(verb_axis *axis, const char *given, double to) {
    double many = (to - axis->from) / axis->step;
    if (axis->step == 0 && to != axis->from) {
        return no_range(given, "with a step of 0 it never gets there");
    }
    if (axis->step != 0 && many < -BW_EPS) {
        return no_range(given, "the step leads away from the end; downwards it is negative, such as 25:15:-0.5");
    }
    if (many >= VERB_AXIS_MOST) {
        return no_range(given, "over a million values");
    }
    axis->count = axis->step == 0 ? 1 : (size_t)floor(many + BW_EPS * (1 + many)) + 1;
    return true;
}

static bool read_steps(verb_axis *axis, const shop_field *field, shop_unit bare, const char *given, const char *text) {
    double numbers[3];
    bool lengths[3];
    char why[SHOP_REASON];
    const char *at = text;
    for (int i = 0; i < 3; i++) {
        size_t length = part_length(at, ':');
        if (!number_of(field, bare, at, length, &numbers[i], &lengths[i], why)) {
            return no_range(given, why);
        }
        if (i == 0) {
            take_suffix(axis, field, bare, lengths[0], at, length);
        }
        at += length + 1;
    }
    if (lengths[1] != lengths[0] || lengths[2] != lengths[0]) {
        return no_range(given, "shares and lengths are mixed");
    }
    axis->from = numbers[0];
    axis->step = numbers[2];
    return count_steps(axis, given, numbers[1]);
}

static bool read_list(verb_axis *axis, const char *given, const char *text) {
    axis->count = part_count(text, ',');
    axis->list = strdup(text);
    char *at = axis->list;
    for (size_t i = 0; at != NULL && i < axis->count; i++) {
        size_t length = part_length(at, ',');
        if (length == 0) {
            return no_range(given, "a value is missing; it is FROM:TO:STEP, or a list such as a,b,c");
        }
        at[length] = '\0';
        at += length + 1;
    }
    return axis->list != NULL || no_range(given, "out of memory");
}

bool verb_axis_read(const char *given, const shop_project *project, const char *file, verb_axis *axis) {
    shop_edit edit;
    *axis = (verb_axis){.path = NULL};
    if (!verb_assignment(given, &edit)) {
        return false;
    }
    axis->path = edit.path;
    edit.path = NULL;
    bool fine;
    const shop_field *field = shop_field_for(project, axis->path);
    size_t parts = edit.new_text == NULL ? 0 : part_count(edit.new_text, ':');
    if (parts == 0) {
        fine = no_range(given, "a value is missing; it is FROM:TO:STEP, or a list such as a,b,c");
    } else if (field == NULL) {
        verb_complain("%s has no value %s", file, axis->path);
        fine = false;
    } else if (parts == 3) {
        axis->steps = true;
        fine = read_steps(axis, field, project->units, given, edit.new_text);
    } else if (parts > 1) {
        fine = no_range(given, "it is FROM:TO:STEP, or a list such as a,b,c");
    } else {
        fine = read_list(axis, given, edit.new_text);
    }
    shop_edit_free(&edit);
    return fine;
}

char *verb_axis_value(const verb_axis *axis, size_t i) {
    if (!axis->steps) {
        const char *at = axis->list;
        while (i-- > 0) {
            at += strlen(at) + 1;
        }
        return strdup(at);
    }
    char short_one[64], text[80];
    /* As it would be typed: 0.3, not 0.30000000000000004. */
    snprintf(short_one, sizeof short_one, "%.12f", (axis->from + (double)i * axis->step) / axis->unit);
    shop_write_number(shop_convert(short_one, short_one + strlen(short_one)), text, sizeof text - sizeof axis->suffix);
    strcat(text, axis->suffix);
    return strdup(text);
}

void verb_axis_free(verb_axis *axis) {
    free(axis->path);
    free(axis->list);
    *axis = (verb_axis){.path = NULL};
}

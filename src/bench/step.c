/* step.c - a value one step on, as text: in the unit and the spelling in which it stands in the file. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

#define ROUNDING 1e9   /* steps add up without the dust of binary fractions */
#define OUNCE_STEP 0.5 /* oz, one key on a leather's weight */

typedef enum length_unit { IN_FILE_UNIT, IN_MM, IN_CM, IN_INCH, IN_OUNCE } length_unit;

static bool ends_with(const char *text, const char *end) {
    size_t length = strlen(text), size = strlen(end);
    return length >= size && strcmp(text + length - size, end) == 0;
}

static length_unit spelled_unit(const char *text) {
    return ends_with(text, "cm")                            ? IN_CM
           : ends_with(text, "mm")                          ? IN_MM
           : ends_with(text, "in") || ends_with(text, "\"") ? IN_INCH
           : ends_with(text, "oz")                          ? IN_OUNCE
                                                            : IN_FILE_UNIT;
}

static double rounded(double value) {
    return round(value * ROUNDING) / ROUNDING;
}

/* On a guide given as a length one key moves it as far as any line. */
static double plain_step(const bench_row *row) {
    double step =
        row->field->type == SHOP_TYPE_GUIDE || row->field->type == SHOP_TYPE_PLACE ? BW_GRID_MM : row->field->step;
    return step > 0 ? step : BW_GRID_MM;
}

static double length_step(const bench *b, const bench_row *row, length_unit unit) {
    bool inches = unit == IN_INCH || (unit == IN_FILE_UNIT && desk_project(b->desk)->units == SHOP_INCH);
    return unit == IN_OUNCE ? OUNCE_STEP * BW_MM_PER_OUNCE : inches ? BW_MM_PER_INCH / 64 : plain_step(row);
}

static bool is_length(const bench_row *row) {
    shop_type type = row->field->type;
    double share;
    char reason[160];
    return type == SHOP_TYPE_LENGTH || type == SHOP_TYPE_WEIGHT || type == SHOP_TYPE_CORNER ||
           (type == SHOP_TYPE_PLACE && row->text[0] >= '0' && row->text[0] <= '9') ||
           (type == SHOP_TYPE_GUIDE && !shop_parse_share(row->text, strlen(row->text), &share, reason));
}

double row_step_mm(const bench *b, const bench_row *row) {
    return is_length(row) ? length_step(b, row, spelled_unit(row->text)) : 0;
}

void row_step_words(const bench *b, const bench_row *row, char out[32]) {
    length_unit unit = spelled_unit(row->text);
    out[0] = '\0';
    if (is_length(row)) {
        if (unit == IN_OUNCE) {
            snprintf(out, 32, "%g oz", OUNCE_STEP);
        } else {
            bool inches = unit == IN_INCH || (unit == IN_FILE_UNIT && desk_project(b->desk)->units == SHOP_INCH);
            shop_show_length(length_step(b, row, unit), inches ? SHOP_INCH : SHOP_MM, out, 32);
        }
        return;
    }
    switch (row->field->type) {
    case SHOP_TYPE_SHARE:
    case SHOP_TYPE_GUIDE:
        snprintf(out, 32, "%g %%", 100 * row->field->step);
        break;
    case SHOP_TYPE_ANGLE:
        snprintf(out, 32, "%g deg", round(row->field->step * 180 / BW_PI));
        break;
    case SHOP_TYPE_COUNT:
        snprintf(out, 32, "%d", bench_card_band(b) == SIZE_MAX ? 1 : count_multiple(b, bench_card_band(b)));
        break;
    case SHOP_TYPE_NUMBER:
    case SHOP_TYPE_DECIMAL:
        snprintf(out, 32, "1");
        break;
    default:
        break;
    }
}

/* ---- limits ---- */

/* Within the field's range, or a refusal where it stands at the limit already. */
static bool hold(const bench_row *row, double old, double *value, const char *limit, char why[200]) {
    const shop_field *field = row->field;
    double held = fmin(fmax(*value, field->least), field->most);
    if (held != *value && fabs(held - old) < BW_EPS) {
        snprintf(why, 200, "%s goes no further: %s is %s.", field->label, limit,
                 held == field->least ? "the least" : "the most");
        return false;
    }
    *value = held;
    return true;
}

/* ---- lengths ---- */

static void write_length(const bench *b, length_unit unit, double mm, char out[ROW_TEXT]) {
    char text[64];
    bool inches = unit == IN_INCH || (unit == IN_FILE_UNIT && desk_project(b->desk)->units == SHOP_INCH);
    if (inches && shop_write_fraction(mm, out, ROW_TEXT))
        return;
    switch (unit) {
    case IN_OUNCE:
        snprintf(out, ROW_TEXT, "%.10g oz", rounded(mm / BW_MM_PER_OUNCE));
        return;
    case IN_CM:
        snprintf(out, ROW_TEXT, "%.10g cm", rounded(mm / 10));
        return;
    case IN_MM:
        shop_write_length(rounded(mm), SHOP_MM, text, sizeof text);
        snprintf(out, ROW_TEXT, "%s mm", text);
        return;
    case IN_INCH:
        shop_write_length(mm, SHOP_INCH, text, sizeof text);
        snprintf(out, ROW_TEXT, "%s in", text);
        return;
    default:
        shop_write_length(desk_project(b->desk)->units == SHOP_MM ? rounded(mm) : mm, desk_project(b->desk)->units,
                          text, sizeof text);
        snprintf(out, ROW_TEXT, "%s", text);
    }
}

/* Inches step over whole 64ths, so that a fraction stays one. */
static double stepped(double mm, double step, int steps, bool inches) {
    double at = inches ? rounded(mm / BW_MM_PER_INCH) + steps / 64.0 : 0;
    return inches ? rounded(at) * BW_MM_PER_INCH : rounded(mm + steps * step);
}

static bool step_length(const bench *b, const bench_row *row, int steps, char out[ROW_TEXT], char why[200]) {
    const shop_project *project = desk_project(b->desk);
    length_unit unit = spelled_unit(row->text);
    double mm;
    char reason[160], limit[64];
    bool weight = row->field->type == SHOP_TYPE_WEIGHT;
    if (!shop_parse_length(row->text, strlen(row->text), project->units, weight, &mm, reason)) {
        snprintf(why, 200, "%s cannot be stepped as it stands; {workbench.type} types it.", row->field->label);
        return false;
    }
    bool inches = unit == IN_INCH || (unit == IN_FILE_UNIT && project->units == SHOP_INCH);
    double value = unit == IN_OUNCE ? mm + steps * length_step(b, row, unit)
                                    : stepped(mm, length_step(b, row, unit), steps, inches);
    if (row->field->type == SHOP_TYPE_GUIDE || row->field->type == SHOP_TYPE_PLACE) {
        value = fmax(value, 0); /* how far they may go depends on the band and the edge */
    } else {
        shop_show_length(value < mm ? row->field->least : row->field->most, project->units, limit, sizeof limit);
        if (!hold(row, mm, &value, limit, why)) {
            return false;
        }
    }
    write_length(b, unit, value, out);
    return true;
}

/* ---- shares, angles, numbers ---- */

static bool step_share(const bench_row *row, int steps, char out[ROW_TEXT], char why[200]) {
    double share;
    char reason[160], limit[64];
    if (!shop_parse_share(row->text, strlen(row->text), &share, reason)) {
        snprintf(why, 200, "%s cannot be stepped as it stands; {workbench.type} types it.", row->field->label);
        return false;
    }
    double value = rounded(share + steps * row->field->step);
    snprintf(limit, sizeof limit, "%g %%", 100 * (value < share ? row->field->least : row->field->most));
    if (!hold(row, share, &value, limit, why)) {
        return false;
    }
    snprintf(out, ROW_TEXT, "%.10g %%", rounded(100 * value));
    return true;
}

static bool step_number(const bench_row *row, int steps, double unit, char out[ROW_TEXT], char why[200]) {
    char *end;
    double number = strtod(row->text, &end);
    char limit[64];
    if (end == row->text || *end != '\0') {
        snprintf(why, 200, "%s is empty; {workbench.type} types it.", row->field->label);
        return false;
    }
    double value = rounded(number + steps) * unit, old = number * unit;
    snprintf(limit, sizeof limit, "%g", (value < old ? row->field->least : row->field->most) / unit);
    if (!hold(row, old, &value, limit, why)) {
        return false;
    }
    snprintf(out, ROW_TEXT, "%.10g", rounded(value / unit));
    return true;
}

/* ---- words ---- */

static bool step_word(const char *const *words, const char *now, int steps, char out[ROW_TEXT]) {
    int count = 0, at = 0;
    for (; words[count] != NULL; count++) {
        at = strcmp(words[count], now) == 0 ? count : at;
    }
    int next = ((at + (steps > 0 ? 1 : -1)) % count + count) % count;
    snprintf(out, ROW_TEXT, "%s", words[next]);
    return true;
}

/* ---- counts, and where the gap goes ---- */

int count_multiple(const bench *b, size_t band) {
    const bw_band *asked = &desk_project(b->desk)->bands[band];
    const bw_band_plan *plan = &desk_plan(b->desk)->bands[band];
    if (asked->fill == BW_FILL_BORDER) {
        return asked->group;
    }
    bool closed = plan->run_count > 0 && plan->runs[0].closed;
    return asked->fill == BW_FILL_BASKET && asked->lay == BW_LAY_STRAIGHT && closed ? 2 : 1;
}

static bool step_count(const bench *b, const bench_row *row, int steps, char out[ROW_TEXT], char why[200]) {
    size_t band = bench_card_band(b);
    const bw_band_plan *plan = &desk_plan(b->desk)->bands[band];
    if (row->text[0] == '[' || plan->run_count > 1) {
        snprintf(why, 200,
                 "A band of several runs has a count for each; {workbench.type} types one number for all, or a list.");
        return false;
    }
    int multiple = count_multiple(b, band), now = show_impressions(desk_plan(b->desk), band);
    if (now == 0) {
        snprintf(why, 200, "There is no round here to count.");
        return false;
    }
    int off = now % multiple; /* an odd one given by hand goes to the next whole */
    int next = off == 0 ? now + steps * multiple : steps > 0 ? now - off + multiple : now - off;
    if (next < multiple) {
        snprintf(why, 200, "%d is the fewest.", multiple);
        return false;
    }
    snprintf(out, ROW_TEXT, "%d", next > BW_COUNT_MOST ? BW_COUNT_MOST : next);
    return true;
}

/* even, last 1 ... last all, straights, anchored: one line of choices, entered in the middle where it is of use. */
static bool step_lose(const bench *b, const bench_row *row, int steps, char out[ROW_TEXT], char why[200]) {
    const bw_band_plan *plan = &desk_plan(b->desk)->bands[bench_card_band(b)];
    if (plan->run_count == 0 || plan->runs[0].count == 0) {
        snprintf(why, 200, "There is no round here on which a gap could be lost.");
        return false;
    }
    const bw_run_plan *run = &plan->runs[0];
    int all = run->closed ? run->count : run->count - 1, last = 0;
    int useful = run->least_last > 0 ? run->least_last : (all + 3) / 4;
    if (sscanf(row->text, "last %d", &last) == 1) {
        int next = last + steps;
        if (next >= 1 && next <= all) {
            snprintf(out, ROW_TEXT, "last %d", next);
        } else {
            snprintf(out, ROW_TEXT, "%s", next < 1 ? "even" : "straights");
        }
    } else if (strcmp(row->text, "straights") == 0) {
        snprintf(out, ROW_TEXT, "%s", steps > 0 ? "anchored" : "even");
    } else if (strcmp(row->text, "anchored") == 0) {
        snprintf(out, ROW_TEXT, "%s", steps > 0 ? "even" : "straights");
    } else if (steps > 0) {
        snprintf(out, ROW_TEXT, "last %d", useful > 0 ? useful : 1);
    } else {
        snprintf(out, ROW_TEXT, "anchored");
    }
    return true;
}

/* The tool after this one of a kind that fits. */
static bool step_tool(const bench *b, const bench_row *row, int steps, char out[ROW_TEXT], char why[200]) {
    const shop_project *project = desk_project(b->desk);
    size_t band = bench_card_band(b), count = project->layout.tool_count;
    bw_kind kind = BW_DIVIDERS;
    if (band != SIZE_MAX) {
        bw_fill_kind(project->bands[band].fill, &kind);
    }
    size_t at = 0;
    while (at < count && strcmp(project->tools[at].id, row->text) != 0) {
        at++;
    }
    for (size_t i = 1; i <= count; i++) {
        size_t next = (steps > 0 ? at + i : at + 2 * count - i) % count;
        const bw_tool *tool = &project->tools[next];
        if (tool->kind == kind && !tool->retired && strcmp(tool->id, row->text) != 0) {
            snprintf(out, ROW_TEXT, "%s", tool->id);
            return true;
        }
    }
    snprintf(why, 200, "No other %s is known.", kind_words(kind));
    return false;
}

/* Square, round, and a point as long as the strap is wide. */
static bool step_end(const bench *b, const bench_row *row, int steps, char out[ROW_TEXT]) {
    const shop_project *project = desk_project(b->desk);
    char point[64];
    int at = row->text[0] == '{' ? 2 : strcmp(row->text, "round") == 0 ? 1 : 0;
    int next = (at + (steps > 0 ? 1 : 2)) % 3;
    shop_write_length(project->layout.outline.width, project->units, point, sizeof point);
    if (next == 2) {
        snprintf(out, ROW_TEXT, "{point: %s}", point);
    } else {
        snprintf(out, ROW_TEXT, "%s", next == 1 ? "round" : "square");
    }
    return true;
}

bool row_step(const bench *b, const bench_row *row, int steps, char out[ROW_TEXT], char why[200]) {
    static const char *const places[] = {"bottom", "right", "top", "left", NULL}, *const yes_no[] = {"no", "yes", NULL};
    if (is_length(row) && row->text[0] != '[') {
        return step_length(b, row, steps, out, why);
    }
    switch (row->field->type) {
    case SHOP_TYPE_SHARE:
    case SHOP_TYPE_GUIDE:
        return step_share(row, steps, out, why);
    case SHOP_TYPE_ANGLE:
        return step_number(row, steps, BW_PI / 180, out, why);
    case SHOP_TYPE_NUMBER:
    case SHOP_TYPE_DECIMAL:
        return step_number(row, steps, 1, out, why);
    case SHOP_TYPE_WORD:
        return step_word(row->field->words, row->text, steps, out);
    case SHOP_TYPE_YES_NO:
        return step_word(yes_no, row->text, steps, out);
    case SHOP_TYPE_PLACE:
        return step_word(places, row->text, steps, out);
    case SHOP_TYPE_END:
        return step_end(b, row, steps, out);
    case SHOP_TYPE_COUNT:
        return step_count(b, row, steps, out, why);
    case SHOP_TYPE_LOSE:
        return step_lose(b, row, steps, out, why);
    case SHOP_TYPE_TOOL:
        return step_tool(b, row, steps, out, why);
    case SHOP_TYPE_PLACES:
    case SHOP_TYPE_PATHS:
    case SHOP_TYPE_CORNERS:
    case SHOP_TYPE_LIST:
        snprintf(why, 200, "%s is a list; {workbench.type} shows its items.", row->field->label);
        return false;
    default:
        snprintf(why, 200, "%s has no steps; {workbench.type} types it.", row->field->label);
        return false;
    }
}

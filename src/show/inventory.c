/* Tools in a list: a line each, by columns as far as the window has room. */
#include <math.h>
#include <string.h>

#include "show/inner.h"

#define FIT 19  /* cells: "tight, margin 0.03" and a blank */
#define SIZE 17 /* "9.53 by 6.35 mm", "3/8 in by 1/4 in" */

/* From the left; a column that does not fit is left out. */
typedef struct columns {
    int id, kind, size, fit, place; /* cells; 0 = not shown */
} columns;

static columns columns_for(int width, bool piece) {
    columns c = {.id = width >= 76 ? 18 : width >= 56 ? 16 : width >= 34 ? 15 : piece ? width * 6 / 10 + 1 : width};
    int left = width - c.id;
    c.fit = !piece ? 0 : left >= 40 ? FIT : left > 0 ? left : 0;
    left -= c.fit;
    c.kind = left >= 9 ? 9 : 0;
    left -= c.kind;
    c.size = left >= SIZE ? SIZE : 0;
    left -= c.size;
    c.place = left >= 6 ? left : 0;
    return c;
}

static int column(show_grid *grid, int x, int y, int width, unsigned look, const char *text) {
    if (width > 0) {
        show_put(grid, x, y, width - 1, look, text);
    }
    return x + width;
}

const char *show_kind_word(bw_kind kind) {
    return shop_field_find("tools[].kind")->words[kind];
}

const char *show_tool_size(show_words *out, const bw_tool *tool, shop_unit unit) {
    char first[64] = "", second[64] = "";
    double size = tool->kind == BW_IRON       ? tool->pitch
                  : tool->kind == BW_BEVELER  ? tool->width
                  : tool->kind == BW_DIVIDERS ? tool->most
                                              : tool->length;
    bool face = tool->kind == BW_BASKET || tool->kind == BW_BORDER;
    show_start(out);
    if (tool->kind > BW_DIVIDERS || !isfinite(size)) {
        return out->text;
    }
    shop_show_length(size, unit, first, sizeof first);
    if (!face) {
        show_say(out, "%s%s", tool->kind == BW_DIVIDERS ? "up to " : "", first);
        return out->text;
    }
    shop_show_length(bw_tool_face(tool).width, unit, second, sizeof second);
    size_t length = strlen(first);
    bool same_unit = unit == SHOP_MM && length > 3 && strcmp(first + length - 3, " mm") == 0;
    show_say(out, "%.*s by %s", (int)(same_unit ? length - 3 : length), first, second);
    return out->text;
}

const char *show_tool_fit(show_words *out, const bw_rank *rank, int width) {
    show_start(out);
    if (rank != NULL) {
        double margin = fabs(rank->least_margin) < 0.005 ? 0 : rank->least_margin;
        show_say(out, "%s", bw_verdict_word(rank->verdict));
        if (isfinite(margin) && rank->verdict >= BW_TIGHT && width >= FIT) {
            show_say(out, ", margin %.2f", margin);
        }
    }
    return out->text;
}

const char *show_tool_margins(show_words *out, const shop_project *project, size_t band, const bw_rank *rank) {
    static const char *const names[] = {"reach", "crowd", "bend"};
    double margins[] = {rank->fit.reach, rank->fit.crowd, rank->fit.bend};
    bool any = false;
    show_start(out);
    for (int i = 0; i < 3; i++) {
        if (isfinite(margins[i])) {
            double shown = fabs(margins[i]) < 0.005 ? 0 : margins[i];
            show_say(out, "%s%s %.2f", any ? ", " : "margins (0 = at the limit): ", names[i], shown);
            any = true;
        }
    }
    show_say(out, "%ssteps change by %s", any ? "; " : "", show_percent(rank->change).text);
    if (project->bands[band].fill != BW_FILL_STITCH) {
        show_say(out, ", bare strip %s", show_length(project, rank->bare).text);
    }
    return out->text;
}

bool show_tool_has_size(int width, bool judged) {
    return columns_for(width, judged).size > 0;
}

/* In which files it stands, and what else is to be known of it. */
static void place_words(show_words *out, const show_tool_row *row, int room) {
    bool differs = row->differs && !(row->only_named && row->in_use);
    const char *way = row->only_named && room > 12    ? "name differs"
                      : row->only_strips && room > 13 ? "strips differ"
                                                      : "differs";
    show_start(out);
    if (differs && row->retired && room <= 1 + (int)strlen("retired ") + (int)strlen(way)) { /* the worse one alone */
        show_say(out, "%s", way);
        return;
    }
    if (row->retired) {
        show_say(out, "retired ");
    }
    if (differs) {
        show_say(out, "%s", way);
    } else if (row->in_use) {
        show_say(out, "in use");
    } else if (row->in_piece) {
        show_say(out, row->in_inventory ? "both" : "piece only");
    }
}

void show_tool_head(show_grid *grid, show_rect where, const char *band) {
    columns c = columns_for(where.width, band != NULL);
    char fit[80];
    snprintf(fit, sizeof fit, "for %.60s", band != NULL ? band : "");
    int x = column(grid, where.x, where.y, c.id, SHOW_UNDERLINE, "tool");
    x = column(grid, x, where.y, c.kind, SHOW_UNDERLINE, "kind");
    x = column(grid, x, where.y, c.size, SHOW_UNDERLINE, "size");
    column(grid, x, where.y, c.fit, SHOW_UNDERLINE, fit);
}

void show_tool_line(show_grid *grid, show_rect where, unsigned look, const show_tool_row *row) {
    columns c = columns_for(where.width, row->judged);
    show_words words;
    unsigned dim = look != SHOW_PLAIN ? look : row->retired ? SHOW_DIM : SHOW_PLAIN;
    int x = column(grid, where.x, where.y, c.id, dim, row->tool->id);
    x = column(grid, x, where.y, c.kind, SHOW_PLAIN, show_kind_word(row->tool->kind));
    x = column(grid, x, where.y, c.size, SHOW_PLAIN, show_tool_size(&words, row->tool, row->unit));
    bool works = row->rank != NULL && row->rank->verdict >= BW_TIGHT;
    x = column(grid, x, where.y, c.fit,
               row->rank == NULL ? SHOW_PLAIN
               : works           ? SHOW_GOOD
                                 : SHOW_BAD,
               show_tool_fit(&words, row->rank, c.fit));
    place_words(&words, row, c.place);
    column(grid, x, where.y, c.place, row->differs ? SHOW_WARN : SHOW_PLAIN, words.text);
}

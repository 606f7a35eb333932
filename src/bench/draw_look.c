/* draw_look.c - one drawing in all of the window, with its scale above it. */
#include <string.h>

#include "bench/inner.h"

enum { LEAST_HIGH = 3, LEAST_WIDE = 12 };

static void put_drawing(bench *b, show_grid *grid, show_rect where) {
    show_view view = look_view(b);
    if (b->look.shown == LOOK_PIECE) {
        show_preview(grid, where, &view);
    } else if (b->look.shown == LOOK_STRAIGHT) {
        b->look.pages = show_straight(grid, where, &view, &b->look.page);
    } else {
        show_seam(grid, where, &view);
    }
}

/* The band, the drawing, the scale, and whether there is more than is seen: the scale whole, and as much of the rest as
 * there is room for. */
static void put_title(const bench *b, show_grid *grid) {
    const shop_project *project = desk_project(b->desk);
    const show_sight *sight = &b->look.sight;
    bool across = b->look.shown != LOOK_STRAIGHT;
    show_words scale;
    show_scale_words(&scale, project, sight, across ? b->aspect : 0);
    if (across && (int)strlen(scale.text) > grid->width) {
        show_scale_brief(&scale, project, sight);
    }
    int left = grid->width - (int)strlen(scale.text), x = 0;
    const char *part = b->look.shown != LOOK_PIECE ? "" : sight->scale > 0 ? ", a part" : ", all of it";
    char text[200], name[40];
    if (b->look.shown == LOOK_SEAM && b->look.impression > 0) {
        snprintf(name, sizeof name, "impression %d", b->look.impression);
    } else {
        snprintf(name, sizeof name, "%s", look_name(b));
    }
    snprintf(text, sizeof text, "%.100s: %s%s",
             b->band < project->layout.band_count ? project->bands[b->band].name : "no band yet", name, part);
    if ((int)strlen(text) + 2 <= left) {
        x = show_put(grid, 0, 0, -1, SHOW_BOLD, text) + 2;
    } else if ((int)strlen(name) + 2 <= left) {
        x = show_put(grid, 0, 0, -1, SHOW_BOLD, name) + 2;
    }
    show_put(grid, x, 0, -1, SHOW_PLAIN, scale.text);
    grid->cursor_x = 0;
    grid->cursor_y = 0;
}

void draw_look(bench *b, show_grid *grid) {
    show_rect where = {0, 1, grid->width, grid->height - foot_lines(grid) - 1};
    b->look.sight.drawn = 0;
    b->look.sight.rows_only = b->look.sight.rows_merge = false;
    if (where.height < LEAST_HIGH || where.width < LEAST_WIDE) {
        show_wrap(grid, where, SHOW_DIM, "too small to draw");
    } else {
        put_drawing(b, grid, where);
    }
    put_title(b, grid);
    draw_foot(b, grid);
}

/* second_compare.c - what the held layout says otherwise, as edits that would lead there. */
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"

void desk_second_forget(desk *d) {
    desk_second *second = &d->second;
    for (size_t i = 0; i < second->count; i++) {
        shop_edit_free(&second->list[i].edit);
        free(second->list[i].label);
        free(second->list[i].here);
        free(second->list[i].held);
    }
    free(second->list);
    second->list = NULL;
    second->count = 0;
    second->listed = false;
}

typedef struct comparison {
    desk *d;
    const shop_project *here, *held;
    bool failed; /* memory ran out */
} comparison;

/* Takes all texts; here_text and held_text may be NULL (not in that layout). */
static void add(comparison *c, desk_difference one, char *here_text, char *held_text) {
    desk_second *second = &c->d->second;
    one.edit.old_text = here_text;
    one.edit.new_text = held_text;
    desk_difference *more = shop_resize(second->list, (second->count + 1) * sizeof *more);
    if (more != NULL) {
        second->list = more;
        second->list[second->count++] = one;
    }
    if (more == NULL) {
        shop_edit_free(&one.edit);
        free(one.label);
        free(one.here);
        free(one.held);
    }
    c->failed =
        c->failed || more == NULL || one.edit.path == NULL || one.label == NULL || one.here == NULL || one.held == NULL;
}

static char *words_of(const shop_project *project, const shop_field *field, const char *text) {
    if (text == NULL) {
        return desk_say("as usual");
    }
    char *words = desk_value_words(field, project->units, text);
    if (words != NULL && strlen(words) > 60) { /* a drawn path: that it differs can be told, not how */
        strcpy(words + 57, "...");
    }
    return words;
}

/* owner: "weave ", "" for the piece. */
static void compare_value(comparison *c, const shop_field *field, const char *owner, const char *path) {
    char *here = shop_project_get(c->here, path), *held = shop_project_get(c->held, path);
    bool same = here == NULL || held == NULL ? here == held : strcmp(here, held) == 0;
    if (same) {
        free(here);
        free(held);
        return;
    }
    add(c,
        (desk_difference){.edit.path = desk_say("%s", path),
                          .label = desk_say("%s%s", owner, field->label),
                          .here = words_of(c->here, field, here),
                          .held = words_of(c->held, field, held)},
        here, held);
}

/* Several rows of the table may share a path, one a shape or kind: the first stands for it. */
static bool is_first_row(const shop_field *fields, size_t i) {
    for (size_t k = 0; k < i; k++) {
        if (strcmp(fields[k].path, fields[i].path) == 0) {
            return false;
        }
    }
    return true;
}

/* base: "bands.weave" or "tools.star"; NULL: the piece. */
static void compare_fields(comparison *c, shop_owner owner, const char *base, const char *name) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    char path[256], whose[100] = "";
    if (name != NULL) {
        snprintf(whose, sizeof whose, "%.90s ", name);
    }
    for (size_t i = 0; i < count; i++) {
        const shop_field *field = &fields[i];
        bool mine = field->owner == owner || (owner == SHOP_OF_PROJECT && field->owner == SHOP_OF_RATES);
        if (!mine || field->type == SHOP_TYPE_FORMAT || !is_first_row(fields, i)) {
            continue;
        }
        snprintf(path, sizeof path, "%s%s", base == NULL ? "" : base,
                 base == NULL ? field->path : strchr(field->path, ']') + 1);
        const shop_field *exact = shop_field_for(c->here, path);
        compare_value(c, exact != NULL ? exact : field, whose, path);
    }
}

/* A band or tool of one name: NULL texts where a layout has none. */
static void compare_item(comparison *c, shop_owner owner, const char *what, const char *name, bool in_here,
                         bool in_held) {
    char base[200];
    snprintf(base, sizeof base, "%ss.%.150s", what, name);
    char *here = in_here ? shop_text_get(c->here->text, base) : NULL;
    char *held = in_held ? shop_text_get(c->held->text, base) : NULL;
    if (in_here != in_held) {
        add(c,
            (desk_difference){.edit.path = desk_say("%s", base),
                              .label = desk_say("%s %.90s", what, name),
                              .here = desk_say(in_here ? "there" : "none"),
                              .held = desk_say(in_held ? "there" : "none")},
            here, held);
        return;
    }
    if (here == NULL || held == NULL || strcmp(here, held) != 0) {
        compare_fields(c, owner, base, name);
    }
    free(here);
    free(held);
}

static const char *band_name(const shop_project *project, size_t i) {
    return project->bands[i].name;
}

static const char *tool_name(const shop_project *project, size_t i) {
    return project->tools[i].id;
}

typedef const char *name_of(const shop_project *project, size_t i);

static bool has_name(const shop_project *project, size_t count, name_of *named, const char *name) {
    for (size_t i = 0; i < count; i++) {
        if (strcmp(named(project, i), name) == 0) {
            return true;
        }
    }
    return false;
}

static void compare_items(comparison *c, shop_owner owner, const char *what, name_of *named, size_t here, size_t held) {
    for (size_t i = 0; i < here; i++) {
        const char *name = named(c->here, i);
        compare_item(c, owner, what, name, true, has_name(c->held, held, named, name));
    }
    for (size_t i = 0; i < held; i++) {
        const char *name = named(c->held, i);
        if (!has_name(c->here, here, named, name)) {
            compare_item(c, owner, what, name, false, true);
        }
    }
}

/* "rim, weave": from the edge inward. */
static char *order_of(const shop_project *project) {
    char words[160] = "";
    size_t used = 0;
    for (size_t i = 0; i < project->layout.band_count && used < sizeof words; i++) {
        used += (size_t)snprintf(words + used, sizeof words - used, "%s%s", i > 0 ? ", " : "", project->bands[i].name);
    }
    return desk_say("%s", words);
}

static void compare_order(comparison *c) {
    size_t bands = c->here->layout.band_count;
    bool moved = false, same = bands == c->held->layout.band_count;
    for (size_t i = 0; i < bands && same; i++) {
        same = has_name(c->held, bands, band_name, band_name(c->here, i));
        moved = moved || strcmp(band_name(c->here, i), band_name(c->held, i)) != 0;
    }
    if (same && moved) {
        add(c,
            (desk_difference){.edit.path = desk_say("bands"),
                              .label = desk_say("order of the bands"),
                              .here = order_of(c->here),
                              .held = order_of(c->held)},
            shop_text_get(c->here->text, "bands"), shop_text_get(c->held->text, "bands"));
    }
}

const desk_difference *desk_differences(desk *d, size_t *count) {
    comparison c = {.d = d, .here = d->project, .held = desk_held_project(d)};
    *count = 0;
    if (c.held == NULL) {
        return NULL;
    }
    if (!d->second.listed) {
        desk_second_forget(d);
        compare_fields(&c, SHOP_OF_PROJECT, NULL, NULL);
        compare_order(&c);
        compare_items(&c, SHOP_OF_BAND, "band", band_name, c.here->layout.band_count, c.held->layout.band_count);
        compare_items(&c, SHOP_OF_TOOL, "tool", tool_name, c.here->own_tools, c.held->own_tools);
        d->second.listed = !c.failed;
        if (c.failed) {
            desk_second_forget(d);
        }
    }
    *count = d->second.count;
    return d->second.list;
}

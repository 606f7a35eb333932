/* strip.c - `strip [FILE] TOOL`: what a tool's test strips tell, with one more or without. */
#include <errno.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "desk/strips.h"
#include "shop/values.h"
#include "show/hand.h"
#include "verbs/verbs.h"

#define RULE_MOST 25.4 /* mm: nobody reads a rule more coarsely */

typedef struct asking {
    const char *file; /* NULL: the inventory */
    const char *tool;
    desk_strip strip;
    bool any; /* something is said of a strip */
    double rule;
} asking;

/* "struck=closest"; false after a message. */
static bool take_word(asking *a, const char *word) {
    const char *equals = strchr(word, '=');
    for (int key = 0; key < DESK_STRIP_KEYS; key++) {
        size_t length = strlen(desk_strip_words[key]);
        if ((size_t)(equals - word) == length && strncmp(word, desk_strip_words[key], length) == 0) {
            if (a->strip.text[key] != NULL) {
                verb_complain("%s is said twice: %s and %s", desk_strip_words[key], a->strip.text[key], equals + 1);
                return false;
            }
            a->strip.text[key] = equals + 1;
            return true;
        }
    }
    verb_complain(
        "%.*s is nothing that a strip has; allowed: impressions, length, tips, struck, aimed, places, leather, "
        "date",
        (int)(equals - word), word);
    return false;
}

static bool take_operands(asking *a, const verb_args *args) {
    const char *names[2] = {NULL, NULL};
    int count = 0;
    for (int i = 0; i < args->operand_count; i++) {
        const char *word = args->operands[i];
        if (strchr(word, '=') != NULL && count > 0) {
            if (!take_word(a, word)) {
                return false;
            }
        } else if (count == 2) {
            verb_complain("too much is given: %s; usage: bandwright strip [FILE] TOOL [KEY=VALUE...]", word);
            return false;
        } else {
            names[count++] = word;
        }
    }
    a->file = count == 2 ? names[0] : NULL;
    a->tool = names[count - 1];
    return true;
}

static bool take_options(asking *a, const verb_args *args) {
    for (int key = 0; key < DESK_STRIP_KEYS; key++) {
        a->any = a->any || a->strip.text[key] != NULL;
    }
    if (args->given[VERB_ADD] != NULL && !a->any) {
        verb_complain("--add needs a strip, such as impressions=10 length=67.6");
        return false;
    }
    if (args->given[VERB_DROP] != NULL && a->any) {
        verb_complain("--drop takes a strip out and KEY=VALUE says another: one at a time");
        return false;
    }
    return true;
}

static bool take_rule(asking *a, const verb_args *args, shop_unit unit) {
    const char *text = args->given[VERB_RULE];
    char reason[160];
    a->rule = BW_RULE_MM;
    if (text == NULL) {
        return true;
    }
    if (!shop_parse_length(text, strlen(text), unit, false, &a->rule, reason)) {
        verb_complain("--rule %s: %s", text, reason);
        return false;
    }
    if (a->rule < 0 || a->rule > RULE_MOST) {
        verb_complain("--rule %s: allowed: 0 to 25.4 mm", text);
        return false;
    }
    return true;
}

static int find_tool(const asking *a, const shop_project *project) {
    for (size_t i = 0; i < project->layout.tool_count; i++) {
        bw_kind kind = project->tools[i].kind;
        if (strcmp(project->tools[i].id, a->tool) != 0) {
            continue;
        }
        if (kind == BW_BASKET || kind == BW_BORDER || kind == BW_IRON) {
            return (int)i;
        }
        verb_complain("%s has no steps: strips are struck with basket stamps, border stamps and irons", a->tool);
        return -1;
    }
    if (a->file == NULL && strchr(a->tool, '.') != NULL) { /* no id holds a point: it is a file's name */
        verb_complain("the tool is missing behind the file: bandwright strip %s TOOL [KEY=VALUE...]", a->tool);
    } else {
        verb_complain("%s has no tool %s", a->file != NULL ? a->file : "the inventory", a->tool);
    }
    return -1;
}

/* The strip into the open file; 0, or the exit status after all messages. */
static int add_strip(asking *a, desk *d, int tool) {
    const shop_project *project = desk_project(d);
    bw_strip strip;
    double *places;
    char why[200], title[160];
    desk_strip_key wrong;
    if (!desk_strip_read(&a->strip, &project->tools[tool], project->units, &strip, &places, why, &wrong)) {
        return verb_complain("%s", why);
    }
    free(places);
    shop_edit edits[2] = {{NULL, NULL, NULL}, {NULL, NULL, NULL}};
    size_t count;
    shop_problems problems;
    shop_problems_init(&problems, desk_file(d));
    int status = SHOP_BAD_FILE;
    if (!desk_strip_edits(d, tool, &a->strip, edits, &count, title)) {
        status = verb_complain("out of memory");
    } else if (desk_edit_many(d, edits, count, title, &problems)) {
        status = 0;
    }
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    shop_edit_free(&edits[0]);
    shop_edit_free(&edits[1]);
    return status;
}

static int save(desk *d) {
    shop_problems problems;
    shop_problems_init(&problems, desk_file(d));
    int status = (int)desk_save(d, &problems);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    return status;
}

/* Takes strip N out of the open file and tells what it said, so that it can be added again. */
static int drop_strip(const asking *a, desk *d, int tool, const char *which) {
    const shop_project *project = desk_project(d);
    const bw_tool *one = &project->tools[tool];
    char why[SHOP_REASON], title[160];
    int n;
    if (one->strip_count == 0) {
        return verb_complain("--drop %s: %s has no strip", which, a->tool);
    }
    if (!shop_parse_whole(which, strlen(which), &n, why) || n < 1 || (size_t)n > one->strip_count) {
        return verb_complain("--drop %s: allowed: 1 to %zu, the number in the list", which, one->strip_count);
    }
    if ((size_t)tool >= project->own_tools) {
        return verb_complain("--drop: these strips are the inventory's; give no file: bandwright strip %s --drop %s",
                             a->tool, which);
    }
    shop_edit edit;
    char *was;
    shop_problems problems;
    shop_problems_init(&problems, desk_file(d));
    int status = SHOP_BAD_FILE;
    if (!desk_strip_out(d, tool, (size_t)n - 1, &edit, &was, title)) {
        status = verb_complain("out of memory");
    } else if (desk_edit_many(d, &edit, 1, title, &problems) && (status = save(d)) == 0) {
        char clean[400];
        shop_clean(was, strlen(was), clean, sizeof clean);
        printf("taken out: %s\n", clean);
    }
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    shop_edit_free(&edit);
    free(was);
    return status;
}

static int tell(asking *a, desk *d, const verb_args *args) {
    int tool = take_rule(a, args, desk_project(d)->units) ? find_tool(a, desk_project(d)) : -1;
    const char *drop = args->given[VERB_DROP];
    int status = tool < 0       ? VERB_USAGE
                 : drop != NULL ? drop_strip(a, d, tool, drop)
                 : a->any       ? add_strip(a, d, tool)
                                : 0;
    if (status != 0) {
        return status;
    }
    if (args->given[VERB_ADD] != NULL && (status = save(d)) != 0) {
        return status;
    }
    const shop_project *project = desk_project(d);
    tool = find_tool(a, project);
    errno = 0;
    if (tool < 0 || !show_hand_text(stdout, project, (size_t)tool, a->rule)) {
        verb_complain_of_output(errno, "what the strips tell");
        return SHOP_CANNOT_WRITE;
    }
    return 0;
}

static desk *open_inventory(const verb_args *args, int *status) {
    shop_problems problems;
    shop_status opened = SHOP_OK;
    shop_problems_init(&problems, args->given[VERB_INVENTORY] != NULL ? args->given[VERB_INVENTORY] : "inventory");
    desk *d = desk_open_inventory(args->given[VERB_INVENTORY], &problems, &opened);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    *status = d != NULL ? 0 : (int)opened;
    return d;
}

int verb_strip(const verb_args *args) {
    asking a = {.file = NULL};
    int status;
    if (!take_operands(&a, args) || !take_options(&a, args)) {
        return VERB_USAGE;
    }
    desk *d = a.file != NULL ? verb_open(a.file, args, &status) : open_inventory(args, &status);
    if (d == NULL) {
        return status;
    }
    status = tell(&a, d, args);
    desk_close(d);
    return status;
}

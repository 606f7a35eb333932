/* plan.c - `plan FILE...`: the plan as text, yaml or csv. */
#include <errno.h>
#include <string.h>

#include "show/show.h"
#include "verbs/verbs.h"

typedef bool (*plan_writer)(FILE *to, const char *file, const shop_project *project, const bw_plan *plan);

/* The plan of one file; file: one of several, NULL if it is the only one. */
static bool write_text(FILE *to, const char *file, const shop_project *project, const bw_plan *plan) {
    (void)file;
    return show_plan_text(to, project, plan);
}

static bool write_yaml(FILE *to, const char *file, const shop_project *project, const bw_plan *plan) {
    if (file != NULL) {
        char clean[1024];
        shop_clean(file, strlen(file), clean, sizeof clean);
        fprintf(to, "--- # %s\n", clean);
    }
    return show_plan_yaml(to, project, plan);
}

static bool write_csv(FILE *to, const char *file, const shop_project *project, const bw_plan *plan) {
    return show_placings(to, file, project, plan);
}

static const struct format {
    const char *name;
    plan_writer write;
    const char *between; /* what parts one from the next */
} formats[] = {{"text", write_text, "\f"}, {"yaml", write_yaml, ""}, {"csv", write_csv, ""}};

static const struct format *format_of(const char *name) {
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        if (name == NULL || strcmp(name, formats[i].name) == 0) {
            return &formats[i];
        }
    }
    return NULL;
}

/* *written: plans written before this one. */
static int plan_one(const verb_args *args, const char *file, const struct format *format, int *written) {
    bool several = args->operand_count > 1;
    int status;
    desk *d = verb_open(file, args, &status);
    if (d == NULL) {
        return status;
    }
    errno = 0;
    bool fine = format->write != write_csv || *written > 0 || show_placings_head(stdout, several);
    fputs(*written > 0 ? format->between : "", stdout);
    if (!fine || !format->write(stdout, several ? file : NULL, desk_project(d), desk_plan(d))) {
        verb_complain_of_output(errno, "the plan");
        status = SHOP_CANNOT_WRITE;
    } else {
        status = bw_plan_works(desk_plan(d)) ? VERB_FITS : VERB_DOES_NOT_FIT;
        ++*written;
    }
    desk_close(d);
    return status;
}

int verb_plan(const verb_args *args) {
    if (args->sweep_count > 0 && args->given[VERB_TOLERANCE] != NULL) {
        return verb_complain("a table of --sweep tells of no --tolerance");
    }
    if (args->sweep_count > 0) {
        return verb_sweep(args);
    }
    const struct format *format = format_of(args->given[VERB_FORMAT]);
    if (format == NULL) {
        return verb_complain("there is no format %s; it can be text, yaml or csv", args->given[VERB_FORMAT]);
    }
    if (args->given[VERB_TOLERANCE] != NULL && format->write != write_text) {
        return verb_complain("--tolerance is told of on the page alone: --format text");
    }
    int worst = VERB_FITS, written = 0;
    for (int i = 0; i < args->operand_count && worst != SHOP_CANNOT_WRITE; i++) {
        int status = plan_one(args, args->operands[i], format, &written);
        worst = status > worst ? status : worst;
    }
    return worst;
}

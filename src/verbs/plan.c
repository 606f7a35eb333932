/* plan.c - `plan FILE`: the plan as text, yaml or csv. */
#include <errno.h>
#include <string.h>

#include "show/show.h"
#include "verbs/verbs.h"

typedef bool (*plan_writer)(FILE *to, const shop_project *project, const bw_plan *plan);

static plan_writer writer_of(const char *format) {
    static const struct {
        const char *name;
        plan_writer write;
    } formats[] = {{"text", show_plan_text}, {"yaml", show_plan_yaml}, {"csv", show_plan_csv}};
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        if (format == NULL || strcmp(format, formats[i].name) == 0) {
            return formats[i].write;
        }
    }
    return NULL;
}

int verb_plan(const verb_args *args) {
    plan_writer write = writer_of(args->given[VERB_FORMAT]);
    if (write == NULL) {
        return verb_complain("there is no format %s; it can be text, yaml or csv", args->given[VERB_FORMAT]);
    }
    int status;
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL) {
        return status;
    }
    errno = 0;
    if (!write(stdout, desk_project(d), desk_plan(d))) {
        verb_complain_of_output(errno, "the plan");
        status = SHOP_CANNOT_WRITE;
    } else {
        status = bw_plan_works(desk_plan(d)) ? VERB_FITS : VERB_DOES_NOT_FIT;
    }
    desk_close(d);
    return status;
}

/* verbs/verbs.h - the command line: one table of verbs, one file a verb.
 *
 * Help, usage errors and shell completion come from the table in verbs.c. A handler gets what was parsed and returns
 * the exit status; it writes results to standard output and messages to standard error, and main checks that standard
 * output could be written.
 */
#ifndef VERBS_VERBS_H
#define VERBS_VERBS_H

#include <stdbool.h>
#include <stdio.h>

#include "desk/desk.h"
#include "shop/shop.h"

/* Exit status beside those of shop_status. */
enum { VERB_FITS = 0, VERB_DOES_NOT_FIT = 1, VERB_USAGE = 2 };

/* The options of the command line. */
typedef enum verb_option_id {
    VERB_HELP,
    VERB_VERSION,
    VERB_COMPLETIONS,
    VERB_INVENTORY,
    VERB_FORMAT,
    VERB_KEYS,
    VERB_SCREEN,
    VERB_SIZE,
    VERB_ASPECT,
    VERB_DRAWING,
    VERB_KEYS_FILE,
    VERB_MOUSE,
    VERB_OUT,
    VERB_PAPER,
    VERB_IMPRESSIONS,
    VERB_MIRROR,
    VERB_SWEEP,
    VERB_WIDTH,
    VERB_RULE,
    VERB_ADD,
    VERB_DROP,
    VERB_STRUCK,
    VERB_LEFT,
    VERB_RUN,
    VERB_TOLERANCE,
    VERB_MARKS,
    VERB_WITHIN,
    VERB_LIMIT,
    VERB_ONLY,
    VERB_ANSWERS,
    VERB_HOW_WELL,
    VERB_CHANGES,
    VERB_TRIALS,
    VERB_OPTION_COUNT
} verb_option_id;

typedef struct verb_option {
    const char *name;  /* without the dashes */
    char letter;       /* short form, 0 for none */
    const char *value; /* what stands for its value in help; NULL if it takes none */
    const char *help;
} verb_option;

typedef struct verb_args {
    const char *given[VERB_OPTION_COUNT]; /* the value of an option ("" if it takes none), NULL if it was not given */
    const char **sweeps;                  /* every value of --sweep, in order */
    int sweep_count;
    char **operands; /* NULL-terminated */
    int operand_count;
} verb_args;

typedef struct verb {
    const char *name;              /* NULL for the workbench, which needs none */
    const char *operands;          /* "FILE [BAND]" */
    const char *help;              /* one line */
    const char *more;              /* what --help adds */
    int least, most;               /* operands; most < 0 = any number */
    const verb_option_id *options; /* beside --help, with VERB_OPTION_COUNT behind the last */
    int (*run)(const verb_args *args);
} verb;

const verb *verb_table(size_t *count);
const verb *verb_find(const char *name);             /* NULL if it is no verb */
const verb_option *verb_options(void);               /* VERB_OPTION_COUNT of them */
bool verb_has(const verb *which, verb_option_id id); /* every verb has --help */

/* Finds the verb among the arguments and runs it. The whole program. */
int verb_main(int argc, char **argv);

/* Sorts arguments into options and operands by the POSIX rules (options may also follow operands; -- ends them).
 * *verb_name is the first operand if it names a verb. False after a message about what is wrong. args->operands and
 * args->sweeps are malloc'ed. */
bool verb_parse(int argc, char **argv, verb_args *args, const verb **which);
void verb_help(FILE *to, const verb *which); /* NULL: of the whole program */
void verb_completions(FILE *to);             /* a script for bash */

/* `bandwright: ...` on standard error, cleaned; returns VERB_USAGE. */
__attribute__((format(printf, 1, 2))) int verb_complain(const char *format, ...);

/* That something cannot be written, and why; says nothing if the reader just went away, as `head` does. */
void verb_complain_of_output(int error, const char *what);

/* Opens a layout with the inventory and the tolerance of args; NULL after all messages, with the exit status in
 * *status. */
desk *verb_open(const char *file, const verb_args *args, int *status);
/* The band of this name, or a message and SIZE_MAX. */
size_t verb_band(const shop_project *project, const char *file, const char *name);
/* Splits `PATH=VALUE` into edit's path and new_text (malloc'ed); false after a message. */
bool verb_assignment(const char *operand, shop_edit *edit);
/* The first path of a drawing file, with notes of what is left out; 0, or the exit status after all messages. */
int verb_drawing(const char *file, bool scale_given, shop_drawing *drawing);
/* The shape that the given outline.* values tell of where outline.shape is not among them, else NULL. 0, or the exit
 * status after a message if they belong to different shapes or to more than one. */
int verb_new_shape(const verb_args *args, const char **shape);

int verb_workbench(const verb_args *args); /* FILE or nothing, --keys, --screen, --size and others */
int verb_plan(const verb_args *args);
/* `plan --sweep`: every combination of values, for every file. */
int verb_sweep(const verb_args *args);
int verb_card(const verb_args *args);
int verb_picture(const verb_args *args);
int verb_fit(const verb_args *args);
int verb_template(const verb_args *args);
int verb_strip(const verb_args *args);
int verb_rest(const verb_args *args); /* FILE, BAND, --struck, --left, --run */
int verb_marks(const verb_args *args);
int verb_even(const verb_args *args);
int verb_get(const verb_args *args);
int verb_set(const verb_args *args);
int verb_new(const verb_args *args);

#endif

/* marks.c - `marks FILE [BAND]`: check marks, how surely a round closes with them, and where they lie. */
#include <errno.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "show/show.h"
#include "verbs/verbs.h"

/* -1: not given. */
static bool marks_given(const verb_args *args, int *marks) {
    const char *text = args->given[VERB_MARKS];
    *marks = -1;
    if (text == NULL)
        return true;
    size_t digits = strspn(text, "0123456789");
    if (digits > 0 && digits < 4 && text[digits] == '\0')
        *marks = atoi(text);
    if (*marks >= 0 && *marks <= BW_MARKS_MOST)
        return true;
    verb_complain("--marks %s: it can be a whole number from 0 to %d", text, BW_MARKS_MOST);
    return false;
}

/* Every band that is struck, or the one that is named. */
static int tell(desk *d, size_t only, int marks) {
    const bw_plan *plan = desk_plan(d);
    int told = 0;
    for (size_t band = 0; band < plan->band_count; band++) {
        if (only == SIZE_MAX ? plan->bands[band].fill == BW_FILL_PLAIN : band != only)
            continue;
        if (told++ > 0)
            putchar('\n');
        errno = 0;
        if (!show_marks_text(stdout, desk_project(d), plan, band, marks)) {
            verb_complain_of_output(errno, "the check marks");
            return SHOP_CANNOT_WRITE;
        }
    }
    if (told == 0)
        puts("No band is struck.");
    return 0;
}

int verb_marks(const verb_args *args) {
    int status, marks;
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL)
        return status;
    size_t only = SIZE_MAX;
    if (!marks_given(args, &marks))
        status = VERB_USAGE;
    if (status == 0 && args->operand_count > 1) {
        only = verb_band(desk_project(d), args->operands[0], args->operands[1]);
        if (only == SIZE_MAX)
            status = VERB_USAGE;
        else if (desk_plan(d)->bands[only].fill == BW_FILL_PLAIN)
            status = verb_complain("band %s is plain: nothing is struck in it", args->operands[1]);
    }
    if (status == 0)
        status = tell(d, only, marks);
    desk_close(d);
    return status;
}

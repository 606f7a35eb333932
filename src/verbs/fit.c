/* fit.c - `fit FILE [BAND]`: the stamps of project and inventory ranked for a band. */
#include <errno.h>
#include <stdint.h>
#include <string.h>

#include "show/show.h"
#include "verbs/verbs.h"

/* The status of one band: 0 if some stamp is good or tight. */
static int rank_band(desk *d, size_t band, bool stamp) {
    size_t count;
    const bw_rank *ranks = desk_ranks(d, band, &count);
    errno = 0;
    if ((ranks == NULL && count > 0) ||
        !show_fit_text(stdout, desk_project(d), desk_plan(d), band, ranks, count, stamp)) {
        verb_complain_of_output(errno, "the ranking");
        return SHOP_CANNOT_WRITE;
    }
    return count > 0 && ranks[0].verdict >= BW_TIGHT ? VERB_FITS : VERB_DOES_NOT_FIT;
}

static int rank_all(desk *d) {
    const bw_layout *layout = &desk_project(d)->layout;
    int worst = VERB_FITS, ranked = 0;
    for (size_t band = 0; band < layout->band_count && worst != SHOP_CANNOT_WRITE; band++) {
        if (layout->bands[band].tool >= 0) {
            if (ranked++ > 0) {
                putchar('\n');
            }
            int status = rank_band(d, band, false);
            worst = status > worst ? status : worst;
        }
    }
    if (ranked == 0) {
        puts("No band has a tool.");
    }
    return worst;
}

int verb_fit(const verb_args *args) {
    int status;
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL) {
        return status;
    }
    if (args->operand_count == 1) {
        status = rank_all(d);
    } else {
        size_t band = verb_band(desk_project(d), args->operands[0], args->operands[1]);
        bw_kind kind;
        if (band == SIZE_MAX) {
            status = VERB_USAGE;
        } else if (!bw_fill_kind(desk_project(d)->layout.bands[band].fill, &kind)) {
            status = verb_complain("band %s is plain: it needs no tool", args->operands[1]);
        } else {
            status = rank_band(d, band, true);
        }
    }
    desk_close(d);
    return status;
}

/* `plan --format csv`: every impression, after RFC 4180: commas, CRLF, quotes doubled. */
#include <errno.h>
#include <string.h>

#include "show/inner.h"

void show_csv_field(FILE *to, const char *text) {
    if (!text[strcspn(text, ",\"\r\n")]) {
        fputs(text, to);
        return;
    }
    fputc('"', to);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', to);
        fputc(*text, to);
    }
    fputc('"', to);
}

static void placing(FILE *to, const char *file, const char *band, const bw_placing *one) {
    if (file) {
        show_csv_field(to, file);
        fputc(',', to);
    }
    show_csv_field(to, band);
    fprintf(to, ",%d,%d,%d", one->row, one->run, one->number);
    const double figures[] = {one->at.x, one->at.y, one->turn * (180.0 / BW_PI), one->along, one->cover};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        fprintf(to, ",%s", show_number(figures[i]).text);
    fputs("\r\n", to);
}

bool show_placings_head(FILE *to, bool with_file) {
    fputs(with_file ? "file,band,row,run,number,x,y,turn,along,cover\r\n"
                    : "band,row,run,number,x,y,turn,along,cover\r\n",
          to);
    return !ferror(to);
}

bool show_placings(FILE *to, const char *file, const shop_project *project, const bw_plan *plan) {
    for (size_t band = 0; band < plan->band_count; band++) {
        if (plan->bands[band].fill == BW_FILL_PLAIN)
            continue;
        bw_placing *list;
        size_t count;
        if (bw_placings_create(plan, band, NULL, &list, &count) != BW_OK) {
            errno = ENOMEM;
            return false;
        }
        for (size_t i = 0; i < count; i++)
            placing(to, file, show_band_name(project, band), &list[i]);
        bw_placings_release(list, NULL);
    }
    return fflush(to) == 0 && !ferror(to);
}

bool show_plan_csv(FILE *to, const shop_project *project, const bw_plan *plan) {
    return show_placings_head(to, false) && show_placings(to, NULL, project, plan);
}

/* recent_users.c - which of the files that were open lately would miss a tool of the inventory. */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"
#include "shop/text.h"

/* Has it a band of this tool, or dividers, and no copy of its own? */
static bool reads_it(const shop_text *text, const char *id) {
    char path[40 + BW_NAME_MOST * 4], *own, *found = NULL;
    snprintf(path, sizeof path, "tools.%.160s", id);
    own = shop_text_get(text, path);
    bool reads = false;
    for (int i = 0; own == NULL && i <= BW_BANDS_MOST && !reads; i++) {
        snprintf(path, sizeof path, i == 0 ? "dividers" : "bands[%d].tool", i);
        found = shop_text_get(text, path);
        reads = found != NULL && strcmp(found, id) == 0;
        free(found);
    }
    free(own);
    return reads;
}

static bool file_reads_it(const char *file, const char *id) {
    char *bytes = NULL;
    size_t length = 0;
    shop_problems quiet;
    shop_problems_init(&quiet, file);
    shop_text *text =
        shop_read(file, &bytes, &length, &quiet) == SHOP_OK ? shop_text_read(bytes, length, &quiet) : NULL;
    bool reads = text != NULL && reads_it(text, id);
    shop_text_free(text);
    shop_problems_free(&quiet);
    free(bytes);
    return reads;
}

void recent_users(const bench *b, const char *id, char out[200]) {
    size_t length = 0, used = 0;
    char *bytes = recent_bytes(b, &length), *rest = bytes;
    const char *open = b->desk == NULL || desk_file(b->desk) == NULL ? NULL : desk_file(b->desk);
    char *here = open == NULL ? NULL : realpath(open, NULL);
    out[0] = '\0';
    for (char *file; bytes != NULL && (file = strsep(&rest, "\n")) != NULL && used < 140;) {
        if (file[0] == '\0' || (here != NULL && strcmp(file, here) == 0) || !file_reads_it(file, id)) {
            continue;
        }
        const char *slash = strrchr(file, '/');
        used +=
            (size_t)snprintf(out + used, 200 - used, "%s%.50s", used > 0 ? ", " : "", slash != NULL ? slash + 1 : file);
    }
    free(here);
    free(bytes);
}

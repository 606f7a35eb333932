/* fuzz_keys.c - any keys on the workbench, at any size of window: nothing falls. */
#include <string.h>
#include <unistd.h>

#include "bench/bench.h"
#include "fuzz/memory.h"

static const char start[] = "bandwright-project: 1\n"
                            "outline: {shape: circle, diameter: 120}\n"
                            "bands:\n"
                            "  - {name: weave, space: 4, width: 15, fill: basket, tool: b9}\n"
                            "tools:\n"
                            "  - {id: b9, kind: basket, length: 9}\n";

/* Mostly keys that do something. Saving, opening and leaving are left out: nothing here may touch a disk. */
static int key_of(uint8_t byte) {
    static const int special[] = {
        BENCH_KEY_ENTER,  BENCH_KEY_ESC, BENCH_KEY_TAB,     BENCH_KEY_BACKTAB,   BENCH_KEY_BACKSPACE,
        BENCH_KEY_DELETE, BENCH_KEY_UP,  BENCH_KEY_DOWN,    BENCH_KEY_LEFT,      BENCH_KEY_RIGHT,
        BENCH_KEY_HOME,   BENCH_KEY_END, BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN, ' ',
        BENCH_KEY_UNKNOWN};
    if (byte >= 0x80)
        return special[byte % (sizeof special / sizeof special[0])];
    return byte < ' ' || byte == 0x7F || strchr("sSoOq", byte) != NULL ? BENCH_KEY_NONE : byte;
}

static bool write_file(const char *name) {
    FILE *file = fopen(name, "w");
    if (file == NULL)
        return false;
    bool fine = fputs(start, file) >= 0;
    return fclose(file) == 0 && fine;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    enum { KEYS_MOST = 200 };
    char name[64];
    snprintf(name, sizeof name, "/tmp/bandwright-fuzz-%ld.yaml", (long)getpid());
    const bench_places places = {NULL, NULL, NULL};
    shop_problems problems;
    shop_status status;
    show_grid grid;
    shop_problems_init(&problems, name);
    bench *b = size > 2 && write_file(name) ? bench_create(name, &places, &problems, &status) : NULL;
    if (b != NULL && show_grid_init(&grid, 1 + data[0] % 130, 1 + data[1] % 50, data[0] % 2 == 0)) {
        for (size_t i = 2; i < size && i < KEYS_MOST; i++) {
            int key = key_of(data[i]);
            if (key == BENCH_KEY_NONE || (bench_key(b, key) & BENCH_QUIT) != 0)
                continue;
            bench_draw(b, &grid);
            if (data[i] % 2 != 0)
                (void)bench_idle(b);
        }
        show_grid_free(&grid);
    }
    bench_destroy(b);
    unlink(name);
    shop_problems_free(&problems);
    return 0;
}

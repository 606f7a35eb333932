/* check_random.c - rows of keys at random, of fixed seeds, against a model: after each key the plan shown is, to the
 * letter, that of the text computed afresh; the screen is drawn at the size the window then has; undo leads back to the
 * first byte. Keys come from the one table of commands, so that every screen is visited as soon as it is there.
 *
 * BW_ROWS=N runs N rows of each kind from seed BW_FIRST on (tests/soak.sh); usually four, as this takes its time. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_random_suite(void);

enum { KEYS = 1000 };

static unsigned next_random(unsigned *state) {
    *state = *state * 1664525u + 1013904223u; /* any constants of a full period would do */
    return *state >> 8;
}

static int named_key(unsigned *state) {
    static const int named[] = {BENCH_KEY_ENTER,       BENCH_KEY_ESC,      BENCH_KEY_TAB,       BENCH_KEY_BACKTAB,
                                BENCH_KEY_UP,          BENCH_KEY_DOWN,     BENCH_KEY_LEFT,      BENCH_KEY_RIGHT,
                                BENCH_KEY_HOME,        BENCH_KEY_END,      BENCH_KEY_PAGE_UP,   BENCH_KEY_PAGE_DOWN,
                                BENCH_KEY_DOWN,        BENCH_KEY_UP,       BENCH_KEY_BACKSPACE, BENCH_KEY_DELETE,
                                BENCH_KEY_RIGHT,       BENCH_KEY_ESC,      BENCH_KEY_UNKNOWN,   BENCH_KEY_REPAINT,
                                BENCH_KEY_PASTE_BEGIN, BENCH_KEY_PASTE_END};
    int key = named[next_random(state) % (sizeof named / sizeof named[0])];
    bool pasted = key == BENCH_KEY_PASTE_BEGIN; /* which swallows all until its end */
    return pasted && next_random(state) % 8 != 0 ? BENCH_KEY_ESC : key;
}

static int letter_key(unsigned *state) {
    static const char letters[] = "1234567890. /%-inm\"'#:{}[]x\x01~|\x7f";
    return (unsigned char)letters[next_random(state) % (sizeof letters - 1)];
}

/* A key of a command that works on the screen as it is; a letter where there is none. */
static int key_of_screen(const bench *b, unsigned *state) {
    size_t count, there = 0;
    const bench_command *table = bench_commands(&count);
    unsigned where = 1u << bench_where(b);
    for (size_t i = 0; i < count; i++) {
        there += (table[i].where & where) != 0;
    }
    size_t which = there == 0 ? 0 : next_random(state) % there;
    for (size_t i = 0; i < count; i++) {
        if ((table[i].where & where) != 0 && which-- == 0) {
            int keys = 0;
            while (keys < COMMAND_KEYS && table[i].keys[keys] != BENCH_KEY_NONE) {
                keys++;
            }
            int key = keys == 0 ? BENCH_KEY_NONE : table[i].keys[next_random(state) % (unsigned)keys];
            return key == BENCH_KEY_NONE || key == BENCH_KEY_DIGIT ? letter_key(state) : key;
        }
    }
    return letter_key(state);
}

/* Would the key run this command on the screen as it is? */
static bool runs(const bench *b, int key, void (*command)(bench *b, int key)) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    for (size_t i = 0; i < count; i++) {
        for (int k = 0; k < COMMAND_KEYS; k++) {
            if (table[i].run == command && (table[i].where & 1u << bench_where(b)) != 0 && table[i].keys[k] == key) {
                return true;
            }
        }
    }
    return false;
}

/* Would the key close the layout? */
static bool leaves(const bench *b, int key) {
    bool chosen = b->screen == BENCH_COMMANDS && key == BENCH_KEY_ENTER; /* whichever is chosen there */
    return chosen || runs(b, key, do_quit) || runs(b, key, do_start) || runs(b, key, do_open);
}

static int random_key(const bench *b, unsigned *state) {
    unsigned which = next_random(state) % 100;
    int key = which < 55 ? key_of_screen(b, state) : which < 85 ? named_key(state) : letter_key(state);
    /* A picture takes as long as thousands of keys, and changes nothing of the layout: one in sixteen is enough. */
    return runs(b, key, do_picture) && next_random(state) % 16 != 0 ? BENCH_KEY_ESC : key;
}

/* ---- the model ---- */

static char *plan_text(const shop_project *project, const bw_plan *plan) {
    char *text = NULL;
    size_t size;
    FILE *to = open_memstream(&text, &size);
    ck_assert_ptr_nonnull(to);
    ck_assert(show_plan_yaml(to, project, plan));
    ck_assert_int_eq(fclose(to), 0);
    return text;
}

/* The plan of a text, computed from its bytes, its file's name and the inventory, and what it was computed from. */
typedef struct afresh {
    char *bytes, *file, *inventory, *plan;
    size_t length, inventory_length;
} afresh;

static void forget(afresh *a) {
    free(a->bytes);
    free(a->file);
    free(a->inventory);
    free(a->plan);
    *a = (afresh){0};
}

static char *copy_of(const char *bytes, size_t length) {
    char *copy = malloc(length + 1);
    ck_assert_ptr_nonnull(copy);
    if (length > 0) {
        memcpy(copy, bytes, length);
    }
    copy[length] = '\0';
    return copy;
}

static char *plan_afresh(const desk *d, int number) {
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    shop_problems problems;
    shop_problems_init(&problems, "afresh");
    shop_project *project = shop_project_read(bytes, length, desk_file(d), desk_inventory(d), &problems);
    if (problems.errors > 0) {
        shop_problems_print(&problems, stderr);
    }
    ck_assert_msg(project != NULL, "after key %d the text cannot be read", number);
    bw_plan *plan = NULL;
    ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
    char *text = plan_text(project, plan);
    bw_plan_destroy(plan);
    shop_project_free(project);
    shop_problems_free(&problems);
    return text;
}

/* The plan shown is the plan of the text shown, computed anew from its bytes. What was computed of the very same bytes
 * after the key before still stands, as planning always does the same with them. */
static void shows_the_truth(const bench *b, afresh *last, int number) {
    const desk *d = bench_desk(b);
    if (d == NULL) {
        return;
    }
    size_t length, inventory_length = 0;
    const char *bytes = desk_bytes(d, &length), *file = desk_file(d) != NULL ? desk_file(d) : "";
    const shop_inventory *inventory = desk_inventory(d);
    const char *tools = inventory != NULL ? shop_text_bytes(inventory->text, &inventory_length) : "";
    bool same = last->plan != NULL && last->length == length && memcmp(last->bytes, bytes, length) == 0 &&
                strcmp(last->file, file) == 0 && last->inventory_length == inventory_length &&
                memcmp(last->inventory, tools, inventory_length) == 0;
    if (!same) {
        forget(last);
        *last = (afresh){.bytes = copy_of(bytes, length),
                         .file = copy_of(file, strlen(file)),
                         .inventory = copy_of(tools, inventory_length),
                         .plan = plan_afresh(d, number),
                         .length = length,
                         .inventory_length = inventory_length};
    }
    char *shown = plan_text(desk_project(d), desk_plan(d));
    ck_assert_msg(strcmp(shown, last->plan) == 0, "after key %d another plan is shown than the text's", number);
    free(shown);
}

/* Drawn at the size that the window has: the cursor lies in it, and no cell holds what no terminal should get. */
static void draw(bench *b, bench_size size) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, size.width, size.height, true));
    bench_draw(b, &grid);
    ck_assert(grid.width == size.width && grid.height == size.height);
    ck_assert(grid.cursor_x < size.width && grid.cursor_y < size.height);
    uint32_t bad = 0;
    for (int i = 0; i < size.width * size.height; i++) {
        uint32_t code = grid.cells[i].code;
        bool fine = code == 0 || (code >= ' ' && code != 0x7F && !(code >= 0x80 && code < 0xA0));
        bad = fine ? bad : code;
    }
    ck_assert_msg(bad == 0, "a cell of %X", (unsigned)bad);
    show_grid_free(&grid);
}

/* ---- rows of keys ---- */

static const bench_size sizes[] = {{80, 24}, {1, 1}, {20, 5}, {120, 40}, {60, 18}, {33, 9}, {500, 200}};
static const char *const files[] = {"cedar-lid.yaml",  "larch-panel.yaml", "blackthorn-rosette.yaml", "maple-lid.yaml",
                                    "alder-tray.yaml", "elm-yoke.yaml",    "willow-strap.yaml"};
enum { SIZES = sizeof sizes / sizeof sizes[0], FILES = sizeof files / sizeof files[0] };

/* Windows are pulled larger and smaller meanwhile; a huge one seldom, as it takes its time. */
static bench_size next_size(bench_size now, unsigned *state) {
    if (next_random(state) % 40 != 0) {
        return now;
    }
    return sizes[next_random(state) % (next_random(state) % 8 == 0 ? SIZES : SIZES - 1)];
}

static void press_at_random(bench *b, unsigned seed, bool stay) {
    unsigned state = seed;
    bench_size size = sizes[seed % SIZES];
    afresh last = {0};
    for (int i = 0; i < KEYS; i++) {
        int key = random_key(b, &state);
        if (stay && leaves(b, key)) {
            key = BENCH_KEY_ESC;
        }
        if (next_random(&state) % 50 == 0 && !(stay && b->screen == BENCH_COMMANDS)) {
            (void)bench_pointer(b, (bench_pointer_act)(next_random(&state) % 3), (int)(next_random(&state) % 90),
                                (int)(next_random(&state) % 30));
        } else {
            (void)bench_key(b, key);
        }
        size = next_size(size, &state);
        if (size.width < 200 || i % 10 == 0) {
            draw(b, size);
        }
        shows_the_truth(b, &last, i);
        if (next_random(&state) % 2 == 0) { /* a hand that waits */
            (void)bench_idle(b);
        }
    }
    forget(&last);
}

/* One step back; where the layout of then used a tool that the inventory has since given away, that comes back first.
 */
static bool one_back(bench *b) {
    while (!desk_undo(b->desk, NULL)) {
        if (desk_last(b->desk) == NULL || b->stock == NULL || !desk_undo(b->stock, NULL)) {
            return false;
        }
        (void)desk_use_inventory(b->desk, b->stock, NULL);
    }
    return true;
}

/* The same layout stays open. */
static void row_and_back(unsigned seed) {
    bench *b = hands_open(files[seed % FILES]);
    const desk *opened = bench_desk(b);
    char *before = hands_bytes(b);
    press_at_random(b, seed, true);
    ck_assert_ptr_eq(bench_desk(b), opened);
    int undone = 0;
    while (one_back(b)) {
        undone++;
    }
    ck_assert_msg(undone > 0, "row %u: nothing was changed", seed);
    char *after = hands_bytes(b);
    ck_assert_msg(strcmp(before, after) == 0, "row %u: undo leads to\n%s", seed, after);
    afresh none = {0};
    shows_the_truth(b, &none, -1);
    forget(&none);
    free(after);
    free(before);
    bench_destroy(b);
}

START_TEST(the_way_back) {
    row_and_back((unsigned)_i);
}
END_TEST

/* With everything: files opened, new pieces, questions. */
START_TEST(nothing_falls) {
    unsigned seed = (unsigned)_i;
    bench *b = hands_open(seed % 2 == 0 ? NULL : files[seed % FILES]);
    press_at_random(b, seed + 7919, false);
    bench_destroy(b);
}
END_TEST

static int number_of(const char *variable, int usual) {
    const char *text = getenv(variable);
    return text != NULL ? atoi(text) : usual;
}

Suite *bench_random_suite(void) {
    Suite *suite = suite_create("keys at random");
    TCase *tests = tcase_create("random");
    int first = number_of("BW_FIRST", 0), rows = number_of("BW_ROWS", 4);
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, the_way_back, first, first + rows);
    tcase_add_loop_test(tests, nothing_falls, first, first + rows);
    suite_add_tcase(suite, tests);
    return suite;
}

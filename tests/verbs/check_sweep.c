/* check_sweep.c - plan over several files at once, and with one value after the other. */
#include <check.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_sweep_suite(void);

static const char lid[] = "bandwright-project: 1\n"
                          "piece: Round lid\n"
                          "outline: {shape: circle, diameter: 120}\n"
                          "bands:\n"
                          "  - {name: rim, space: 4, width: 6, fill: border, tool: s}\n"
                          "  - {name: inner weave, width: 16, fill: basket, tool: b, outer: {line: cut}}\n"
                          "tools:\n"
                          "  - {id: s, kind: border, length: 5, width: 5}\n"
                          "  - {id: b, kind: basket, length: 9, width: 4.6, bar: 2.8, rail: 1.3}\n";

static void begin(void) {
    spawn_begin();
    spawn_write("lid.yaml", lid, strlen(lid));
}

static int occurrences(const char *text, const char *part) {
    int count = 0;
    for (const char *at = text; (at = strstr(at, part)) != NULL; at += strlen(part)) {
        count++;
    }
    return count;
}

/* ---- a table read after RFC 4180 ---- */

enum { COLUMNS = 24, LINES = 400 };

typedef struct table {
    char *cells[LINES][COLUMNS];
    int columns[LINES], lines;
} table;

static table *read_table(const char *text) {
    table *t = calloc(1, sizeof *t);
    ck_assert_ptr_nonnull(t);
    while (*text != '\0') {
        ck_assert_int_lt(t->lines, LINES);
        for (bool more = true; more; t->columns[t->lines]++) {
            char cell[2000];
            size_t length = 0;
            bool quoted = *text == '"';
            text += quoted;
            while (quoted ? *text != '"' || text[1] == '"' : *text != ',' && *text != '\r') {
                ck_assert(*text != '\0' && length < sizeof cell - 1);
                text += quoted && *text == '"';
                cell[length++] = *text++;
            }
            text += quoted;
            cell[length] = '\0';
            ck_assert_int_lt(t->columns[t->lines], COLUMNS);
            t->cells[t->lines][t->columns[t->lines]] = strdup(cell);
            more = *text == ',';
            ck_assert_msg(more || strncmp(text, "\r\n", 2) == 0, "line %d ends otherwise", t->lines + 1);
            text += more ? 1 : 2;
        }
        ck_assert_int_eq(t->columns[t->lines], t->columns[0]);
        t->lines++;
    }
    return t;
}

static void free_table(table *t) {
    for (int i = 0; i < t->lines; i++) {
        for (int j = 0; j < t->columns[i]; j++) {
            free(t->cells[i][j]);
        }
    }
    free(t);
}

static const char *cell(const table *t, int line, const char *column) {
    for (int j = 0; j < t->columns[0]; j++) {
        if (strcmp(t->cells[0][j], column) == 0) {
            return t->cells[line][j];
        }
    }
    ck_abort_msg("no column %s", column);
}

/* ---- a plan of its own for every line ---- */

/* What follows "KEY: " in a text, after a place in it. */
static const char *after_key(const char *from, const char *key, char out[64]) {
    char wanted[40];
    snprintf(wanted, sizeof wanted, "%s: ", key);
    const char *at = strstr(from, wanted);
    ck_assert_msg(at != NULL, "no %s", key);
    snprintf(out, 64, "%.*s", (int)strcspn(at + strlen(wanted), ",}\n"), at + strlen(wanted));
    return out;
}

static void line_is_the_plans(const table *t, int line, const char *yaml) {
    static const char *const runs[] = {"count", "step", "usual-step", "closure-gap", "step-change"};
    static const char *const fits[] = {"verdict", "reach", "crowd", "bend"};
    char head[80], is[64];
    snprintf(head, sizeof head, "- band: %s\n", cell(t, line, "band"));
    const char *band = strstr(yaml, head);
    ck_assert_ptr_nonnull(band);
    for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++) {
        ck_assert_str_eq(cell(t, line, runs[i]), after_key(strstr(band, "runs:"), runs[i], is));
    }
    for (size_t i = 0; i < sizeof fits / sizeof fits[0]; i++) {
        ck_assert_str_eq(cell(t, line, fits[i]), after_key(strstr(band, "    fit: {"), fits[i], is));
    }
    const char *bare = strstr(band, "    bare: {");
    ck_assert_str_eq(cell(t, line, "bare-outer"), after_key(bare, "outer", is));
    ck_assert_str_eq(cell(t, line, "bare-inner"), after_key(bare, "inner", is));
    ck_assert_str_eq(cell(t, line, "strikes"), after_key(band, "strikes", is));
    ck_assert_str_eq(cell(t, line, "run"), "1");
    ck_assert_str_eq(cell(t, line, "refused"), "");
}

/* Every line must say what a plan of a file with that value says. */
START_TEST(a_line_is_a_plan_of_its_own) {
    const spawned *run = spawn("$BW plan lid.yaml --sweep 'bands.inner weave.width=14:40:6.5'");
    ck_assert_msg(run->status == 0 && run->err[0] == '\0', "%d %s", run->status, run->err);
    table *t = read_table(run->out);
    ck_assert_int_eq(t->lines, 1 + 5 * 2);
    for (int line = 1; line < t->lines; line++) {
        char wanted[16];
        snprintf(wanted, sizeof wanted, "%g", 14 + 6.5 * ((line - 1) / 2));
        ck_assert_str_eq(cell(t, line, "bands.inner weave.width"), wanted);
        ck_assert_str_eq(cell(t, line, "file"), "lid.yaml");
        ck_assert_str_eq(cell(t, line, "band"), line % 2 == 1 ? "rim" : "inner weave");
        run = spawn("cp lid.yaml one.yaml && $BW set one.yaml 'bands.inner weave.width=%s' && $BW plan -fyaml one.yaml",
                    wanted);
        line_is_the_plans(t, line, run->out);
    }
    /* nothing was written */
    size_t length;
    char *now = spawn_read("lid.yaml", &length);
    ck_assert_str_eq(now, lid);
    free(now);
    ck_assert_str_eq(spawn("ls")->out, "lid.yaml\none.yaml\n");
    free_table(t);
}
END_TEST

START_TEST(all_combinations_the_first_slowest) {
    const spawned *run =
        spawn("$BW plan --sweep outline.diameter=118:120:1 --sweep 'bands.inner weave.lose=even,last 4' lid.yaml");
    ck_assert_int_eq(run->status, 0);
    table *t = read_table(run->out);
    ck_assert_int_eq(t->lines, 1 + 3 * 2 * 2);
    for (int line = 1; line < t->lines; line++) {
        int combination = (line - 1) / 2;
        ck_assert_int_eq(atoi(cell(t, line, "outline.diameter")), 118 + combination / 2);
        ck_assert_str_eq(cell(t, line, "bands.inner weave.lose"), combination % 2 == 0 ? "even" : "last 4");
    }
    /* where the difference is lost changes the margins and not the count */
    ck_assert_str_eq(cell(t, 2, "count"), cell(t, 4, "count"));
    ck_assert_str_ne(cell(t, 2, "reach"), cell(t, 4, "reach"));
    free_table(t);
}
END_TEST

static const struct {
    const char *sweep, *values; /* in order, one blank behind each | */
} written[] = {
    {"outline.diameter=100:100.5:0.1", "100|100.1|100.2|100.3|100.4|100.5|"},
    {"outline.diameter=10 cm:11 cm:5 mm", "10 cm|10.5 cm|11 cm|"},
    {"outline.diameter=4 in:4 1/4 in:1/16 in", "4 in|4.0625 in|4.125 in|4.1875 in|4.25 in|"},
    {"leather.weight=7oz:8oz:1oz", "7 oz|8 oz|"},
    {"outline.diameter=120:119:-0.4", "120|119.6|119.2|"}, /* the end is not passed */
    {"outline.diameter=120:120:0", "120|"},
    {"bands.rim.guide=40%:60%:10%", "40 %|50 %|60 %|"},
    {"bands.rim.guide=0.4:0.6:0.1", "0.4|0.5|0.6|"},
    {"bands.rim.guide=2.5 mm:3 mm:0.25 mm", "2.5 mm|2.75 mm|3 mm|"},
    {"bands.inner weave.count=36:40:2", "36|38|40|"},
    {"bands.inner weave.count=auto,[38],41", "auto|[38]|41|"},
    {"start-mark=bottom,35 mm", "bottom|35 mm|"},
};

START_TEST(values_are_written_as_they_are_typed) {
    const spawned *run = spawn("$BW plan lid.yaml --sweep '%s'", written[_i].sweep);
    ck_assert_msg(run->err[0] == '\0', "%s", run->err);
    table *t = read_table(run->out);
    const char *value = written[_i].values;
    for (int line = 1; line < t->lines; line += 2) {
        size_t length = strcspn(value, "|");
        ck_assert_msg(strlen(t->cells[line][0]) == length && memcmp(t->cells[line][0], value, length) == 0,
                      "%s: %s where %.*s should be", written[_i].sweep, t->cells[line][0], (int)length, value);
        ck_assert_str_eq(cell(t, line, "refused"), "");
        value += length + 1;
    }
    ck_assert_str_eq(value, "");
    free_table(t);
}
END_TEST

START_TEST(what_is_refused_has_its_reason_in_a_line) {
    const spawned *run = spawn("$BW plan lid.yaml --sweep 'bands.inner weave.tool=b,nobody,s' --sweep tools.b.bar=2,9");
    ck_assert_int_eq(run->status, 0);
    ck_assert_str_eq(run->err, "");
    table *t = read_table(run->out);
    ck_assert_int_eq(t->lines, 1 + 2 + 5); /* b with 2: two bands; all others refused */
    ck_assert_str_eq(cell(t, 2, "refused"), "");
    for (int line = 3; line < t->lines; line++) {
        ck_assert_str_eq(cell(t, line, "verdict"), "");
        ck_assert_str_eq(cell(t, line, "band"), "");
    }
    ck_assert_ptr_nonnull(strstr(cell(t, 3, "refused"), "tools.b.bar"));
    ck_assert_ptr_nonnull(strstr(cell(t, 4, "refused"), "nobody"));
    ck_assert_ptr_nonnull(strstr(cell(t, 5, "refused"), "; ")); /* both are wrong, both are told */
    free_table(t);
}
END_TEST

START_TEST(a_band_that_is_plain_and_a_piece_without_bands) {
    const spawned *run =
        spawn("$BW new bare.yaml outline.diameter=50 && $BW plan bare.yaml --sweep outline.diameter=9,8");
    ck_assert_int_eq(run->status, 0);
    table *t = read_table(run->out);
    ck_assert_int_eq(t->lines, 3);
    ck_assert_str_eq(cell(t, 2, "outline.diameter"), "8");
    free_table(t);
    run = spawn("$BW new plain.yaml outline.diameter=50 bands.a.width=3 && "
                "$BW plan plain.yaml --sweep bands.a.width=3:30:27");
    t = read_table(run->out);
    ck_assert_str_eq(cell(t, 1, "verdict"), "good");
    ck_assert_str_eq(cell(t, 2, "verdict"), "no room");
    ck_assert_str_eq(cell(t, 2, "count"), "");
    free_table(t);
}
END_TEST

/* The figures of a band with several runs are those of its worst, and the strikes those of all. */
START_TEST(several_runs) {
    const spawned *run = spawn("$BW plan $TREE/projects/walnut-cover.yaml --sweep bands.weave.width=12,13");
    table *t = read_table(run->out);
    ck_assert_int_eq(t->lines, 5);
    ck_assert_str_eq(cell(t, 2, "run"), "2");
    ck_assert_int_gt(atoi(cell(t, 2, "strikes")), atoi(cell(t, 2, "count")));
    free_table(t);
}
END_TEST

START_TEST(the_status_of_a_sweep) {
    ck_assert_int_eq(spawn("$BW plan lid.yaml --sweep 'bands.inner weave.width=16,55'")->status, 0);
    ck_assert_int_eq(spawn("$BW plan lid.yaml --sweep 'bands.inner weave.width=55,56'")->status, 1);
    ck_assert_int_eq(spawn("$BW plan lid.yaml --sweep tools.b.bar=9")->status, 1);
    ck_assert_int_eq(spawn("$BW plan missing lid.yaml --sweep tools.b.bar=2")->status, 66);
    ck_assert_ptr_nonnull(strstr(spawn("$BW plan missing lid.yaml --sweep tools.b.bar=2")->out, "inner weave,good"));
    ck_assert_int_eq(spawn("$BW plan lid.yaml --sweep tools.b.bar=2 > /dev/full")->status, 74);
}
END_TEST

static const struct {
    const char *words, *said;
} wrong[] = {
    {"--sweep 'bands.inner weave.width=15:25'", "FROM:TO:STEP"},
    {"--sweep 'bands.inner weave.width=15:25:0.5:1'", "FROM:TO:STEP"},
    {"--sweep 'bands.inner weave.width=15:25:0'", "never gets there"},
    {"--sweep 'bands.inner weave.width=25:15:0.5'", "leads away"},
    {"--sweep 'bands.inner weave.width=15:25:x'", "a length is written like"},
    {"--sweep 'bands.inner weave.width=0:1000:0.00001'", "over a million"},
    {"--sweep 'bands.inner weave.width='", "a value is missing"},
    {"--sweep 'bands.inner weave.width=15,,16'", "a value is missing"},
    {"--sweep 'bands.inner weave.guide=40%:60%:1 mm'", "mixed"},
    {"--sweep 'bands.inner weave.lose=a:b:c'", "as a list"},
    {"--sweep bands.nobody.width=1:2:1", "lid.yaml has no value bands.nobody.width"},
    {"--sweep no.such.path=1", "is no path"},
    {"--sweep outline.diameter", "is not PATH=VALUE"},
    {"--sweep outline.diameter=1 --sweep outline.diameter=2", "twice"},
    {"--sweep outline.diameter=100 --format yaml", "its format is csv"},
    {"--sweep", "needs a value"},
};

START_TEST(what_cannot_be_swept) {
    const spawned *run = spawn("$BW plan lid.yaml %s", wrong[_i].words);
    ck_assert_msg(run->status == 2, "%s: %d", wrong[_i].words, run->status);
    ck_assert_msg(strstr(run->err, wrong[_i].said) != NULL, "%s: %s", wrong[_i].words, run->err);
    ck_assert_str_eq(run->out, "");
}
END_TEST

/* ---- several files ---- */

START_TEST(pages_behind_one_another) {
    spawn_copy("projects/hazel-coaster.yaml", "hazel.yaml");
    char *one = strdup(spawn("$BW plan lid.yaml")->out), *two = strdup(spawn("$BW plan hazel.yaml")->out);
    const spawned *run = spawn("$BW plan lid.yaml hazel.yaml lid.yaml");
    char *wanted = NULL;
    ck_assert_int_gt(asprintf(&wanted, "%s\f%s\f%s", one, two, one), 0);
    ck_assert_str_eq(run->out, wanted);
    free(wanted);
    free(one);
    free(two);
}
END_TEST

START_TEST(documents_and_one_table) {
    spawn_copy("projects/hazel-coaster.yaml", "a,\"b.yaml");
    char *one = strdup(spawn("$BW plan -fyaml lid.yaml")->out);
    const spawned *run = spawn("$BW plan -fyaml lid.yaml 'a,\"b.yaml'");
    ck_assert_int_eq(occurrences(run->out, "--- # "), 2);
    ck_assert_ptr_eq(strstr(run->out, "--- # lid.yaml\nbandwright-plan: 1\n"), run->out);
    ck_assert_ptr_nonnull(strstr(run->out, one));
    ck_assert_ptr_nonnull(strstr(run->out, "\n--- # a,\"b.yaml\n"));
    free(one);
    int lines = occurrences(spawn("$BW plan -fcsv lid.yaml")->out, "\r\n") - 1;
    run = spawn("$BW plan -fcsv lid.yaml 'a,\"b.yaml'");
    ck_assert_ptr_eq(strstr(run->out, "file,band,row,"), run->out);
    ck_assert_int_eq(occurrences(run->out, "file,band,row,"), 1);
    ck_assert_int_eq(occurrences(run->out, "\r\nlid.yaml,"), lines);
    ck_assert_int_gt(occurrences(run->out, "\r\n\"a,\"\"b.yaml\","), 10);
}
END_TEST

START_TEST(one_wrong_file_does_not_stop_the_others) {
    const char *bad = "bandwright-project: 1\nunits: ells\n";
    spawn_write("bad.yaml", bad, strlen(bad));
    const spawned *run = spawn("$BW plan -fcsv bad.yaml lid.yaml missing.yaml");
    ck_assert_int_eq(run->status, 66);
    ck_assert_ptr_eq(strstr(run->out, "file,band,row,"), run->out);
    ck_assert_ptr_nonnull(strstr(run->out, "\r\nlid.yaml,inner weave,"));
    ck_assert(strstr(run->err, "bad.yaml:2:8: error: ") != NULL && strstr(run->err, "missing.yaml: error: ") != NULL);
    ck_assert_int_eq(spawn("$BW plan lid.yaml bad.yaml")->status, 65);
    spawn("sed 's/width: 16/width: 55/' lid.yaml > wide.yaml");
    ck_assert_int_eq(spawn("$BW plan wide.yaml lid.yaml")->status, 1);
    ck_assert_ptr_null(strchr(spawn("$BW plan bad.yaml lid.yaml")->out, '\f')); /* the first page that there is */
    ck_assert_int_eq(spawn("$BW plan lid.yaml lid.yaml > /dev/full")->status, 74);
}
END_TEST

/* Larger studies: no state, nothing written, so that many may run at once. */
START_TEST(many_at_once) {
    const spawned *run = spawn("for i in 1 2 3 4; do echo lid.yaml; done | "
                               "xargs -P 4 -n 1 $BW plan --sweep outline.diameter=100:140:0.5 > all.csv; echo $?");
    ck_assert_str_eq(run->out, "0\n");
    run =
        spawn("$BW plan --sweep outline.diameter=100:140:0.5 lid.yaml > one.csv; sort -u all.csv > a; sort -u one.csv |"
              " cmp - a && wc -l < one.csv");
    ck_assert_str_eq(run->out, "163\n");
}
END_TEST

Suite *verbs_sweep_suite(void) {
    Suite *suite = suite_create("verbs/sweep");
    TCase *sweeps = tcase_create("sweeps"), *files = tcase_create("files");
    tcase_add_checked_fixture(sweeps, begin, spawn_end);
    tcase_add_test(sweeps, a_line_is_a_plan_of_its_own);
    tcase_add_test(sweeps, all_combinations_the_first_slowest);
    tcase_add_loop_test(sweeps, values_are_written_as_they_are_typed, 0, sizeof written / sizeof written[0]);
    tcase_add_test(sweeps, what_is_refused_has_its_reason_in_a_line);
    tcase_add_test(sweeps, a_band_that_is_plain_and_a_piece_without_bands);
    tcase_add_test(sweeps, several_runs);
    tcase_add_test(sweeps, the_status_of_a_sweep);
    tcase_add_loop_test(sweeps, what_cannot_be_swept, 0, sizeof wrong / sizeof wrong[0]);
    tcase_add_test(sweeps, many_at_once);
    suite_add_tcase(suite, sweeps);
    tcase_add_checked_fixture(files, begin, spawn_end);
    tcase_add_test(files, pages_behind_one_another);
    tcase_add_test(files, documents_and_one_table);
    tcase_add_test(files, one_wrong_file_does_not_stop_the_others);
    suite_add_tcase(suite, files);
    return suite;
}

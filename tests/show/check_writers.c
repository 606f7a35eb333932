/* check_writers.c - yaml and csv: the worked lid to the figure, and any text read back the same by libyaml, which
 * shares nothing with our writer. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

#include "show/bench_pieces.h"
#include "show/inner.h"

Suite *show_writers_suite(void);

#define GOLDEN "tests/show/golden/"

/* A word of a file: up to a blank, comma, bracket or line end, which come one by one. */
static const char *token(const char *from, size_t *length) {
    size_t n = strcspn(from, " ,:{}[]\r\n");
    *length = n > 0 ? n : 1;
    return from + *length;
}

static bool is_number(const char *text, size_t length, double *value) {
    char copy[64];
    if (length == 0 || length >= sizeof copy || (strspn(text, "-0123456789.") == 0))
        return false;
    memcpy(copy, text, length);
    copy[length] = '\0';
    char *end;
    *value = strtod(copy, &end);
    return *end == '\0';
}

/* How far a figure of a line of the plan may be off, by its size (at least 1). On lines and arcs nothing is lost; an
 * ellipse is fitted, its lengths to 1e-6, and what depends on turning to 1e-4. */
typedef double tolerance_of(const char *line);

static double exact(const char *line) {
    (void)line;
    return 1e-9;
}

static double fitted(const char *line) {
    static const char *const turning[] = {"outline: ", "    guide: ", "      - {line: ", "    fit: "};
    for (size_t i = 0; i < sizeof turning / sizeof *turning; i++)
        if (strncmp(line, turning[i], strlen(turning[i])) == 0)
            return 1e-4;
    return 1e-6;
}

/* Numbers within the tolerance, everything else to the byte, but for the texts of warnings, which are free. Returns how
 * many numbers there were. */
static int compare_by_number(const char *made, const char *wanted, tolerance_of *tolerance) {
    int line = 1, numbers = 0;
    double allowed = tolerance(wanted);
    while (*made && *wanted) {
        size_t a, b;
        double x, y;
        const char *next_made = token(made, &a), *next_wanted = token(wanted, &b);
        if (is_number(made, a, &x) && is_number(wanted, b, &y)) {
            ck_assert_msg(fabs(x - y) <= allowed * fmax(1, fabs(y)), "line %d: %.17g instead of %.17g", line, x, y);
            numbers++;
        } else {
            ck_assert_msg(a == b && memcmp(made, wanted, a) == 0, "line %d: \"%.30s\" instead of \"%.30s\"", line, made,
                          wanted);
        }
        if (a == 4 && memcmp(made, "text", 4) == 0) {
            next_made = made + strcspn(made, "\n");
            next_wanted = wanted + strcspn(wanted, "\n");
        }
        if (*made == '\n') {
            line++;
            allowed = tolerance(next_wanted);
        }
        made = next_made;
        wanted = next_wanted;
    }
    ck_assert_msg(*made == *wanted, "one of the two ends early, in line %d", line);
    return numbers;
}

static void assert_golden(piece_writer write, const char *file, int least_numbers) {
    piece p;
    piece_cedar_lid(&p);
    char *made = piece_written(&p, write), *wanted = piece_read(file);
    ck_assert_int_ge(compare_by_number(made, wanted, exact), least_numbers);
    free(made);
    free(wanted);
    piece_end(&p);
}

START_TEST(yaml_of_the_worked_lid) {
    assert_golden(show_plan_yaml, GOLDEN "cedar-lid.plan.yaml", 130);
}
END_TEST

START_TEST(csv_of_the_worked_lid) {
    assert_golden(show_plan_csv, GOLDEN "cedar-lid.plan.csv", 215 * 8);
}
END_TEST

/* The whole way: from the file to the figures. */
static void assert_worked(const char *name, tolerance_of *tolerance, int least_numbers) {
    char file[80], plan_file[80], *made = NULL;
    snprintf(file, sizeof file, GOLDEN "%s.yaml", name);
    snprintf(plan_file, sizeof plan_file, GOLDEN "%s.plan.yaml", name);
    char *text = piece_read(file), *wanted = piece_read(plan_file);
    shop_problems problems;
    shop_problems_init(&problems, file);
    shop_project *project = shop_project_read(text, strlen(text), file, NULL, &problems);
    ck_assert_ptr_nonnull(project);
    ck_assert_uint_eq(problems.count, 0);
    bw_plan *plan;
    ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
    size_t length = 0;
    FILE *to = open_memstream(&made, &length);
    ck_assert_ptr_nonnull(to);
    ck_assert(show_plan_yaml(to, project, plan));
    ck_assert_int_eq(fclose(to), 0);
    ck_assert_int_ge(compare_by_number(made, wanted, tolerance), least_numbers);
    bw_plan_destroy(plan);
    shop_project_free(project);
    shop_problems_free(&problems);
    free(made);
    free(wanted);
    free(text);
}

START_TEST(yaml_of_the_worked_tray) {
    assert_worked("birch-tray", fitted, 100);
}
END_TEST

START_TEST(yaml_of_the_worked_belt_end) {
    assert_worked("rowan-belt", exact, 125);
}
END_TEST

/* ---- numbers ---- */

START_TEST(numbers_read_back_and_are_floats) {
    static const double values[] = {0,    1,    -1,    0.1,  1.0 / 3, 7.9325, 1e-9,      3.5e-15,
                                    1e15, 1e17, 1e300, 5e-5, -2.5e-7, 12345,  0.1 + 0.2, 439.822971502571};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
        show_figure_text text = show_number(values[i]);
        ck_assert_msg(strtod(text.text, NULL) == values[i], "%s", text.text);
        /* YAML 1.1 (yaml.org/type/float): a point, and an exponent only with its sign. */
        const char *point = strchr(text.text, '.'), *exponent = strchr(text.text, 'e');
        ck_assert_msg(point != NULL && point > text.text && point[1] >= '0' && point[1] <= '9', "%s", text.text);
        if (exponent)
            ck_assert_msg(point < exponent && (exponent[1] == '-' || exponent[1] == '+'), "%s", text.text);
    }
    ck_assert_str_eq(show_number(-0.0).text, "0.0");
    ck_assert_str_eq(show_number(360).text, "360.0");
    ck_assert_str_eq(show_number(0.1).text, "0.1");
    ck_assert_str_eq(show_number((double)INFINITY).text, ".inf");
}
END_TEST

/* ---- texts, read back by libyaml ---- */

/* The scalar that follows the key `piece` of a document; false if it does not parse. */
static bool read_piece(const char *text, char *out, size_t room, size_t *length, bool *plain) {
    yaml_parser_t parser;
    yaml_event_t event;
    bool found = false, next = false, good = true;
    yaml_parser_initialize(&parser);
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, strlen(text));
    for (bool done = false; !done && good;) {
        good = yaml_parser_parse(&parser, &event) != 0;
        if (!good)
            break;
        if (event.type == YAML_SCALAR_EVENT) {
            const char *value = (const char *)event.data.scalar.value;
            if (next && !found) {
                *length = event.data.scalar.length;
                ck_assert_uint_lt(*length, room);
                memcpy(out, value, *length);
                *plain = event.data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
                found = true;
            }
            next = strcmp(value, "piece") == 0;
        }
        done = event.type == YAML_STREAM_END_EVENT;
        yaml_event_delete(&event);
    }
    yaml_parser_delete(&parser);
    return good && found;
}

START_TEST(any_text_is_read_back) {
    static const struct {
        const char *bytes;
        size_t length;
        bool plain;
    } texts[] = {
#define TEXT(bytes, plain) {bytes, sizeof(bytes) - 1, plain}
        TEXT("Cedar box lid", true),
        TEXT("lid", true),
        TEXT("", false),
        TEXT("12.5", false),
        TEXT("0x1F", false),
        TEXT("true", false),
        TEXT("No", false),
        TEXT("y", false),
        TEXT("NULL", false),
        TEXT("~", false),
        TEXT("- lid", false),
        TEXT("a: b", false),
        TEXT("a #b", false),
        TEXT("#a", false),
        TEXT("a, b", false),
        TEXT("{a}", false),
        TEXT("trailing ", false),
        TEXT(" leading", false),
        TEXT("quote \" and \\ slash", false),
        TEXT("it's", true),
        TEXT("two\nlines\twide", false),
        TEXT("esc \x1b]0;x\a", false),
        TEXT("nul \0 in it", false),
        TEXT("c1 \xc2\x9b and nel \xc2\x85", false),
        TEXT("bidi \xe2\x80\xae", false),
        TEXT("separator \xe2\x80\xa8", false),
        TEXT("\xe7\x9a\xae \xc3\xa9", false),
        TEXT("\xf0\x9f\xa7\xb5", false),
        TEXT("%TAG", false),
        TEXT("@at", false),
        TEXT("`tick", false),
        TEXT("---", false),
        TEXT("=", false),
        TEXT("1:30", false),
#undef TEXT
    };
    piece p;
    piece_bare(&p);
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        char back[256];
        size_t length = 0;
        bool plain = false;
        p.project.piece = (shop_string){texts[i].bytes, texts[i].length};
        char *text = piece_written(&p, show_plan_yaml);
        ck_assert_msg(read_piece(text, back, sizeof back, &length, &plain), "text %zu does not parse:\n%s", i, text);
        ck_assert_msg(length == texts[i].length && memcmp(back, texts[i].bytes, length) == 0, "text %zu: %s", i, text);
        ck_assert_msg(plain == texts[i].plain, "text %zu is %s: %s", i, plain ? "plain" : "quoted", text);
        for (const char *c = text; *c; c++)
            ck_assert_msg(*c == '\n' || ((unsigned char)*c >= ' ' && *c != 0x7F), "text %zu: a raw byte", i);
        free(text);
    }
    piece_end(&p);
}
END_TEST

static int count_events(const char *text, yaml_event_type_t type) {
    yaml_parser_t parser;
    yaml_event_t event;
    int count = 0;
    yaml_parser_initialize(&parser);
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, strlen(text));
    for (bool done = false; !done;) {
        ck_assert_msg(yaml_parser_parse(&parser, &event) != 0, "%s in line %zu of\n%s", parser.problem,
                      parser.problem_mark.line + 1, text);
        count += event.type == type;
        done = event.type == YAML_STREAM_END_EVENT;
        yaml_event_delete(&event);
    }
    yaml_parser_delete(&parser);
    return count;
}

START_TEST(every_plan_parses) {
    for (size_t i = 0; i < piece_maker_count; i++) {
        piece p;
        piece_makers[i](&p);
        char *text = piece_written(&p, show_plan_yaml);
        ck_assert_int_gt(count_events(text, YAML_MAPPING_START_EVENT), (int)p.plan->band_count);
        ck_assert_int_eq(count_events(text, YAML_DOCUMENT_START_EVENT), 1);
        free(text);
        piece_end(&p);
    }
}
END_TEST

START_TEST(keys_that_only_some_bands_have) {
    piece p;
    piece_maple_tray(&p);
    char *text = piece_written(&p, show_plan_yaml);
    ck_assert_ptr_nonnull(strstr(text, "    lay: angled\n    turn: "));
    ck_assert_ptr_nonnull(strstr(text, "{from: 0.0, to: "));
    ck_assert_ptr_nonnull(strstr(text, ", shift: "));
    ck_assert_ptr_nonnull(strstr(text, ", miss: "));
    ck_assert_ptr_nonnull(strstr(text, ", estimated: [width, rail]}"));
    ck_assert_ptr_nonnull(strstr(text, "least-radius: .inf}"));
    ck_assert_ptr_nonnull(strstr(text, "  - band: field\n    fill: plain\nwarnings:\n"));
    ck_assert_ptr_null(strstr(text, "notch"));
    free(text);
    piece_end(&p);
    piece_no_room(&p);
    text = piece_written(&p, show_plan_yaml);
    ck_assert_ptr_nonnull(strstr(text, "    runs: []\n"));
    ck_assert_ptr_nonnull(strstr(text, "    lines: []\n"));
    ck_assert_ptr_nonnull(strstr(text, "  - band: heart\n    fill: plain\n    fit: {verdict: no room}\n"));
    ck_assert_ptr_nonnull(strstr(text, "kind: no-room, text: \""));
    free(text);
    piece_end(&p);
    piece_bare(&p);
    text = piece_written(&p, show_plan_yaml);
    ck_assert_ptr_nonnull(strstr(text, "lines: []\nbands: []\nwarnings: []\n"));
    free(text);
    piece_end(&p);
}
END_TEST

/* RFC 4180, section 2: fields with commas or quotes are quoted, quotes doubled, lines end with CRLF. */
START_TEST(csv_quotes) {
    piece p;
    piece_cedar_lid(&p);
    p.bands[0].name = "rim, outer \"one\"";
    char *text = piece_written(&p, show_plan_csv);
    ck_assert_ptr_nonnull(strstr(text, "\r\n\"rim, outer \"\"one\"\"\",0,1,1,"));
    int lines = 0;
    for (const char *c = text; *c; c++) {
        ck_assert(*c != '\n' || c[-1] == '\r');
        lines += *c == '\n';
    }
    ck_assert_int_eq(lines, 1 + p.plan->bands[0].strikes + p.plan->bands[1].strikes + p.plan->bands[2].strikes);
    free(text);
    piece_end(&p);
}
END_TEST

START_TEST(a_full_disk_is_told) {
    static const piece_writer writers[] = {show_plan_yaml, show_plan_csv, show_plan_text};
    piece p;
    piece_cedar_lid(&p);
    for (size_t i = 0; i < sizeof writers / sizeof *writers; i++) {
        FILE *full = fopen("/dev/full", "w");
        ck_assert_ptr_nonnull(full);
        ck_assert(!writers[i](full, &p.project, p.plan));
        fclose(full);
    }
    piece_end(&p);
}
END_TEST

Suite *show_writers_suite(void) {
    Suite *suite = suite_create("show: yaml and csv");
    TCase *writers = tcase_create("writers");
    tcase_add_test(writers, yaml_of_the_worked_lid);
    tcase_add_test(writers, csv_of_the_worked_lid);
    tcase_add_test(writers, yaml_of_the_worked_tray);
    tcase_add_test(writers, yaml_of_the_worked_belt_end);
    tcase_add_test(writers, numbers_read_back_and_are_floats);
    tcase_add_test(writers, any_text_is_read_back);
    tcase_add_test(writers, every_plan_parses);
    tcase_add_test(writers, keys_that_only_some_bands_have);
    tcase_add_test(writers, csv_quotes);
    tcase_add_test(writers, a_full_disk_is_told);
    suite_add_tcase(suite, writers);
    return suite;
}

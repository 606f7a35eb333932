/* check_paper.c - the page for the bench fits one sheet, whichever of the two is in the printer.
 *
 * Sources: A4 is 210 x 297 mm (ISO 216); Letter is 8.5 x 11 in (ANSI/ASME Y14.1). Six lines and ten columns an inch are
 * what plain text is printed with (common practice).
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/base.h"

Suite *published_paper_suite(void);

#define LINES_AN_INCH 6
#define COLUMNS_AN_INCH 10

typedef struct sheet {
    const char *name;
    double width, height; /* mm */
} sheet;

static const sheet sheets[] = {{"A4, ISO 216", 210, 297},
                               {"Letter, ANSI/ASME Y14.1", 8.5 * BW_MM_PER_INCH, 11 * BW_MM_PER_INCH}};

/* Lines and columns of the page that the program writes for a file. */
static void measure(const char *file, int *lines, int *columns) {
    char command[500], line[1000];
    const char *program = getenv("BW_PROGRAM");
    snprintf(command, sizeof command, "%s plan %s", program != NULL ? program : "build/bandwright", file);
    FILE *page = popen(command, "r");
    ck_assert_ptr_nonnull(page);
    for (*lines = *columns = 0; fgets(line, sizeof line, page) != NULL; (*lines)++) {
        int width = (int)strcspn(line, "\n");
        *columns = width > *columns ? width : *columns;
    }
    ck_assert_int_eq(pclose(page), 0);
}

START_TEST(the_lid_fits_a_sheet) {
    int lines, columns;
    const sheet *paper = &sheets[_i];
    measure("projects/cedar-lid.yaml", &lines, &columns);
    ck_assert_int_gt(lines, 40); /* it is the whole page */
    ck_assert_msg(lines <= floor(paper->height / BW_MM_PER_INCH * LINES_AN_INCH), "%s: %d lines", paper->name, lines);
    ck_assert_msg(columns <= floor(paper->width / BW_MM_PER_INCH * COLUMNS_AN_INCH), "%s: %d columns", paper->name,
                  columns);
}
END_TEST

Suite *published_paper_suite(void) {
    Suite *suite = suite_create("published/paper");
    TCase *tc = tcase_create("sheets");
    tcase_add_loop_test(tc, the_lid_fits_a_sheet, 0, (int)(sizeof sheets / sizeof *sheets));
    suite_add_tcase(suite, tc);
    return suite;
}

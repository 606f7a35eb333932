/* check_symbols.c - what libbandwright asks of the system and what it offers, read with nm (POSIX) from its tables.
 *
 * It may compute, copy and ask for memory; no file, screen, clock, locale, environment or global state.
 */
#include <check.h>
#include <glob.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *arrows_symbols_suite(void);

enum { MOST = 4000, NAME = 100 };

typedef struct names {
    char name[MOST][NAME];
    int count;
} names;

static names asked, offered, promised;

static bool holds(const names *all, const char *name) {
    for (int i = 0; i < all->count; i++) {
        if (strcmp(all->name[i], name) == 0) {
            return true;
        }
    }
    return false;
}

static void keep(names *all, const char *name) {
    ck_assert_int_lt(all->count, MOST);
    ck_assert_uint_lt(strlen(name), NAME);
    if (!holds(all, name)) {
        strcpy(all->name[all->count++], name);
    }
}

/* Symbols of one of the two libraries: `nm -P` writes `NAME TYPE ...`. */
static void read_symbols(const char *options, const char *library, const char *types, names *into) {
    const char *build = getenv("BW_BUILD");
    char command[500], line[500], name[NAME], type;
    snprintf(command, sizeof command, "nm -P %s %s/%s", options, build != NULL ? build : "build", library);
    FILE *nm = popen(command, "r");
    ck_assert_ptr_nonnull(nm);
    while (fgets(line, sizeof line, nm) != NULL) {
        if (sscanf(line, "%99s %c", name, &type) == 2 && strchr(types, type) != NULL) {
            char *version = strchr(name, '@');
            if (version != NULL) {
                *version = '\0';
            }
            keep(into, name);
        }
    }
    ck_assert_int_eq(pclose(nm), 0);
}

/* What sanitizers, the stack protector and the compiler's own calls leave in the table. */
static bool of_compiler(const char *name) {
    static const char *const starts[] = {
        "__asan", "__ubsan",    "__sanitizer", "__lsan",  "__sancov",  "__stack_chk", "_GLOBAL_OFFSET_TABLE_",
        "asan.",  "__odr_asan", "__start_",    "__stop_", "__unnamed_"};
    for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++) {
        if (strncmp(name, starts[i], strlen(starts[i])) == 0) {
            return true;
        }
    }
    return false;
}

static bool computes(const char *name) {
    static const char *const fine[] = {
        "acos",      "asin",   "atan",      "atan2",   "cbrt",   "ceil",   "copysign", "cos",    "exp",     "fabs",
        "floor",     "fma",    "fmax",      "fmin",    "fmod",   "hypot",  "llround",  "log",    "lround",  "modf",
        "nextafter", "pow",    "remainder", "rint",    "round",  "sin",    "sincos",   "sqrt",   "tan",     "trunc",
        "memchr",    "memcmp", "memcpy",    "memmove", "memset", "strchr", "strcmp",   "strlen", "strncmp", "bcmp",
        "qsort",     "malloc", "realloc",   "calloc",  "free",   "abs",    "lrint",    "llrint", "nan",     "bsearch",
        "erfc",      "log1p"};
    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i++) {
        if (strcmp(name, fine[i]) == 0) {
            return true;
        }
    }
    return of_compiler(name);
}

START_TEST(it_only_computes_and_copies) {
    read_symbols("-u", "libbandwright.a", "U", &asked);
    read_symbols("-g", "libbandwright.a", "TDBRVW", &offered);
    ck_assert_int_gt(asked.count, 5);
    for (int i = 0; i < asked.count; i++) {
        ck_assert_msg(computes(asked.name[i]) || holds(&offered, asked.name[i]), "libbandwright asks for %s",
                      asked.name[i]);
    }
    ck_assert(!computes("printf") && !computes("fopen") && !computes("getenv") && !computes("setlocale"));
}
END_TEST

/* True if a line of `nm -f sysv` (name|value|class|type|size|line|section) stands for data that can be written. Tables
 * of pointers in .data.rel.ro are not: they are read-only once they are loaded. */
static bool is_state(const char *line) {
    const char *section = strrchr(line, '|');
    return section != NULL && (strncmp(section + 1, ".data\n", 6) == 0 || strncmp(section + 1, ".bss", 4) == 0 ||
                               strncmp(section + 1, "*COM*", 5) == 0 || strncmp(section + 1, ".data.rel\n", 10) == 0 ||
                               strncmp(section + 1, ".tbss", 5) == 0 || strncmp(section + 1, ".tdata", 6) == 0);
}

START_TEST(it_keeps_no_state) {
    const char *build = getenv("BW_BUILD");
    char command[500], line[500];
    int lines = 0;
    snprintf(command, sizeof command, "nm -f sysv %s/libbandwright.a", build != NULL ? build : "build");
    FILE *nm = popen(command, "r");
    ck_assert_ptr_nonnull(nm);
    for (; fgets(line, sizeof line, nm) != NULL; lines++) {
        ck_assert_msg(!is_state(line) || of_compiler(line), "libbandwright keeps %s", line);
    }
    ck_assert_int_eq(pclose(nm), 0);
    ck_assert_int_gt(lines, 50);
    ck_assert(is_state("last|0000000000000000|   b  |            OBJECT|0000000000000004|     |.bss\n"));
}
END_TEST

/* Names followed by a bracket in the public headers, outside comments. */
static void read_header(const char *path) {
    FILE *file = fopen(path, "r");
    ck_assert_ptr_nonnull(file);
    char text[40000];
    size_t length = fread(text, 1, sizeof text - 1, file);
    fclose(file);
    text[length] = '\0';
    for (char *start = strstr(text, "/*"); start != NULL; start = strstr(start, "/*")) {
        char *end = strstr(start, "*/");
        ck_assert_ptr_nonnull(end);
        memset(start, ' ', (size_t)(end + 2 - start));
    }
    for (char *at = strstr(text, "bw_"); at != NULL; at = strstr(at + 1, "bw_")) {
        size_t name = strspn(at, "abcdefghijklmnopqrstuvwxyz_0123456789");
        if (at[name] == '(' && (at == text || strchr(" *\n", at[-1]) != NULL)) {
            char copy[NAME];
            snprintf(copy, sizeof copy, "%.*s", (int)name, at);
            keep(&promised, copy);
        }
    }
}

START_TEST(it_offers_what_the_headers_promise) {
    glob_t headers;
    names exported = {.count = 0};
    ck_assert_int_eq(glob("include/bandwright/*.h", 0, NULL, &headers), 0);
    for (size_t i = 0; i < headers.gl_pathc; i++) {
        read_header(headers.gl_pathv[i]);
    }
    globfree(&headers);
    ck_assert_int_gt(promised.count, 20);
    read_symbols("-D --defined-only", "libbandwright.so", "TDBRVW", &exported);
    for (int i = 0; i < promised.count; i++) {
        ck_assert_msg(holds(&exported, promised.name[i]), "%s is promised and not there", promised.name[i]);
    }
    for (int i = 0; i < exported.count; i++) {
        ck_assert_msg(holds(&promised, exported.name[i]) || of_compiler(exported.name[i]),
                      "%s is there and not promised", exported.name[i]);
    }
}
END_TEST

Suite *arrows_symbols_suite(void) {
    Suite *suite = suite_create("arrows/symbols");
    TCase *tests = tcase_create("symbols");
    tcase_add_test(tests, it_only_computes_and_copies);
    tcase_add_test(tests, it_keeps_no_state);
    tcase_add_test(tests, it_offers_what_the_headers_promise);
    suite_add_tcase(suite, tests);
    return suite;
}

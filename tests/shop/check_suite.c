/* check_suite.c - the public YAML test suite (402 cases): a text that the YAML library takes is read or refused with a
 * reason, and a scalar that is changed anywhere in it changes itself alone, or the change is refused.
 *
 * BANDWRIGHT_YAML_SUITE names the folder (ID/[NN/]in.yaml); without it ../shared/data/yaml-suite is used where it is.
 */
#include <check.h>
#include <glob.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <yaml.h>

#include "paper.h"
#include "shop/edit.h"

Suite *shop_suite_suite(void);

static const char *folder(void) {
    const char *named = getenv("BANDWRIGHT_YAML_SUITE");
    return named && *named ? named : "../shared/data/yaml-suite";
}

/* How the library by itself ends, and whether it meets what we refuse: a second document, a tag of its own, a key
 * twice. */
typedef struct verdict {
    bool taken;
    size_t documents, tags;
} verdict;

static verdict library_says(const char *bytes, size_t length) {
    verdict v = {0};
    yaml_parser_t parser;
    ck_assert(yaml_parser_initialize(&parser));
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, length);
    yaml_event_t event;
    while (yaml_parser_parse(&parser, &event)) {
        yaml_event_type_t type = event.type;
        const yaml_char_t *tag = type == YAML_SCALAR_EVENT           ? event.data.scalar.tag
                                 : type == YAML_SEQUENCE_START_EVENT ? event.data.sequence_start.tag
                                 : type == YAML_MAPPING_START_EVENT  ? event.data.mapping_start.tag
                                                                     : NULL;
        v.documents += type == YAML_DOCUMENT_START_EVENT;
        v.tags +=
            tag && strcmp((const char *)tag, "!") != 0 && strncmp((const char *)tag, "tag:yaml.org,2002:", 18) != 0;
        v.taken = v.taken || type == YAML_STREAM_END_EVENT;
        yaml_event_delete(&event);
        if (type == YAML_STREAM_END_EVENT)
            break;
    }
    yaml_parser_delete(&parser);
    return v;
}

typedef struct tally {
    size_t files, read, library_refuses, we_refuse, changes, refused;
} tally;

static const char *const values[] = {"plain", "3/4 in", "- a: 'b' #c", "yes", "x, y]", "two\nlines", "\xC3\xBC"};
#define VALUES (sizeof values / sizeof values[0])

static const shop_node *next_node(const shop_node *node) {
    if (node->child)
        return node->child;
    while (node && !node->next)
        node = node->parent;
    return node ? node->next : NULL;
}

static const shop_node *nth_node(const shop_text *text, size_t n) {
    const shop_node *node = text->root;
    while (node && n--)
        node = next_node(node);
    return node;
}

/* All that the changed text must say: the old nodes in order, but for the one changed. Compared here once more, apart
 * from the shop's own comparison. */
static void must_say(const shop_text *before, const shop_text *after, size_t changed, const char *value) {
    size_t n = 0;
    const shop_node *x = before->root, *y = after->root;
    for (; x && y; x = next_node(x), y = next_node(y), n++) {
        ck_assert_int_eq((int)x->kind, (int)y->kind);
        if (x->kind != SHOP_NODE_SCALAR)
            continue;
        const char *wanted = n == changed ? value : x->value;
        size_t length = n == changed ? strlen(value) : x->length;
        ck_assert_uint_eq(y->length, length);
        ck_assert(length == 0 || memcmp(y->value, wanted, length) == 0);
    }
    ck_assert(!x && !y);
}

static void change_all(const char *file, const shop_text *text, tally *t) {
    shop_problems problems;
    for (size_t n = 0; n < text->nodes; n++) {
        const shop_node *node = nth_node(text, n);
        if (node->kind != SHOP_NODE_SCALAR || node->uses > 0)
            continue; /* what aliases repeat is never edited */
        for (size_t v = 0; v < VALUES; v++) {
            char *bytes;
            size_t length;
            shop_problems_init(&problems, file);
            bool good = shop_replace_scalar(text, node, values[v], &bytes, &length, &problems);
            t->changes++;
            t->refused += !good;
            ck_assert_msg(good == (problems.errors == 0), "%s: a refusal has a reason", file);
            if (good) {
                shop_text *again = shop_text_read(bytes, length, &problems);
                ck_assert_ptr_nonnull(again);
                must_say(text, again, n, values[v]);
                shop_text_free(again);
            }
            free(bytes);
            shop_problems_free(&problems);
        }
    }
}

static void try_file(const char *file, tally *t) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    char *bytes;
    size_t length;
    ck_assert_int_eq(shop_read(file, &bytes, &length, &problems), SHOP_OK);
    verdict library = library_says(bytes, length);
    shop_text *text = shop_text_read(bytes, length, &problems);
    bool clean = text && problems.errors == 0;
    t->files++;
    t->library_refuses += !library.taken;
    ck_assert_msg(clean || problems.errors > 0, "%s: neither read nor refused", file);
    if (!library.taken)
        ck_assert_msg(!clean, "%s: no YAML, but read", file);
    else if (library.documents <= 1 && library.tags == 0)
        ck_assert_msg(text != NULL, "%s: must be read", file);
    else
        ck_assert_msg(!clean, "%s: must be refused", file);
    t->read += clean;
    t->we_refuse += library.taken && !clean;
    if (clean)
        change_all(file, text, t);
    shop_text_free(text);
    free(bytes);
    shop_problems_free(&problems);
}

START_TEST(every_case_is_read_or_refused_and_changed_or_left) {
    glob_t found;
    char pattern[4096];
    snprintf(pattern, sizeof pattern, "%s/*/in.yaml", folder());
    glob(pattern, 0, NULL, &found);
    snprintf(pattern, sizeof pattern, "%s/*/*/in.yaml", folder());
    glob(pattern, GLOB_APPEND, NULL, &found);
    tally t = {0};
    for (size_t i = 0; i < found.gl_pathc; i++)
        try_file(found.gl_pathv[i], &t);
    globfree(&found);
    printf("YAML suite: %zu cases, %zu read, %zu refused by the library, %zu by us; %zu of %zu changes refused (%.2f "
           "%%)\n",
           t.files, t.read, t.library_refuses, t.we_refuse, t.refused, t.changes,
           100.0 * (double)t.refused / (double)t.changes);
    ck_assert_msg(t.files >= 400, "%s holds %zu cases, not the 402 of the suite", folder(), t.files);
    ck_assert_uint_gt(t.read, 200);
    ck_assert_uint_lt(t.refused * 100, t.changes * 3);
}
END_TEST

/* The like in our own words, for where the public suite is not at hand: every kind of place a scalar can stand in. */
static const char *const places[] = {
    "plain",
    "'single'",
    "\"double\\n\"",
    "|\n  block\n  text\n",
    ">-\n folded\n\n text\n\n",
    "a: b",
    "a: 'b' # c\nd: e",
    "a:\n  b: c\n  d:\n  - e\n  - f: g\n    h: i\n",
    "- a\n-\n- b\n",
    "- - a\n  - b\n- c: d\n",
    "{a: b, c: [d, e]}",
    "{a: b,\n c: d, # e\n}",
    "[a, 'b', \"c\",]",
    "a: &x b\nc: d\n",
    "a: !!str b\nc: &y !!str d\n",
    "a:\nb: c\n",
    "{a: , b: c}",
    "? a\n: b\n",
    "a: |2\n    b\n   c\nd: e\n",
    "a: |+\n  b\n\n\nc: d\n",
    "a: b\n  c\n  d\ne: f",
    "--- a: b\n",
    "---\na: b\n...\n",
    "%YAML 1.1\n---\na: b\n",
    ("\xEF\xBB\xBF"
     "a: \xC3\xBC\r\nb: c\r\n"),
    "a: b\rc: d\r",
    "a : b\n'c' : d\n\"e\":\n  f\n",
    "a: ''\nb: \"\"\n",
    "a: 12:30\nb: -1\nc: ~\nd: null\n",
    "\xE2\x82\xAC: \xE2\x82\xAC # \xE2\x82\xAC\nb: [\xE2\x82\xAC, {c: \xE2\x82\xAC}]\n",
};

START_TEST(our_own_places_are_changed_or_left) {
    tally t = {0};
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        shop_problems problems;
        shop_problems_init(&problems, places[i]);
        shop_text *text = shop_text_read(places[i], strlen(places[i]), &problems);
        if (problems.errors == 0) {
            t.read++;
            change_all(places[i], text, &t);
        }
        shop_text_free(text);
        shop_problems_free(&problems);
    }
    ck_assert_uint_ge(t.read, sizeof places / sizeof places[0] - 1); /* `--- a: b` is no YAML */
    ck_assert_uint_gt(t.changes, 600);
    ck_assert_msg(t.refused * 100 < t.changes * 3, "%zu of %zu changes refused", t.refused, t.changes);
}
END_TEST

Suite *shop_suite_suite(void) {
    Suite *suite = suite_create("suite");
    TCase *all = tcase_create("yaml");
    tcase_set_timeout(all, 120);
    tcase_add_test(all, our_own_places_are_changed_or_left);
    struct stat about;
    bool named = getenv("BANDWRIGHT_YAML_SUITE") != NULL;
    if (named || stat(folder(), &about) == 0)
        tcase_add_test(all, every_case_is_read_or_refused_and_changed_or_left);
    else
        printf("the public YAML suite is not at %s: name its folder in BANDWRIGHT_YAML_SUITE\n", folder());
    suite_add_tcase(suite, all);
    return suite;
}

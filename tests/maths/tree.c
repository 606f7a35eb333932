/* tree.c - reads the program's own YAML and CSV output for tests. */
#include "maths/tree.h"

#include <check.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void tree_read(tree *t, const char *text, size_t length) {
    yaml_parser_t parser;
    ck_assert_int_eq(yaml_parser_initialize(&parser), 1);
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, length);
    ck_assert_msg(yaml_parser_load(&parser, &t->document), "this is no YAML:\n%.*s", (int)length, text);
    yaml_parser_delete(&parser);
    ck_assert_ptr_nonnull(yaml_document_get_root_node(&t->document));
}

void tree_free(tree *t) {
    yaml_document_delete(&t->document);
}

static yaml_node_t *child(tree *t, yaml_node_t *node, const char *key, size_t length) {
    if (node->type != YAML_MAPPING_NODE) {
        return NULL;
    }
    for (yaml_node_pair_t *pair = node->data.mapping.pairs.start; pair < node->data.mapping.pairs.top; pair++) {
        yaml_node_t *name = yaml_document_get_node(&t->document, pair->key);
        if (name->data.scalar.length == length && memcmp(name->data.scalar.value, key, length) == 0) {
            return yaml_document_get_node(&t->document, pair->value);
        }
    }
    return NULL;
}

static yaml_node_t *item(tree *t, yaml_node_t *node, size_t index) {
    if (node->type != YAML_SEQUENCE_NODE ||
        index >= (size_t)(node->data.sequence.items.top - node->data.sequence.items.start)) {
        return NULL;
    }
    return yaml_document_get_node(&t->document, node->data.sequence.items.start[index]);
}

static yaml_node_t *find(tree *t, const char *path) {
    yaml_node_t *node = yaml_document_get_root_node(&t->document);
    while (node != NULL && *path != '\0') {
        if (*path == '[') {
            char *end;
            node = item(t, node, strtoul(path + 1, &end, 10));
            path = end + 1;
        } else {
            path += *path == '.';
            size_t length = strcspn(path, ".[");
            node = child(t, node, path, length);
            path += length;
        }
    }
    return node;
}

#define FIND(node)                                                                                                     \
    char full[200];                                                                                                    \
    va_list values;                                                                                                    \
    va_start(values, path);                                                                                            \
    vsnprintf(full, sizeof full, path, values);                                                                        \
    va_end(values);                                                                                                    \
    yaml_node_t *node = find(t, full)

bool tree_has(tree *t, const char *path, ...) {
    FIND(node);
    return node != NULL;
}

size_t tree_count(tree *t, const char *path, ...) {
    FIND(node);
    ck_assert_msg(node != NULL && node->type == YAML_SEQUENCE_NODE, "no list %s", full);
    return (size_t)(node->data.sequence.items.top - node->data.sequence.items.start);
}

double tree_number(tree *t, const char *path, ...) {
    FIND(node);
    ck_assert_msg(node != NULL && node->type == YAML_SCALAR_NODE, "no %s", full);
    const char *text = (const char *)node->data.scalar.value;
    if (strcmp(text, ".inf") == 0) {
        return INFINITY;
    }
    char *end;
    double number = strtod(text, &end);
    ck_assert_msg(*end == '\0' && end != text, "%s: %s is no number", full, text);
    return number;
}

const char *tree_word(tree *t, const char *path, ...) {
    FIND(node);
    ck_assert_msg(node != NULL && node->type == YAML_SCALAR_NODE, "no %s", full);
    return (const char *)node->data.scalar.value;
}

tree_placing *tree_placings(const char *csv, size_t *count) {
    static const char header[] = "band,row,run,number,x,y,turn,along,cover\r\n";
    ck_assert_msg(strncmp(csv, header, strlen(header)) == 0, "the header is %.60s", csv);
    size_t room = 1;
    for (const char *at = csv; *at != '\0'; at++) {
        room += *at == '\n';
    }
    tree_placing *all = calloc(room, sizeof *all);
    ck_assert_ptr_nonnull(all);
    *count = 0;
    for (const char *line = csv + strlen(header); *line != '\0'; line = strchr(line, '\n') + 1) {
        tree_placing *p = &all[(*count)++];
        int used = 0;
        ck_assert_msg(sscanf(line, "%63[^,],%d,%d,%d,%lf,%lf,%lf,%lf,%lf%n", p->band, &p->row, &p->run, &p->number,
                             &p->x, &p->y, &p->turn, &p->along, &p->cover, &used) == 9 &&
                          strncmp(line + used, "\r\n", 2) == 0,
                      "a line of the csv: %.100s", line);
    }
    return all;
}

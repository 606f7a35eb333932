/* tables.c - man page parts from the tables of verbs, options, keys and fields. */
#include <stdlib.h>
#include <string.h>

#include "bench/bench.h"
#include "docs/pages.h"
#include "shop/shop.h"
#include "verbs/verbs.h"

static void put(FILE *to, const char *text, bool literal) {
    bool line_start = true;
    for (const char *at = text; *at != '\0'; at++) {
        if (line_start && (*at == '.' || *at == '\'')) {
            fputs("\\&", to);
        }
        line_start = *at == '\n';
        if (*at == '\\') {
            fputs("\\e", to);
        } else if (*at == '-' && literal) {
            fputs("\\-", to);
        } else {
            fputc(*at, to);
        }
    }
}

void pages_text(FILE *to, const char *text) {
    put(to, text, false);
}

void pages_literal(FILE *to, const char *text) {
    put(to, text, true);
}

static void synopsis(FILE *to) {
    size_t count;
    const verb *table = verb_table(&count);
    for (size_t i = 0; i < count; i++) {
        fputs(i > 0 ? ".br\n.B bandwright" : ".B bandwright", to);
        fprintf(to, "%s%s\n", table[i].name != NULL ? " " : "", table[i].name != NULL ? table[i].name : "");
        fputs("[\\fIoption\\fR ...] ", to);
        pages_literal(to, table[i].operands);
        fputc('\n', to);
    }
}

static void verbs(FILE *to) {
    size_t count;
    const verb *table = verb_table(&count);
    for (size_t i = 0; i < count; i++) {
        fprintf(to, ".TP\n.B bandwright%s%s ", table[i].name != NULL ? " " : "",
                table[i].name != NULL ? table[i].name : "");
        pages_literal(to, table[i].operands);
        fputc('\n', to);
        char first[2] = {(char)(table[i].help[0] - 'a' + 'A'), '\0'};
        pages_text(to, first);
        pages_text(to, table[i].help + 1);
        fputs(".\n", to);
        pages_literal(to, table[i].more);
        fputs("Options:", to);
        for (int id = 0; id < VERB_OPTION_COUNT; id++) {
            if (id != VERB_HELP && verb_has(&table[i], (verb_option_id)id)) {
                fputs(" \\-\\-", to);
                pages_literal(to, verb_options()[id].name);
            }
        }
        fputs(" \\-\\-help.\n", to);
    }
}

static void options(FILE *to) {
    for (unsigned id = 0; id < VERB_OPTION_COUNT; id++) {
        const verb_option *option = &verb_options()[id];
        fputs(".TP\n.BR ", to);
        if (option->letter != 0) {
            fprintf(to, "\\-%c \", \" ", option->letter);
        }
        fputs("\\-\\-", to);
        pages_literal(to, option->name);
        if (option->value != NULL) {
            fprintf(to, " \" %s\"", option->value);
        }
        fputc('\n', to);
        pages_literal(to, option->help);
        fputs(".\n", to);
    }
}

static void words_of_bits(FILE *to, const char *path, unsigned bits) {
    const shop_field *field = shop_field_find(path);
    const char *between = "";
    for (unsigned i = 0; field != NULL && field->words[i] != NULL; i++) {
        if ((bits & (1u << i)) != 0) {
            fprintf(to, "%s%s", between, field->words[i]);
            between = ", ";
        }
    }
}

static void range(FILE *to, const shop_field *field, double unit, const char *sign) {
    fprintf(to, "%.7g%s to %.7g%s", field->least / unit, sign, field->most / unit, sign);
}

static void words(FILE *to, const char *const *list) {
    for (size_t i = 0; list[i] != NULL; i++) {
        fputs(i == 0 ? "" : list[i + 1] != NULL ? ", " : " or ", to);
        pages_literal(to, list[i]);
    }
}

/* What a field may hold, in words. */
static void allowed(FILE *to, const shop_field *field) {
    static const char *const plain[] = {
        [SHOP_TYPE_TEXT] = "text",
        [SHOP_TYPE_NAME] = "name of 1 to 40 characters",
        [SHOP_TYPE_YES_NO] = "yes or no",
        [SHOP_TYPE_PLACE] = "place",
        [SHOP_TYPE_PLACES] = "list of places",
        [SHOP_TYPE_GUIDE] = "share, or length with its unit",
        [SHOP_TYPE_COUNT] = "auto, whole number, or list of these",
        [SHOP_TYPE_LOSE] = "even, last K, straights or anchored",
        [SHOP_TYPE_PATHS] = "list of paths",
        [SHOP_TYPE_TOOL] = "id of a tool",
        [SHOP_TYPE_LIST] = "list of mappings",
        [SHOP_TYPE_LENGTHS] = "list of lengths",
        [SHOP_TYPE_END] = "square, round or {point: length}",
        [SHOP_TYPE_CORNERS] = "list of 3 to 10000 corners [x, y] or [x, y, radius], lengths",
        [SHOP_TYPE_SVG] = "path data of SVG",
    };
    switch (field->type) {
    case SHOP_TYPE_WORD:
        words(to, field->words);
        break;
    case SHOP_TYPE_FORMAT:
        fprintf(to, "%.10g", field->most);
        break;
    case SHOP_TYPE_NUMBER:
        fputs("whole number, ", to);
        range(to, field, 1, "");
        break;
    case SHOP_TYPE_DECIMAL:
        if (field->above) {
            fprintf(to, "number above %.7g", field->least);
            break;
        }
        fputs("number, ", to);
        range(to, field, 1, "");
        break;
    case SHOP_TYPE_LENGTH:
        fputs("length, ", to);
        range(to, field, 1, " mm");
        break;
    case SHOP_TYPE_WEIGHT:
        fputs("length or ounces, ", to);
        range(to, field, 1, " mm");
        break;
    case SHOP_TYPE_CORNER:
        fputs("length, or list of four, ", to);
        range(to, field, 1, " mm");
        break;
    case SHOP_TYPE_SHARE:
        fputs("share, ", to);
        range(to, field, 0.01, " %");
        break;
    case SHOP_TYPE_ANGLE:
        fputs("degrees, ", to);
        range(to, field, BW_PI / 180.0, "");
        break;
    default:
        fputs(plain[field->type], to);
    }
}

/* Rows whose path begins like this; the first word of a path without a dot stands for the head of the file. */
static bool belongs(const shop_field *field, const char *group) {
    size_t length = strlen(group);
    if (length == 0) {
        return strchr(field->path, '.') == NULL;
    }
    return strncmp(field->path, group, length) == 0 && field->path[length] == '.';
}

static bool fields(FILE *to, const char *group) {
    size_t count, written = 0;
    const shop_field *table = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        const shop_field *field = &table[i];
        if (!belongs(field, group)) {
            continue;
        }
        fputs(".TP\n.B ", to);
        pages_literal(to, field->path);
        fputc('\n', to);
        if (field->kinds != 0) {
            fputc('(', to);
            words_of_bits(to,
                          strncmp(field->path, "tools[].", 8) == 0 ? "tools[1].kind"
                          : field->owner == SHOP_OF_BAND           ? "bands[1].fill"
                                                                   : "outline.shape",
                          field->kinds);
            fputs(") ", to);
        }
        allowed(to, field);
        if (field->needed) {
            fputs("; must be given", to);
        } else if (field->fallback != NULL) {
            fputs("; default ", to);
            pages_literal(to, field->fallback);
        }
        fputs(".\n.br\n", to);
        pages_text(to, field->help);
        if (field->more != NULL) {
            fputc(' ', to);
            pages_text(to, field->more);
        }
        fputc('\n', to);
        written++;
    }
    return written > 0;
}

static bool example(FILE *to) {
    char *program = pages_read("tests/docs/example.inc", NULL);
    if (program != NULL) {
        fputs(".in +4n\n.EX\n", to);
        pages_literal(to, program);
        fputs(".EE\n.in\n", to);
    }
    free(program);
    return program != NULL;
}

bool pages_part(FILE *to, const char *name) {
    if (strcmp(name, "synopsis") == 0) {
        synopsis(to);
    } else if (strcmp(name, "verbs") == 0) {
        verbs(to);
    } else if (strcmp(name, "options") == 0) {
        options(to);
    } else if (strcmp(name, "fields head") == 0) {
        return fields(to, "");
    } else if (strncmp(name, "fields ", 7) == 0) {
        return fields(to, name + 7);
    } else if (strcmp(name, "keys") == 0) {
        bench_keys_manual(to);
    } else if (strcmp(name, "example") == 0) {
        return example(to);
    } else if (strncmp(name, "functions ", 10) == 0) {
        return pages_functions(to, name + 10);
    } else {
        return false;
    }
    return true;
}

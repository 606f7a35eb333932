/* options.c - arguments sorted into a verb, its options and its operands.
 *
 * POSIX.1-2017, XBD 12.2: letters may be grouped, a value may stand apart or be joined, -- ends the options. Long names
 * are matched whole, with =VALUE or the value after it. Options may also follow operands unless POSIXLY_CORRECT is set.
 */
#include <stdlib.h>
#include <string.h>

#include "verbs/verbs.h"

typedef struct sorting {
    int argc, at;
    char **argv;
    verb_args *args;
    const char *joined; /* rest of a group of letters still to be read */
} sorting;

static int find_long(const char *name, size_t length) {
    for (int id = 0; id < VERB_OPTION_COUNT; id++) {
        if (strlen(verb_options()[id].name) == length && strncmp(verb_options()[id].name, name, length) == 0) {
            return id;
        }
    }
    return -1;
}

static int find_letter(char letter) {
    for (int id = 0; id < VERB_OPTION_COUNT; id++) {
        if (verb_options()[id].letter != 0 && verb_options()[id].letter == letter) {
            return id;
        }
    }
    return -1;
}

static bool take(sorting *s, int id, const char *value, const char *shown) {
    const verb_option *option = &verb_options()[id];
    if (option->value == NULL) {
        if (value != NULL) {
            verb_complain("%s takes no value", shown);
            return false;
        }
        value = "";
    } else if (value == NULL) {
        if (s->at >= s->argc) {
            verb_complain("%s needs a value: %s", shown, option->value);
            return false;
        }
        value = s->argv[s->at++];
    }
    s->args->given[id] = value;
    if (id == VERB_SWEEP) { /* the one that counts as often as it is given */
        s->args->sweeps[s->args->sweep_count++] = value;
    }
    return true;
}

static bool take_long(sorting *s, const char *word) {
    const char *name = word + 2, *equals = strchr(name, '=');
    size_t length = equals != NULL ? (size_t)(equals - name) : strlen(name);
    int id = find_long(name, length);
    if (id < 0) {
        verb_complain("there is no option %.*s (see bandwright --help)", (int)(length < 100 ? length + 2 : 102), word);
        return false;
    }
    char shown[32];
    snprintf(shown, sizeof shown, "--%s", verb_options()[id].name);
    return take(s, id, equals != NULL ? equals + 1 : NULL, shown);
}

static bool take_letters(sorting *s, const char *word) {
    for (const char *letter = word + 1; *letter != '\0'; letter++) {
        int id = find_letter(*letter);
        char shown[8] = {'-', *letter, '\0'};
        if (id < 0) {
            verb_complain("there is no option %s (see bandwright --help)", shown);
            return false;
        }
        bool with_value = verb_options()[id].value != NULL;
        const char *joined = with_value && letter[1] != '\0' ? letter + 1 : NULL;
        if (!take(s, id, joined, shown)) {
            return false;
        }
        if (with_value) {
            break;
        }
    }
    return true;
}

static bool allowed(const verb *which, const verb_args *args) {
    for (int id = 0; id < VERB_OPTION_COUNT; id++) {
        if (args->given[id] != NULL && !verb_has(which, (verb_option_id)id)) {
            const char *name = which->name != NULL ? which->name : "the workbench";
            verb_complain("%s has no option --%s (see --help)", name, verb_options()[id].name);
            return false;
        }
    }
    return true;
}

bool verb_parse(int argc, char **argv, verb_args *args, const verb **which) {
    sorting s = {.argc = argc, .at = 1, .argv = argv, .args = args};
    bool only_operands = false, strict = getenv("POSIXLY_CORRECT") != NULL;
    size_t count;
    *which = verb_table(&count); /* the workbench, unless a verb comes first */
    args->operands = calloc((size_t)argc + 1, sizeof *args->operands);
    args->sweeps = calloc((size_t)argc + 1, sizeof *args->sweeps);
    if (args->operands == NULL || args->sweeps == NULL) {
        verb_complain("out of memory");
        return false;
    }
    while (s.at < s.argc) {
        char *word = s.argv[s.at++];
        bool option = !only_operands && word[0] == '-' && word[1] != '\0';
        if (option && strcmp(word, "--") == 0) {
            only_operands = true;
        } else if (option) {
            if (!(word[1] == '-' ? take_long(&s, word) : take_letters(&s, word))) {
                return false;
            }
        } else if (!only_operands && args->operand_count == 0 && (*which)->name == NULL && verb_find(word) != NULL) {
            *which = verb_find(word);
        } else {
            args->operands[args->operand_count++] = word;
            only_operands = only_operands || strict;
        }
    }
    return allowed(*which, args);
}

/* help.c - what can be given, and the completion script for bash, from the table of verbs. */
#include <stdlib.h>
#include <string.h>

#include "verbs/verbs.h"

static void option_lines(FILE *to, const verb *which) {
    fputs("\nOptions:\n", to);
    for (int id = 0; id < VERB_OPTION_COUNT; id++) {
        const verb_option *option = &verb_options()[id];
        if (!verb_has(which, (verb_option_id)id)) {
            continue;
        }
        char left[48], letter[8] = "    ";
        if (option->letter != 0) {
            snprintf(letter, sizeof letter, "-%c, ", option->letter);
        }
        snprintf(left, sizeof left, "%s--%s%s%s", letter, option->name, option->value != NULL ? " " : "",
                 option->value != NULL ? option->value : "");
        fprintf(to, "  %-22s  %s\n", left, option->help);
    }
}

static void help_of_all(FILE *to) {
    size_t count;
    const verb *table = verb_table(&count);
    fputs(
        "bandwright lays out bands of stamp impressions that follow the edge of a leather piece and come out even.\n\n"
        "Usage:\n",
        to);
    for (size_t i = 0; i < count; i++) {
        char left[64];
        snprintf(left, sizeof left, "bandwright%s%s %s", table[i].name != NULL ? " " : "",
                 table[i].name != NULL ? table[i].name : "", table[i].operands);
        fprintf(to, "  %-36s  %s\n", left, table[i].help);
    }
    fprintf(to, "\n%s", table[0].more);
    option_lines(to, &table[0]);
    fputs("\nbandwright VERB --help says more about a verb. -- ends the options.\n"
          "Exit status: 0 the plan closes and fits; 1 computed, but some band does not fit; 2 wrong usage;\n"
          "65 a file says what it may not; 66 no such file; 73 cannot be made; 74 cannot be written.\n",
          to);
}

void verb_help(FILE *to, const verb *which) {
    if (which == NULL) {
        help_of_all(to);
        return;
    }
    fprintf(to, "Usage: bandwright %s [OPTION...] %s\n\n%c%s.\n%s", which->name, which->operands,
            which->help[0] - 'a' + 'A', which->help + 1, which->more);
    option_lines(to, which);
}

/* Words of the options of a verb, as a shell would complete them. */
static void option_words(FILE *to, const verb *which) {
    for (int id = 0; id < VERB_OPTION_COUNT; id++) {
        if (verb_has(which, (verb_option_id)id)) {
            fprintf(to, " --%s", verb_options()[id].name);
        }
    }
}

void verb_completions(FILE *to) {
    size_t count;
    const verb *table = verb_table(&count);
    fputs("# Completion of bandwright for bash; written by `bandwright --completions`.\n"
          "_bandwright() {\n"
          "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} verb=${COMP_WORDS[1]}\n"
          "    local words\n"
          "    COMPREPLY=()\n"
          "    case $before in\n",
          to);
    fprintf(
        to,
        "        --%s | -%c) mapfile -t COMPREPLY < <(compgen -W 'text yaml csv' -- \"$word\"); return ;;\n"
        "        --%s | -%c | --%s | -%c | --%s | --%s) mapfile -t COMPREPLY < <(compgen -f -- \"$word\"); return ;;\n"
        "        --%s | -%c) mapfile -t COMPREPLY < <(compgen -W 'a4 a5 letter' -- \"$word\"); return ;;\n"
        "        --%s) mapfile -t COMPREPLY < <(compgen -W 'good tight' -- \"$word\"); return ;;\n"
        "    esac\n"
        "    case $verb in\n",
        verb_options()[VERB_FORMAT].name, verb_options()[VERB_FORMAT].letter, verb_options()[VERB_INVENTORY].name,
        verb_options()[VERB_INVENTORY].letter, verb_options()[VERB_OUT].name, verb_options()[VERB_OUT].letter,
        verb_options()[VERB_KEYS].name, verb_options()[VERB_SCREEN].name, verb_options()[VERB_PAPER].name,
        verb_options()[VERB_PAPER].letter, verb_options()[VERB_HOW_WELL].name);
    for (size_t i = 1; i < count; i++) {
        fprintf(to, "        %s) words='", table[i].name);
        option_words(to, &table[i]);
        fputs("' ;;\n", to);
    }
    fputs("        *) words='", to);
    option_words(to, &table[0]);
    for (size_t i = 1; i < count; i++) {
        fprintf(to, " %s", table[i].name);
    }
    fputs("' ;;\n"
          "    esac\n"
          "    if [[ $verb == @(set|new) && $2 == *@* ]]; then\n"
          "        # a file named in a value, outline.svg=@FILE; $2 is what readline puts another text in place of\n"
          "        compopt +o filenames\n" /* which would put a backslash before the @ */
          "        mapfile -t COMPREPLY < <(compgen -P \"${2%%@*}@\" -f -- \"${2#*@}\")\n"
          "        return\n"
          "    fi\n"
          "    if [[ $word == -* ]] || { ((COMP_CWORD == 1)) && [[ $word != */* ]]; }; then\n"
          "        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$word\")\n"
          "    elif ((COMP_CWORD > 2)) && [[ $verb == [gs]et ]]; then\n"
          "        # paths as the file itself has them, blanks escaped\n"
          "        compopt -o nospace\n"
          "        local IFS=$'\\n'\n"
          "        words=$(bandwright get \"${COMP_WORDS[2]}\" 2>/dev/null | sed 's/=.*//; s/ /\\\\\\\\ /g')\n"
          "        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$word\")\n"
          "    fi\n"
          "    if ((${#COMPREPLY[@]} == 0)) || ((COMP_CWORD == 1)); then\n"
          "        local files\n"
          "        mapfile -t files < <(compgen -f -- \"$word\")\n"
          "        COMPREPLY+=(\"${files[@]}\")\n"
          "    fi\n"
          "}\n"
          "complete -o filenames -F _bandwright bandwright\n",
          to);
}

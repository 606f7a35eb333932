/* verbs.c - the table of verbs and of options, and the choice among them. */
#include "verbs/verbs.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Ends with what is no option. */
#define OPTIONS(...) ((const verb_option_id[]){__VA_ARGS__, VERB_OPTION_COUNT})

static const verb_option options[VERB_OPTION_COUNT] = {
    [VERB_HELP] = {"help", 'h', NULL, "say what can be given, and stop"},
    [VERB_VERSION] = {"version", 'V', NULL, "say which version this is, and stop"},
    [VERB_COMPLETIONS] = {"completions", 0, NULL, "write the completion script for bash, and stop"},
    [VERB_INVENTORY] = {"inventory", 'i', "FILE",
                        "the shop's tools; usually $XDG_DATA_HOME/bandwright/inventory.yaml, else "
                        "~/.local/share/bandwright/inventory.yaml"},
    [VERB_FORMAT] = {"format", 'f', "FORMAT", "text (usual), yaml or csv"},
    [VERB_KEYS] = {"keys", 0, "FILE", "replay these keys in place of a terminal"},
    [VERB_SCREEN] = {"screen", 0, "FILE", "write the last screen there as text"},
    [VERB_SIZE] = {"size", 0, "WxH", "columns and lines of that screen, 80x24 if not given"},
    [VERB_ASPECT] = {"aspect", 0, "RATIO",
                     "height of a cell by its width, for drawings: 1 to 3; usually $BANDWRIGHT_ASPECT, else 2"},
    [VERB_DRAWING] = {"drawing", 0, "HOW",
                      "plain, blocks or braille; usually $BANDWRIGHT_DRAWING, else plain; a locale without UTF-8 is "
                      "always plain"},
    [VERB_KEYS_FILE] = {"keys-file", 0, "FILE",
                        "keys as this file changes them; usually $XDG_CONFIG_HOME/bandwright/keys, else "
                        "~/.config/bandwright/keys; the shipped file share/bandwright/keys names them all"},
    [VERB_MOUSE] = {"mouse", 0, "on|off",
                    "whether the mouse is used, on if not given; off leaves it to the terminal's own selection"},
    [VERB_OUT] = {"out", 'o', "FILE", "the file to write; its ending says what it is"},
    [VERB_PAPER] =
        {"paper", 'p', "SHEET",
         "a4, a5, letter, or width x height such as 300x450 or 12x18in; usually a4, letter for a file in inches"},
    [VERB_IMPRESSIONS] = {"impressions", 0, NULL, "draw every impression, faint"},
    [VERB_MIRROR] = {"mirror", 0, NULL, "draw the piece mirrored, to trace it on the flesh side"},
    [VERB_SWEEP] = {"sweep", 0, "PATH=FROM:TO:STEP",
                    "plan with one value after the other, also PATH=A,B,C; several: all combinations"},
    [VERB_WIDTH] = {"width", 'w', "PIXELS", "how wide the picture is; usually about 3 million pixels in all"},
    [VERB_RULE] = {"rule", 0, "L", "how finely the rule is read, 0.5 mm if not given"},
    [VERB_ADD] = {"add", 0, NULL, "write the strip into the tool"},
    [VERB_DROP] = {"drop", 0, "N", "take strip or round N of the list out of the tool"},
    [VERB_STRUCK] = {"struck", 0, "N",
                     "impressions of the run that are struck; if not given, those of the round that the file has in "
                     "hand"},
    [VERB_LEFT] = {"left", 0, "LENGTH", "what is left of the run to go, in the file's unit unless another is given"},
    [VERB_RUN] = {"run", 0, "R", "which run of a guide that is cut at corners, 1 if not given"},
    [VERB_TOLERANCE] =
        {"tolerance", 0, "LENGTH",
         "how far a round may miss its end and still close: 0.4 mm if not given; check marks are as many "
         "as that takes in 95 of 100 rounds"},
    [VERB_MARKS] =
        {"marks", 0, "N",
         "check marks whose places are told; usually as many as 95 % take, and 3 if that is fewer or not known"},
    [VERB_WITHIN] = {"within", 0, "LENGTH", "how far each value may move, 3 mm or 1/8 in if not given"},
    [VERB_LIMIT] = {"limit", 0, "SHARE", "by how much a step may change, 3 % of the usual one if not given"},
    [VERB_ONLY] = {"only", 0, "PATHS", "what may move, such as outline.diameter,bands.weave.width or bands.weave"},
    [VERB_ANSWERS] = {"answers", 0, "N", "how many answers at most, 5 if not given"},
    [VERB_HOW_WELL] = {"fits", 0, "good|tight", "how well every band must fit, good if not given"},
    [VERB_CHANGES] = {"changes", 0, "N", "how many values an answer may change at most"},
    [VERB_TRIALS] = {"trials", 0, "N", "how many trials before it stops, 400000 if not given"},
};

static const verb verbs[] = {
    {NULL, "[FILE]", "open the workbench",
     "Without FILE it shows what was open last, the examples and how to begin. A FILE that does not exist begins a "
     "new\n"
     "piece. A file named like a verb is given as ./plan.\n",
     0, 1,
     OPTIONS(VERB_VERSION, VERB_COMPLETIONS, VERB_INVENTORY, VERB_KEYS, VERB_SCREEN, VERB_SIZE, VERB_ASPECT,
             VERB_DRAWING, VERB_KEYS_FILE, VERB_MOUSE, VERB_TOLERANCE),
     verb_workbench},
    {"plan", "FILE...", "write the plan: settings, counts, steps, warnings",
     "text is the page to take to the bench; yaml holds every figure in full; csv holds every single impression.\n"
     "Exit status 0: every band closes and fits. 1: some band does not.\n"
     "Of several files a form feed parts the pages, `--- # FILE` begins each yaml document, and csv has a first\n"
     "column `file`. What is wrong with one file does not stop the others; the exit status is the greatest.\n"
     "--sweep writes a table (csv) in place of plans: a line for each band and combination of values, the first\n"
     "--sweep changing slowest. Lengths, shares and numbers go FROM:TO:STEP, with units where you like\n"
     "(bands.weave.width=15:25:0.5, bands.weave.guide=40 %:60 %:1 %); anything goes as a list\n"
     "(bands.weave.lose=even,straights). Columns: the values, file, band, verdict, run (the one the figures are of:\n"
     "the worst), count, step, usual-step, closure-gap, step-change, reach, crowd, bend, bare-outer, bare-inner,\n"
     "strikes (of all runs), refused (why a value cannot be, in place of figures). Lengths in mm, in full.\n"
     "Exit status then 0: with some combination every band closes and fits, in each file. 1: with none.\n",
     1, -1, OPTIONS(VERB_INVENTORY, VERB_FORMAT, VERB_SWEEP, VERB_TOLERANCE), verb_plan},
    {"card", "FILE [-o OUT.pdf|OUT.txt]", "write the card for the bench: settings, counts, check marks, boxes to tick",
     "Without -o as text, to standard output.\n"
     "Exit status 0: every band closes and fits. 1: some band does not, and the card says so.\n",
     1, 1, OPTIONS(VERB_INVENTORY, VERB_OUT, VERB_PAPER, VERB_TOLERANCE), verb_card},
    {"picture", "FILE -o OUT.png", "write a picture of the finished piece",
     "Every impression is pressed in relief, with cut lines, bevels and stitches, in soft light from the upper left.\n"
     "Printed, the picture is as large as the piece. The faces of border stamps are drawn\n"
     "as shells of their length and width, as their patterns are not in the file. Of an open edge, leather is drawn\n"
     "as far in as its bands lie.\n",
     1, 1, OPTIONS(VERB_INVENTORY, VERB_OUT, VERB_WIDTH), verb_picture},
    {"fit", "FILE [BAND]", "rank the stamps for a band, with the reason for each verdict",
     "Without BAND, for every band that has a tool; with BAND it also tells which sizes of a stamp would do.\n"
     "Exit status 0: for each of them some tool is good or tight. 1: for one of them none is.\n",
     1, 2, OPTIONS(VERB_INVENTORY), verb_fit},
    {"template", "FILE -o OUT", "draw the piece at full size, to be printed, traced and cut",
     "OUT ends in .pdf, .svg or .png. First a page of words and trial strips to be struck on scrap, then the piece: "
     "on\n"
     "one sheet, or on as few as hold it, with marks by which they are joined. Several pages of .svg or .png become\n"
     "files of their own, OUT-1.svg, OUT-2.svg and so on. A file that is there is written over.\n"
     "For example: bandwright template lid.yaml -o lid.pdf --paper letter --impressions\n"
     "Exit status 0: written, and every band closes and fits. 1: written, but some band does not.\n",
     1, 1, OPTIONS(VERB_INVENTORY, VERB_OUT, VERB_PAPER, VERB_IMPRESSIONS, VERB_MIRROR, VERB_TOLERANCE), verb_template},
    {"strip", "[FILE] TOOL [KEY=VALUE...]", "what test strips tell of a tool: its steps, their spread and bias",
     "Strike ten impressions on scrap as you usually do, without a look at the rule, and measure from one point of "
     "the\n"
     "first to the same point of the last. The tool's own strips and rounds and the one given here count together.\n"
     "Without FILE the tool is the inventory's. A strip is said as KEY=VALUE: impressions=N and length=LENGTH, or\n"
     "tips=LENGTH (over all, from tip to tip; one face is taken off), or places=7.4,15.1,22.5 (where each impression\n"
     "stands, all measured from the first); struck=usual, closest or widest (how it was struck); aimed=LENGTH (a step\n"
     "that was pricked off before); leather=TEXT; date=TEXT.\n"
     "For example: bandwright strip lid.yaml basket-m impressions=10 length=67.6 --add\n"
     "A wrong one goes by its number in the list: bandwright strip lid.yaml basket-m --drop 3\n",
     1, -1, OPTIONS(VERB_INVENTORY, VERB_RULE, VERB_ADD, VERB_DROP), verb_strip},
    {"rest", "FILE BAND", "close a round that is struck in part, whatever has drifted",
     "For example: bandwright rest lid.yaml weave --struck 24 --left 132.5\n"
     "What is left is measured along the guide: of a closed round from a point of the last impression on to the same\n"
     "point of the first, of an open run from the leading tip of the last impression to the run's end. Each count "
     "that\n"
     "closes it is told, best first, with its steps, whether the other rows still reach, and new check marks: those "
     "made\n"
     "before hold no more. First comes what no count mends: rows that do not fit the part struck, and a count or a "
     "measure\n"
     "that can hardly be right. With the round in hand of the file, what was told at the measure before is gone by.\n"
     "Exit status 0: some count works. 1: none does, or not on the part struck, or the measure can hardly be right.\n",
     2, 2, OPTIONS(VERB_INVENTORY, VERB_STRUCK, VERB_LEFT, VERB_RUN), verb_rest},
    {"marks", "FILE [BAND]", "check marks: how surely a round closes with them, and where they lie",
     "Without BAND, for every band that is struck. The chances are those of your own hand: of what two test strips or "
     "more\n"
     "of the band's tool tell of it. Struck through, without a look; with the stamp set anew on each mark; and with "
     "what\n"
     "you are off at a mark shared among the steps to the next one, at most 3 % of each and never among the last "
     "three\n"
     "(tried by lot, the same lots each time; \"give or take\" is one standard error).\n"
     "\"it may be\" is the chance at the 95 % limits of what the strips tell: few strips leave much open.\n"
     "Places: after how many impressions, how far along the guide, and the straight setting of the dividers from mark "
     "to\n"
     "mark, measured across the true line.\n",
     1, 2, OPTIONS(VERB_INVENTORY, VERB_TOLERANCE, VERB_MARKS), verb_marks},
    {"even", "FILE", "find the fewest and smallest changes after which every band closes and fits",
     "Searches over all bands and the outline at once: no step may change by more than the limit, every fit is good.\n"
     "Space, width and guide of bands and sizes of the outline may move, on the dividers' grid; what is marked fixed\n"
     "never does. Answers move different values: those with fewest changes first, then those that move least. At the\n"
     "end it says whether the first is the best there is, or how far everything was looked at. Ctrl-C stops it and\n"
     "shows what was found. text or yaml.\n"
     "Exit status 0: an answer was found. 1: none.\n",
     1, 1,
     OPTIONS(VERB_INVENTORY, VERB_FORMAT, VERB_WITHIN, VERB_LIMIT, VERB_ONLY, VERB_ANSWERS, VERB_HOW_WELL, VERB_CHANGES,
             VERB_TRIALS),
     verb_even},
    {"get", "FILE [PATH...]", "write values as PATH=VALUE, a line each",
     "A value is written as it stands in the file, or its default. Without PATH, all of them. Paths look like\n"
     "outline.diameter, bands.weave.width, bands[2].width or tools.basket-m.length.\n",
     1, -1, OPTIONS(VERB_INVENTORY), verb_get},
    {"set", "FILE PATH=VALUE...", "change values in the file, and nothing else in it",
     "All of the changes are made or none. An empty VALUE takes the value out, so that its default holds.\n", 2, -1,
     OPTIONS(VERB_INVENTORY), verb_set},
    {"new", "FILE [PATH=VALUE...]", "make a new file",
     "Bands and tools that a PATH names are made in that order. A FILE that exists is left alone.\n"
     "A tool that a band has from the inventory is copied into the piece, so that it can go to another bench.\n"
     "The shape is the one whose sizes are given, a circle if none are; length and width need outline.shape, too.\n"
     "outline.svg=@DRAWING takes the first path of an SVG drawing, its scale from the drawing's own size, and says "
     "what\n"
     "it left out.\n"
     "For example: bandwright new lid.yaml outline.diameter=120 tools.b9.kind=basket\n"
     "tools.b9.length=9 bands.weave.width=20 bands.weave.fill=basket bands.weave.tool=b9\n",
     1, -1, OPTIONS(VERB_INVENTORY), verb_new},
};

const verb *verb_table(size_t *count) {
    *count = sizeof verbs / sizeof verbs[0];
    return verbs;
}

const verb_option *verb_options(void) {
    return options;
}

bool verb_has(const verb *which, verb_option_id id) {
    const verb_option_id *at = which->options;
    while (*at != VERB_OPTION_COUNT && *at != id) {
        at++;
    }
    return *at == id || id == VERB_HELP;
}

const verb *verb_find(const char *name) {
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        if (verbs[i].name != NULL && strcmp(verbs[i].name, name) == 0) {
            return &verbs[i];
        }
    }
    return NULL;
}

int verb_complain(const char *format, ...) {
    char raw[1024], clean[4096];
    va_list values;
    va_start(values, format);
    vsnprintf(raw, sizeof raw, format, values);
    va_end(values);
    shop_clean(raw, strlen(raw), clean, sizeof clean);
    fprintf(stderr, "bandwright: %s\n", clean);
    return VERB_USAGE;
}

/* A word in the place of a verb that is none and no file, either. */
static bool is_no_verb(const verb *which, const verb_args *args) {
    bool asked = args->given[VERB_HELP] != NULL || args->operand_count > 1;
    const char *word = args->operand_count > 0 ? args->operands[0] : "";
    return which->name == NULL && asked && word[0] != '\0' && strpbrk(word, "./") == NULL && access(word, F_OK) != 0;
}

static int complain_of_verb(const char *word) {
    char all[400];
    size_t used = 0;
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0] && used < sizeof all; i++) {
        if (verbs[i].name != NULL) {
            used += (size_t)snprintf(all + used, sizeof all - used, "%s%s", used > 0 ? ", " : "", verbs[i].name);
        }
    }
    return verb_complain("there is no verb %.60s; the verbs: %s (more with --help)", word, all);
}

static int run(const verb *which, const verb_args *args) {
    if (is_no_verb(which, args)) {
        return complain_of_verb(args->operands[0]);
    }
    if (args->given[VERB_HELP] != NULL) {
        verb_help(stdout, which->name == NULL ? NULL : which);
        return 0;
    }
    if (args->given[VERB_VERSION] != NULL) {
        puts("bandwright " BW_VERSION);
        return 0;
    }
    if (args->given[VERB_COMPLETIONS] != NULL) {
        verb_completions(stdout);
        return 0;
    }
    if (args->operand_count < which->least || (which->most >= 0 && args->operand_count > which->most)) {
        const char *name = which->name != NULL ? which->name : "", *blank = name[0] != '\0' ? " " : "";
        return verb_complain("too %s given; usage: bandwright%s%s %s (more with --help)",
                             args->operand_count < which->least ? "little is" : "much is", blank, name,
                             which->operands);
    }
    return which->run(args);
}

int verb_main(int argc, char **argv) {
    verb_args args = {.operands = NULL};
    const verb *which = NULL;
    int status = VERB_USAGE;
    if (verb_parse(argc, argv, &args, &which)) {
        status = run(which, &args);
    }
    free(args.sweeps);
    free(args.operands);
    return status;
}

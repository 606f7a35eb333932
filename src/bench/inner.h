/* bench/inner.h - what the files of this room share; no other room includes it. */
#ifndef BENCH_INNER_H
#define BENCH_INNER_H

#include <limits.h>
#include <stdint.h>

#include "bandwright/limits.h"
#include "bandwright/rest.h"
#include "bench/bench.h"
#include "bench/draw.h"
#include "bench/entry.h"
#include "bench/form.h"
#include "bench/handlers.h"
#include "bench/keyboard.h"
#include "bench/shelf.h"
#include "bench/strip.h"
#include "desk/journal.h"
#include "show/show.h"

typedef enum bench_screen {
    BENCH_START,      /* recent files, examples, a new piece */
    BENCH_FORM,       /* a new piece */
    BENCH_WORK,       /* the workbench */
    BENCH_TOOLS,      /* choosing a stamp */
    BENCH_MOVES,      /* suggestions */
    BENCH_EVEN,       /* sizes that close */
    BENCH_FILLS,      /* what a new band holds */
    BENCH_ROUND,      /* along the round, impression by impression */
    BENCH_STRIKES,    /* counting strikes */
    BENCH_REST,       /* what is left of a round, and the counts that close it */
    BENCH_ITEMS,      /* the items of a list */
    BENCH_SECOND,     /* two layouts side by side */
    BENCH_LOOK,       /* one drawing in all of the window */
    BENCH_TABLE,      /* the spacing table in all of the window */
    BENCH_INVENTORY,  /* the shop's tools and the piece's copies */
    BENCH_TOOL,       /* the values of one tool */
    BENCH_TOOL_ITEMS, /* the items of a list of its */
    BENCH_KINDS,      /* what a new tool is */
    BENCH_STRIP,      /* a test strip of a tool */
    BENCH_READ,       /* a text to read: help, figures, warnings, the page for the bench */
    BENCH_ASK,        /* a question */
    BENCH_LEFT,       /* changes that a program left behind */
    BENCH_THEIRS,     /* somebody else changed the file */
    BENCH_COMMANDS,   /* all commands, searched by typing */
    BENCH_TYPING,     /* a line of text is being typed, whatever is behind it */
    BENCH_SCREENS
} bench_screen;

/* What a typed line is for. */
typedef enum bench_typing {
    TYPING_NOTHING,
    TYPING_VALUE,    /* the field in hand */
    TYPING_ITEM,     /* the item in hand */
    TYPING_FORM,     /* the form's row in hand */
    TYPING_SAVE_AS,  /* a file's name */
    TYPING_OPEN,     /* a file's name */
    TYPING_TEMPLATE, /* the name of the template's file */
    TYPING_PAPER,    /* and its sheet */
    TYPING_CARD,     /* the name of the file of the card beside the work */
    TYPING_PICTURE,  /* the name of the picture's file */
    TYPING_NEW_TOOL, /* the length of a stamp that is not in the list */
    TYPING_COMMAND,  /* what is looked for in the list of commands */
    TYPING_STRIP,    /* the row in hand of a test strip's form */
    TYPING_FIND,     /* what the inventory's list is to show */
    TYPING_ADD,      /* the size or the id of a tool that is added to the inventory */
    TYPING_TOOL,     /* a value of the inventory's tool in hand */
    TYPING_LEFT,     /* what is left of a round */
    TYPING_TOLERANCE /* by how much a round may miss its end */
} bench_typing;

/* ---- lists ---- */

typedef struct bench_list {
    size_t at, first, count;
} bench_list;

/* Moves by a key of lists; false if it is none. page = lines seen at once. */
bool list_key(bench_list *list, int key, size_t page);
bool list_back(int key);                        /* one that moves towards the first */
void list_show(bench_list *list, size_t lines); /* so that `at` is seen */
size_t list_page(const bench *b);               /* lines of a page in most windows */

/* ---- fields of what is in hand ---- */

#define ROWS_MOST 48

typedef struct bench_row {
    const shop_field *field;
    char path[ROW_TEXT];
    char text[ROW_TEXT];  /* as in the file, or the default; the beginning of a long one */
    char words[ROW_TEXT]; /* as shown */
    bool given;           /* stands in the file */
    bool fixed;           /* suggestions leave it */
} bench_row;

typedef struct bench_card {
    bench_row rows[ROWS_MOST];
    size_t count;
} bench_card;

/* ---- the start screen's rows ---- */

typedef struct bench_place {
    char *path;       /* NULL: the new piece */
    const char *kind; /* "recent", "example", "left" */
    char *words;      /* of what was left: "3 changes"; else NULL */
} bench_place;

typedef enum bench_question {
    ASK_NOTHING,
    ASK_UNSAVED,
    ASK_OVERWRITE,
    ASK_HELD,
    ASK_TOOL_OUT,          /* the tool in hand goes */
    ASK_INVENTORY_UNSAVED, /* at quitting */
    ASK_INVENTORY_LEFT     /* changes that a program left behind */
} bench_question;

/* What is to be done once the layout is saved or dropped. */
typedef enum bench_after { AFTER_NOTHING, AFTER_QUIT, AFTER_START } bench_after;

/* What the lower right shows. */
typedef enum bench_shown {
    BENCH_SHOWN_BOTH,
    BENCH_SHOWN_PIECE,
    BENCH_SHOWN_TABLE,
    BENCH_SHOWN_STRAIGHT,
    BENCH_SHOWN
} bench_shown;

/* What the window of a drawing shows. */
typedef enum look_shown { LOOK_PIECE, LOOK_STRAIGHT, LOOK_SEAM, LOOK_SHOWN } look_shown;

typedef struct look_state {
    look_shown shown;
    show_sight sight;
    int at;          /* of the marked places the one gone to; -1: none */
    bool aimed;      /* looking closer keeps this place in view */
    bw_point aim;    /* mm, on the piece */
    int impression;  /* in hand; 0: the seam */
    int page, pages; /* of the band laid straight */
} look_state;

struct bench {
    char *inventory, *state, *examples; /* bench_places */
    desk *desk;
    bench_screen screen;
    bench_screen back; /* of BENCH_READ and BENCH_ASK */
    bench_list back_list;
    unsigned effects;
    char message[700];
    bool bad;   /* the message is a refusal */
    int height; /* of the grid drawn last: a page */

    size_t card;  /* 0 the piece, then the bands, then the project's tools */
    size_t band;  /* the band that is looked at */
    size_t field; /* row in hand */
    size_t field_first;
    double aspect;      /* height of a terminal's cell by its width */
    double tolerance;   /* mm by which a round may miss its end; 0: as usual */
    int view;           /* a bench_shown: what the lower right shows */
    int straight_page;  /* of the band laid straight: from its start, -1 = where it fails */
    int straight_pages; /* how many there were in the window drawn last */
    bool has_views;     /* and whether the window drawn last has room for it */

    bench_typing typing;
    bench_entry entry;
    bw_kind new_kind; /* TYPING_NEW_TOOL */
    int new_fill;     /* the fill that waits for it; -1: the band's tool only */
    bool new_band;    /* a new band waits for it, to stand at new_at */
    size_t new_at;
    bool item_new;                         /* TYPING_ITEM: one more, to stand at the line in hand */
    double gap_before;                     /* when a trial began */
    bool worked;                           /* the band did, then */
    bool list_moved;                       /* BENCH_MOVES, BENCH_EVEN: something was chosen by hand */
    int even_nearer;                       /* BENCH_EVEN: so much nearer to the usual step than usual is asked for */
    bool even_tight;                       /* and a tight fit is good enough */
    char *even_rows[BW_EVEN_ANSWERS_MOST]; /* its list in words */
    size_t even_row_count;

    bench_list list;
    bench_place *start;
    size_t start_count;
    bench_form form;
    bench_strip strip; /* BENCH_STRIP */

    int second_chosen;   /* BENCH_SECOND: 0 the layout in hand, 1 the held one */
    bool theirs_stock;   /* BENCH_THEIRS: of the inventory */
    desk *stock;         /* the open inventory, NULL until it was looked at */
    char stock_bad[300]; /* why pieces are opened without it; "" if they are not */
    bench_shelf shelf;

    char *text;     /* BENCH_READ */
    int page_width; /* the text is the page for the bench in lines of so many cells; 0: it is another */
    char title[200];

    bench_question question;
    bench_after after;
    char *file; /* ASK_OVERWRITE, TYPING_TEMPLATE, TYPING_PAPER */

    look_state look;            /* BENCH_LOOK */
    show_spacing_place spacing; /* BENCH_TABLE */
    show_fine fine_drawing;     /* as the maker chose it */
    bool unicode;               /* of the grid drawn last */

    int impression;       /* BENCH_ROUND */
    bw_rest *rest;        /* BENCH_REST */
    bool rest_sure;       /* of a measure that can hardly be it was asked once */
    bool left_offered;    /* the line TYPING_LEFT was opened with what should be left by the steps told */
    bool rest_unmeasured; /* and b->rest is of just that: nobody has measured it */

    desk_left *left;   /* BENCH_LEFT: what is asked about */
    bool dropping;     /* and it shall be dropped for good */
    bool trouble_told; /* that changes are not kept */

    bench_keys *keys;             /* one a row of the table of commands; NULL: as shipped */
    bench_spot spots[SPOTS_MOST]; /* of the window drawn last */
    size_t spot_count;
    bool pointer; /* the mouse is used */
    bool pasting;
    size_t pasted, passed_over; /* characters of the paste: taken, and met while nothing was typed */
    bench_screen commands_from; /* BENCH_COMMANDS: where it was opened */
    bench_list commands_list;
};

/* ---- the one table of commands ---- */

typedef struct bench_command {
    int keys[COMMAND_KEYS];
    int shown;        /* how many of its keys the bottom line names; 0: it is only in the help */
    const char *name; /* for the bottom line: "undo" */
    const char *help; /* one sentence */
    unsigned where;   /* bits 1u << bench_screen */
    void (*run)(bench *b, int key);
    const char *(*refuse)(const bench *b); /* why it cannot be done now, NULL if it can; may be NULL */
} bench_command;

#define COMMANDS_MOST 400
const bench_command *bench_commands(size_t *count);
bench_screen bench_where(const bench *b); /* the screen that the keys go to */
/* The places of the program as lists and files of keys name them, in their order there. */
typedef struct bench_place_name {
    bench_screen screen;
    const char *word, *title; /* "workbench", "On the workbench" */
    const char *hint;         /* what to press instead of a key that does nothing here, for key_words */
} bench_place_name;
const bench_place_name *bench_place_names(size_t *count);
const char *bench_hint(bench_screen screen);
/* "on the workbench, in lists". */
void command_where_words(const bench_command *command, char out[200]);

/* ---- what the handlers share ---- */

__attribute__((format(printf, 2, 3))) void bench_say(bench *b, const char *format, ...);
__attribute__((format(printf, 2, 3))) void bench_refuse(bench *b, const char *format, ...);
/* The first error as the message. Frees problems. */
void bench_refuse_problem(bench *b, shop_problems *problems);
void bench_go(bench *b, bench_screen screen);
/* What was changed and what became of the gap, after an edit. gap_before NAN: not told. */
void bench_tell_change(bench *b, double gap_before);
void bench_gap_words(const bench *b, double gap, char out[40]); /* "+1.30 mm" */
double bench_gap(const bench *b);                               /* of the band looked at; NAN if it has none */
/* Keeps card, band and field within what there is. */
void bench_settle(bench *b);
size_t bench_cards(const bench *b);
/* The band of the card in hand; SIZE_MAX if it is no band. */
size_t bench_card_band(const bench *b);
const bw_band_plan *bench_band_plan(const bench *b);             /* of b->band; NULL if there is none */
bool bench_change(bench *b, const char *path, const char *text); /* an edit and its message */
bool bench_edits(bench *b, const shop_edit *edits, size_t count, const char *title); /* the same, of several at once */
/* Of the piece, with copies of what its bands then have from the inventory. */
bool bench_band_edits(bench *b, const shop_edit *edits, size_t count, const char *title);
void bench_type(bench *b, bench_typing what, const char *text);
void bench_type_row(bench *b, bench_typing what, const desk *of, const bench_row *row); /* what the row holds, whole */
void bench_read(bench *b, const char *title, char *text);                               /* takes text */

void bench_back(bench *b);          /* from BENCH_READ */
void page_fit(bench *b, int width); /* writes the page for the bench anew if it is the text and has another width */
void bench_opened(bench *b);
/* The first length (else the last value) whose field's path begins so comes into hand. */
void bench_take_field(bench *b, const char *pattern);

/* fields.c */
void card_read(const bench *b, bench_card *card);
/* The place of a field's value on the card in hand; false if the card has no such field. */
bool card_path(const bench *b, const shop_field *field, char path[ROW_TEXT]);
/* row.c: what a row says, and what may stand there: "0 mm to 1000 mm" */
void row_fill(const bench *b, bench_row *row);
const char *bench_warning_way(const bw_warning *warning); /* what settles it, for key_words; "" of most */
void row_range_words(const bench *b, const shop_field *field, char out[ROW_TEXT]);
bool row_is_list(const shop_field *field); /* always a list, whose items are changed one by one */
bool row_is_tall(const shop_field *field); /* typed in a box of several lines */
/* change.c: the one way in which a value of the card in hand is changed; what belongs with it changes, too. NULL takes
 * it out. False with the reason said. */
bool bench_set_value(bench *b, const bench_row *row, const char *text);
void end_text(const char *typed, char out[ROW_TEXT]); /* "40", "point 40" -> "{point: 40}" */
/* items.c */
size_t flow_count(const char *text);                       /* items of "[a, b]"; 0 if it is none */
bool bench_items_of(const bench *b, const bench_row *row); /* has this row items to be changed one by one? */
void items_show(bench *b);
void items_settle(bench *b);
bool items_take(bench *b, const char *typed);
void items_draw(bench *b, show_grid *grid, show_rect where);
/* A bare number over 1 typed for a share means percent (0.5 is 50 %, as in a file); the same share as before stays as
 * it is spelled. */
void row_typed(const bench_row *row, char text[ENTRY_MOST + 1]);
const char *shape_words(const char *shape); /* "ellipse (oval)": the trade's word beside the file's */
/* even.c */
double even_limit(const bench *b); /* share by which a step may change */
bool even_busy(const bench *b);
unsigned even_idle(bench *b);
void even_try(bench *b);  /* what is chosen */
void even_take(bench *b); /* says why there is nothing to take */
const char *even_row(const bench *b, size_t row);
void even_forget_rows(bench *b);
/* step.c: the new text of a row, `steps` steps on. False with the reason in why. */
bool row_step(const bench *b, const bench_row *row, int steps, char out[ROW_TEXT], char why[200]);
double row_step_mm(const bench *b, const bench_row *row);
void row_step_words(const bench *b, const bench_row *row, char out[32]);
int count_multiple(const bench *b, size_t band);

/* tools.c */
/* A new tool in flow style from its length (or pitch) and width (may be empty); false with the reason. */
bool tool_new_flow(const shop_project *project, bw_kind kind, const char *length, const char *across, char id[64],
                   char out[ROW_TEXT], char why[200]);
/* Is a typed length one for this field? */
bool field_fits(const shop_field *field, shop_unit unit, const char *text, char why[200]);
int tool_first(const shop_project *project, bw_kind kind); /* -1: none known */
const char *kind_words(bw_kind kind);                      /* "basket stamp" */
bool bench_set_fill(bench *b, int fill);
void bench_add_band(bench *b, int fill);
void tools_ask_new(bench *b);
bool tools_take_new(bench *b, const char *length);

/* look.c */
const char *look_name(const bench *b);
show_view look_view(bench *b);

/* round.c */
bool round_lacks(bench *b); /* nothing to be counted, and says so */
/* strikes.c */
void rest_take_left(bench *b); /* the typed line */
void rest_take(bench *b);
void rest_leave(bench *b);
void rest_forget(bench *b);

/* table.c */
show_view table_view(const bench *b);
unsigned table_click(bench *b, size_t which); /* a SPOT_CELL; effects */

/* piece.c */
bool bench_set_shape(bench *b, const char *word);
double outline_across(const bench *b); /* mm, as far as the piece reaches, by its outline's sizes */

/* command_list.c */
void commands_filter(bench *b); /* after what is looked for has changed */
/* files.c */
bool bench_open_file(bench *b, const char *file); /* says why not */
void recent_add(bench *b, const char *file);
void recent_read(bench *b);
/* recent_users.c: the recent files but the open one that read a tool of this id from the inventory, "" if none does. */
void recent_users(const bench *b, const char *id, char out[200]);
char *recent_bytes(const bench *b, size_t *length); /* the list as it is kept, a path a line; malloc'ed, NULL if none */
void start_free(bench *b);
void files_take_name(bench *b, const char *name); /* what was typed for opening or saving */
#define FILES_NAME_ROOM (ENTRY_MOST + PATH_MAX)
/* Without the blanks around it; ~/ is the maker's own folder, as in a shell. */
void files_named(const char *typed, char file[FILES_NAME_ROOM]);
/* A name for what is made of the piece: the file's own with another ending, of an example without its folder. */
#define FILES_SUGGESTED 1024
void files_suggest(const bench *b, const char *ending, char out[FILES_SUGGESTED]);
void files_template_take(bench *b, const char *typed); /* what was typed for the template */
void files_card_take(bench *b, const char *typed);     /* what was typed for the card beside the work */
void files_picture_take(bench *b, const char *typed);  /* what was typed for the picture */
void tolerance_type(bench *b, const char *typed);      /* what was typed for the tolerance */
void tolerance_follow(bench *b);                       /* a piece that was just opened has it, too */
/* What is there already is written over only when the same name is given twice; false after a message. b->file is then
 * the name. */
bool files_may_write(bench *b, const char *file, bool there);
void files_not_written(bench *b, shop_problems *problems); /* says why; releases the problems */

char *problem_lines(const shop_problems *problems); /* malloc'ed */

/* inventory*.c */
#define TOOL_GONE                                                                                                      \
    "the piece used a tool then that the inventory no longer has. {workbench.inventory}, then {inventory.undo} "       \
    "brings the tool back."
/* Answers a question of the inventory's; false if it is another's. */
bool shelf_answer(bench *b, bool yes);
bool shelf_answer_back(bench *b);
/* Asks at quitting if the inventory is not saved; false if there is nothing to ask. */
bool shelf_ask_unsaved(bench *b);
void shelf_take(bench *b); /* the typed line */
/* Edits of a workbench that is only the hands of another one's inventory. */
bool shelf_hand_edits(bench *hand, const shop_edit *edits, size_t count, const char *title);
bool shelf_hand_change(bench *hand, const char *path, const char *text);
/* On BENCH_TOOL_ITEMS does what `run` does with the items of the workbench; elsewhere false. */
bool shelf_items(bench *b, void (*run)(bench *b, int key), int key);
bool shelf_items_take(bench *b); /* the typed item; false elsewhere */
void shelf_items_settle(bench *b);
void shelf_follow(bench *b); /* a piece was opened */
/* The inventory for a piece that is opened: "" where its file is bad, which must not keep a piece from the bench. */
const char *shelf_readable(bench *b);
void shelf_leave(bench *b);
bool shelf_is_file(const bench *b, const char *file); /* is it the inventory's? */
void shelf_keep_mine(bench *b);                       /* from BENCH_THEIRS */
void shelf_take_theirs(bench *b);
void theirs_ask_stock(bench *b);
/* files_left.c */
bool left_look_for(bench *b, const char *file); /* is there something left of it? Then it is in b->left */
/* Opens a file; one that is not there as its journal has it. NULL with problems and status. */
desk *left_open_layout(bench *b, const char *file, shop_problems *problems, shop_status *status);
bool left_open_journal(bench *b, const char *journal); /* a row of the start screen */
void left_opened(bench *b);                            /* a layout was opened or made: asks, or begins its journal */
void left_tell_trouble(bench *b);
void left_tell_newer(bench *b, const desk *d); /* a journal of its that only a newer version can read */
void left_add_places(bench *b);                /* to the start screen */

/* files_theirs.c */
void theirs_ask(bench *b);
/* files.c, for those two */
void start_add(bench *b, char *path, const char *kind, char *words); /* takes path and words */
void files_saved(bench *b, const char *also);                        /* tells it and goes on to what comes after */
void files_refuse_save(bench *b, const char *file, shop_problems *problems);

bool bench_holds_another(const bench *b); /* a held layout that says something else */

#endif

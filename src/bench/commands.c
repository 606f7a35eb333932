/* commands.c - the one table of commands. The dispatcher, the help, the bottom line and the manual's key section all
 * come from it; its order is that of the bottom line. */
#include <string.h>

#include "bench/inventory.h"

#define AT(screen) (1u << BENCH_##screen)
#define WORK AT(WORK)
#define LISTS (AT(TOOLS) | AT(MOVES) | AT(EVEN) | AT(FILLS))
#define ITEMS AT(ITEMS)
#define ALL_ITEMS (ITEMS | AT(TOOL_ITEMS))
#define ANSWERS (AT(TYPING) | AT(ASK) | AT(COMMANDS)) /* where letters are text, or an answer */
#define SHELF (AT(INVENTORY) | AT(TOOL))

/* clang-format off */
static const bench_command table[] = {
    /* a line being typed */
    {{BENCH_KEY_ENTER}, 1, "take", "Takes what is typed; if it cannot be, says why and keeps it.", AT(TYPING), do_entry_take, NULL},
    {{BENCH_KEY_ESC}, 1, "leave", "Leaves everything as it was.", AT(TYPING), do_entry_leave, NULL},

    /* a question */
    {{'y', BENCH_KEY_ENTER}, 1, "yes", "Yes to the question.", AT(ASK), do_yes, NULL},
    {{'n'}, 1, "no", "No to the question.", AT(ASK), do_no, NULL},
    {{BENCH_KEY_ESC}, 1, "back", "Back to where you were; nothing is done.", AT(ASK), do_leave, NULL},

    /* changes that were left behind; a file that somebody else changed */
    {{'y', BENCH_KEY_ENTER}, 1, "take them", "Makes the changes again; each can be undone.", AT(LEFT), do_left_take, NULL},
    {{'v'}, 1, "look", "Shows all changes of the list.", AT(LEFT), do_left_look, NULL},
    {{'x'}, 1, "drop them", "Drops the changes for good; asks once more.", AT(LEFT), do_left_drop, NULL},
    {{BENCH_KEY_ESC}, 1, "later", "Leaves the changes where they are, to be asked again next time.", AT(LEFT), do_left_later, NULL},
    {{'k'}, 1, "keep mine", "Writes over the file; the other version stays beside it under a name of its own.", AT(THEIRS), do_theirs_keep, NULL},
    {{'L'}, 1, "take theirs", "Loads the file as it is now; undo brings yours back.", AT(THEIRS), do_theirs_take, NULL},
    {{'v', BENCH_KEY_ENTER}, 1, "look", "Shows what differs, value by value.", AT(THEIRS), do_theirs_look, NULL},
    {{'S'}, 1, "other name", "Saves yours under another name.", AT(THEIRS), do_theirs_elsewhere, NULL},
    {{BENCH_KEY_ESC}, 1, "back", "Back to the workbench; nothing is saved.", AT(THEIRS), do_leave, NULL},

    /* the start screen and lists */
    {{BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "choose", "Goes up and down the list; everything shows what is chosen.", AT(START) | AT(COMMANDS) | LISTS | ALL_ITEMS | AT(KINDS) | AT(REST), do_list, NULL},
    {{BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN}, 0, "page", "A page up or down.", AT(START) | AT(COMMANDS) | LISTS | ALL_ITEMS | AT(KINDS) | AT(REST), do_list, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "To the first or the last.", AT(START) | AT(COMMANDS) | LISTS | ALL_ITEMS | AT(KINDS) | AT(REST), do_list, NULL},
    {{BENCH_KEY_ENTER}, 1, "take", "Takes what is chosen.", AT(START) | LISTS | AT(KINDS) | AT(REST), do_list_take, NULL},
    {{BENCH_KEY_ESC}, 1, "leave", "Leaves everything as it was.", LISTS | AT(KINDS) | AT(REST), do_leave, NULL},
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT, '-', '+', '='}, 2, "limit", "Lets steps change more, or asks for them nearer to the usual one.", AT(EVEN), do_even_limit, NULL},
    {{'N'}, 1, "also tight", "Lets fits be tight as well as good, or asks for good ones only.", AT(EVEN), do_even_fit, NULL},
    {{'n'}, 1, "new piece", "Starts a new piece.", AT(START), do_new, NULL},
    {{'o'}, 1, "open by name", "Asks for a file's name and opens it.", AT(START), do_open, NULL},

    {{'i'}, 1, "inventory", "The tools of the shop: what there is, what suits the band at hand, and their sizes.", AT(START), do_inventory, NULL},

    /* the items of a list */
    {{BENCH_KEY_ENTER, ' '}, 1, "type item", "Types the item in hand anew; on the last line adds one.", ALL_ITEMS, do_item_type, NULL},
    {{BENCH_KEY_DIGIT}, 0, "type a number", "Typing a number begins a new item in place of the one in hand.", ALL_ITEMS, do_item_type, NULL},
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT, '-', '+', '='}, 2, "step item", "The item in hand a step less or more.", ALL_ITEMS, do_item_step, NULL},
    {{'<', '>', ',', '.'}, 0, "ten steps", "The item in hand ten steps less or more.", ALL_ITEMS, do_item_step, NULL},
    {{'a'}, 1, "add item", "Adds an item behind the one in hand.", ALL_ITEMS, do_item_add, NULL},
    {{'x', BENCH_KEY_BACKSPACE, BENCH_KEY_DELETE}, 1, "take item out", "Takes the item in hand out; what must be there is as usual then.", ALL_ITEMS, do_item_out, NULL},
    {{BENCH_KEY_ESC}, 1, "back", "Back to the values.", ALL_ITEMS, do_leave, NULL},

    /* the form of a new piece */
    {{BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "row", "Goes up and down the form.", AT(FORM), do_form_move, NULL},
    {{BENCH_KEY_TAB, BENCH_KEY_BACKTAB}, 0, "next row", "To the next row, or the one before.", AT(FORM), do_form_move, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "To the first row, or to the last.", AT(FORM), do_form_move, NULL},
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT, '-', '+', '='}, 2, "other choice", "The choice before or after this one.", AT(FORM), do_form_other, NULL},
    {{BENCH_KEY_ENTER, ' '}, 1, "type or make it", "Types a new value; on the last row makes the piece.", AT(FORM), do_form_type, NULL},
    {{BENCH_KEY_DIGIT}, 0, "type a number", "Typing a number begins a new value.", AT(FORM), do_form_type, NULL},
    {{BENCH_KEY_BACKSPACE, BENCH_KEY_DELETE}, 0, "empty", "Empties the row.", AT(FORM), do_form_clear, NULL},
    {{BENCH_KEY_ESC}, 1, "leave", "Leaves the form; no piece is made.", AT(FORM), do_leave, NULL},

    /* the form of a test strip */
    {{BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "row", "Goes up and down the form.", AT(STRIP), do_strip_move, NULL},
    {{BENCH_KEY_TAB, BENCH_KEY_BACKTAB}, 0, "next row", "To the next row, or the one before.", AT(STRIP), do_strip_move, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "To the first row, or to the last.", AT(STRIP), do_strip_move, NULL},
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT, '-', '+', '='}, 2, "other choice", "The choice before or after this one.", AT(STRIP), do_strip_other, NULL},
    {{BENCH_KEY_ENTER, ' '}, 1, "type or add it", "Types a new value; on the last rows writes the strip into the tool, or takes one out.", AT(STRIP), do_strip_type, NULL},
    {{BENCH_KEY_DIGIT}, 0, "type a number", "Typing a number begins a new value.", AT(STRIP), do_strip_type, NULL},
    {{BENCH_KEY_BACKSPACE, BENCH_KEY_DELETE}, 0, "empty", "Empties the row; on the last one takes a strip out.", AT(STRIP), do_strip_clear, NULL},
    {{'u'}, 1, "undo", "Takes back what was added or taken out.", AT(STRIP), do_strip_undo, NULL},
    {{'U'}, 0, "redo", "Makes it again.", AT(STRIP), do_strip_redo, NULL},
    {{BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN}, 0, "page", "Back and on in what the strips tell, where the window does not hold it.", AT(STRIP), do_strip_scroll, NULL},
    {{BENCH_KEY_ESC}, 1, "back", "Back to where you were; strips that were added stay.", AT(STRIP), do_leave, NULL},

    /* the workbench: the value in hand */
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT, '-', '+', '='}, 2, "step", "The value in hand a step less or more, or the choice before or after.", WORK, do_step, NULL},
    {{BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "value", "Takes the value above or below in hand.", WORK, do_up_down, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "Takes the first or the last value in hand.", WORK, do_up_down, NULL},
    {{BENCH_KEY_ENTER, ' '}, 1, "type", "Types a new value such as 3/4 in; on a stamp, chooses one; on a list, shows its items.", WORK, do_value, NULL},
    {{'<', '>', ',', '.'}, 0, "ten steps", "The value in hand ten steps less or more.", WORK, do_ten, NULL},
    {{BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN}, 0, "page of values", "A page of values up or down.", WORK, do_up_down, NULL},
    {{BENCH_KEY_TAB, BENCH_KEY_BACKTAB}, 1, "band", "On to the next band, then the stamps and the piece; or back.", WORK, do_card, NULL},
    {{BENCH_KEY_DIGIT}, 0, "type a number", "Typing a number begins a new value.", WORK, do_digit, NULL},
    {{BENCH_KEY_BACKSPACE, BENCH_KEY_DELETE}, 0, "as usual", "Takes the value out of the file: it is then as usual.", WORK, do_usual, NULL},

    /* the workbench: moments */
    {{'t'}, 1, "stamp", "Chooses the band's stamp, best first; the answer shows as you move.", WORK, do_tools, NULL},
    {{'c'}, 1, "close", "Shows what small changes make it close or work: first what makes it work, smallest first.", WORK, do_moves, refuse_no_moves},
    {{'C'}, 0, "even", "Sizes that close for the whole piece: the fewest and smallest changes after which every band fits.", WORK, do_even, refuse_no_bands},
    {{'u'}, 1, "undo", "Takes back the last change, also past a save; again for the one before.", WORK | ITEMS | AT(SECOND) | AT(STRIKES), do_undo, NULL},
    {{'m', 'f'}, 2, "count", "More or fewer impressions in the round: one, or as many as belong together.", WORK, do_count, refuse_no_rounds},
    {{'l'}, 1, "lose", "Where the gap goes, in turn: even all round, the last steps, the straights, between anchors.", WORK, do_lose, refuse_no_rounds},
    {{'r'}, 1, "round", "Along the round, impression by impression.", WORK, do_round, refuse_no_rounds},
    {{'b'}, 1, "bench", "At the bench: counts strikes and tells the next check mark.", WORK, do_strikes, refuse_no_rounds},
    {{'s'}, 1, "save", "Saves the layout; only what was changed changes in the file.", WORK, do_save, NULL},
    {{'p'}, 1, "page", "The page of settings that goes to the bench.", WORK, do_page, NULL},
    {{'i'}, 0, "inventory", "The tools of the shop and the piece's copies, ranked for the band at hand; their values.", WORK, do_inventory, NULL},
    {{'g'}, 0, "hold, flip", "Holds the layout as it is now; with one held, puts that one in hand and holds this one.", WORK | AT(SECOND), do_hold, NULL},
    {{'G'}, 0, "both", "Shows the layout in hand and the held one side by side: what differs.", WORK, do_second, refuse_none_held},
    {{'U'}, 0, "redo", "Makes a change again that was taken back.", WORK | ITEMS | AT(SECOND) | AT(STRIKES), do_redo, NULL},
    {{'w'}, 0, "warnings", "All warnings, worst first.", WORK, do_warnings, NULL},
    {{'Y'}, 0, "test strip", "Ten impressions on scrap and a rule: what the hand does with the tool in hand.", WORK | SHELF, do_strip, NULL},
    {{'v'}, 0, "view", "Changes what the lower right shows: piece and spacing, piece, spacing, the band laid straight.", WORK | LISTS | ITEMS | AT(ROUND), do_view, NULL},
    {{'V'}, 0, "laid straight", "Shows the band laid straight from its start, with bends, corners and what fails there; again for the piece.", WORK | LISTS | ITEMS | AT(ROUND), do_view, NULL},
    {{'{', '}'}, 0, "along", "Back and on along the band laid straight.", WORK | LISTS | ITEMS | AT(ROUND), do_along, NULL},
    {{'(', ')'}, 0, "cells", "Takes the cells of the window for lower or higher, until a circle looks round.", WORK | LISTS | ITEMS | AT(ROUND) | AT(LOOK), do_cells, NULL},
    {{'z'}, 1, "closer", "The drawing in all of the window: closer, farther, along, from mark to mark.", WORK, do_look, NULL},
    {{'e'}, 1, "figures", "All figures of the band in one table; the one under the cursor is explained.", WORK, do_table, NULL},
    {{'B'}, 0, "finer", "Finer drawing or plain again: characters, blocks, braille; needs a UTF-8 locale.", WORK | LISTS | ITEMS | AT(ROUND) | AT(LOOK), do_fine, NULL},
    {{'H'}, 0, "hide the seam", "Puts the start mark where the seam hides best; undo takes it back.", WORK, do_hide_seam, NULL},
    {{'a'}, 0, "add band", "Adds a band inside the one in hand.", WORK, do_band_add, NULL},
    {{'d'}, 0, "double", "Copies the band in hand.", WORK, do_band_copy, NULL},
    {{'x'}, 0, "take out", "Takes the band in hand out, or the stamp's copy; undo brings it back.", WORK, do_band_out, NULL},
    {{'[', ']'}, 0, "move band", "Moves the band in hand towards the edge, or away from it.", WORK, do_band_move, NULL},
    {{'k'}, 0, "keep", "Keeps the value in hand from suggestions, or lets them change it again.", WORK, do_keep, NULL},
    {{'S'}, 0, "save as", "Saves under another name.", WORK, do_save_as, NULL},
    {{'A'}, 0, "template", "Draws the piece at full size, to be printed, traced and cut, with trial strips; asks for name and paper.", WORK, do_template, NULL},
    {{'D'}, 0, "card", "Writes the card that lies beside the work, for dirty hands: tables, boxes to tick; asks for its name.", WORK, do_write_card, NULL},
    {{'X'}, 0, "picture", "Draws the finished piece as it will look, every impression in relief; asks for its name.", WORK, do_picture, NULL},
    {{'%'}, 0, "closes within", "By how much a round may miss its end and still close: chances and check marks are told for it.", WORK, do_tolerance, NULL},
    {{'L'}, 0, "load again", "Reads the file again from the disk; undo brings the layout back.", WORK, do_reload, NULL},
    {{'o'}, 0, "open", "To the start screen, to open another piece.", WORK, do_start, NULL},

    /* along the round */
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT, BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "one back or on", "To the impression before or after.", AT(ROUND), do_round_step, NULL},
    {{'<', '>', ',', '.'}, 0, "ten back or on", "Ten impressions back or on.", AT(ROUND), do_round_step, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "To the first or the last impression.", AT(ROUND), do_round_step, NULL},
    {{'T'}, 1, "tightest", "To the tightest place.", AT(ROUND), do_tightest, NULL},
    {{'W'}, 1, "widest", "To the widest place.", AT(ROUND), do_widest, NULL},
    {{'0'}, 1, "seam", "To the seam, where the last impression meets the first.", AT(ROUND), do_seam, NULL},

    /* one drawing in all of the window */
    {{'z', 'Z'}, 2, "closer, farther", "A round scale closer or farther; the line above tells it.", AT(LOOK), do_look_scale, NULL},
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT, BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "along", "Moves over the piece, along the band, or to the impression and the row beside.", AT(LOOK), do_look_pan, NULL},
    {{'j', 'J'}, 1, "jump", "Jumps to the next marked place, or the one before: start, failing, tightest, widest, corners.", AT(LOOK), do_look_next, NULL},
    {{'v'}, 1, "drawing", "The other drawings: the piece, the band laid straight, the seam.", AT(LOOK), do_look_other, NULL},
    {{BENCH_KEY_TAB, BENCH_KEY_BACKTAB}, 1, "band", "Takes the next band in hand, or the one before.", AT(LOOK) | AT(TABLE), do_look_band, NULL},
    {{'0'}, 1, "all of it", "As much as the window holds again.", AT(LOOK), do_look_scale, NULL},

    /* the inventory */
    {{BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "tool", "Takes the tool above or below in hand; its answer for the band shows.", AT(INVENTORY), do_shelf_list, NULL},
    {{BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN}, 0, "page", "A page of tools up or down.", AT(INVENTORY), do_shelf_list, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "To the first or the last tool.", AT(INVENTORY), do_shelf_list, NULL},
    {{BENCH_KEY_ENTER, ' '}, 1, "values", "The values of the tool in hand, in the inventory and in the piece.", AT(INVENTORY), do_shelf_open_tool, NULL},
    {{'F'}, 1, "find", "Shows only what is typed: part of an id, a kind or a name.", AT(INVENTORY), do_shelf_find, NULL},
    {{'K'}, 1, "kind", "Shows only tools of one kind, then of the next, then all.", AT(INVENTORY), do_shelf_kind, NULL},
    {{'O'}, 1, "order", "The order of the list: best first, by id, by kind, shortest first.", AT(INVENTORY), do_shelf_order, NULL},
    {{'a'}, 1, "add", "Adds a tool to the inventory: its kind, then its sizes.", AT(INVENTORY), do_shelf_add, NULL},
    {{BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "value", "Takes the value above or below in hand.", AT(TOOL), do_tool_move, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "Takes the first or the last value in hand.", AT(TOOL), do_tool_move, NULL},
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT, '-', '+', '='}, 2, "step", "The value in hand a step less or more, or the choice before or after.", AT(TOOL), do_tool_step, NULL},
    {{'<', '>', ',', '.'}, 0, "ten steps", "The value in hand ten steps less or more.", AT(TOOL), do_tool_ten, NULL},
    {{BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN}, 0, "page of values", "A page of values up or down.", AT(TOOL), do_tool_move, NULL},
    {{BENCH_KEY_ENTER, ' '}, 1, "type", "Types a new value such as 3/8 in.", AT(TOOL), do_tool_type, NULL},
    {{BENCH_KEY_DIGIT}, 0, "type a number", "Typing a number begins a new value.", AT(TOOL), do_tool_digit, NULL},
    {{BENCH_KEY_BACKSPACE, BENCH_KEY_DELETE}, 0, "as usual", "Takes the value out of the file: it is then as usual.", AT(TOOL), do_tool_usual, NULL},
    {{BENCH_KEY_TAB, BENCH_KEY_BACKTAB}, 1, "other copy", "Takes the piece's copy of the tool in hand, or the inventory's.", AT(TOOL), do_tool_side, NULL},
    {{'u'}, 1, "undo", "Takes back the last change made here, in the inventory or in the piece.", SHELF | AT(TOOL_ITEMS), do_shelf_undo, NULL},
    {{'s'}, 1, "save", "Saves the inventory; the piece is saved on the workbench.", SHELF, do_shelf_save, NULL},
    {{'E'}, 0, "units, rates", "The inventory's own values: its units, and what an hour of work costs.", AT(INVENTORY), do_shelf_head, NULL},
    {{'d'}, 0, "double", "Copies the tool in hand under a new id.", AT(INVENTORY), do_shelf_copy, NULL},
    {{'R'}, 0, "retire", "Retires the tool in hand, so that it is no longer offered; or brings it back.", SHELF, do_shelf_retire, NULL},
    {{'v'}, 0, "retired", "Shows retired tools in the list, or hides them.", AT(INVENTORY), do_shelf_retired, NULL},
    {{'x'}, 0, "take out", "Takes the tool in hand out of the inventory, or out of the piece if only that has it; asks first.", AT(INVENTORY), do_shelf_out, NULL},
    {{'U'}, 0, "redo", "Makes a change again that was taken back here.", SHELF | AT(TOOL_ITEMS), do_shelf_redo, NULL},
    {{'L'}, 0, "load again", "Reads the inventory again from the disk; undo brings back what was here.", SHELF, do_shelf_reload, NULL},
    {{BENCH_KEY_ESC, 'q'}, 1, "back", "From a tool back to the list, from the list to where you were.", SHELF, do_leave, NULL},
    {{'P'}, 1, "to the piece", "The piece takes the inventory's values of the tool in hand, or gets a copy.", SHELF, do_shelf_give, NULL},
    {{'I'}, 1, "to the inventory", "The inventory takes the piece's values of the tool in hand, or gets the tool.", SHELF, do_shelf_give, NULL},

    /* the spacing table in all of the window */
    {{BENCH_KEY_UP, BENCH_KEY_DOWN, BENCH_KEY_LEFT, BENCH_KEY_RIGHT}, 2, "figure", "To the figure above, below or beside; what it is stands underneath.", AT(TABLE), do_table_move, NULL},
    {{'e', BENCH_KEY_ENTER, '?'}, 1, "explain", "All that is to be said about the figure under the cursor.", AT(TABLE), do_table_explain, NULL},
    {{BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN}, 0, "page", "A page up or down.", AT(TABLE), do_table_move, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "To the first or the last row.", AT(TABLE), do_table_move, NULL},

    /* at the bench */
    {{' '}, 1, "struck one", "Counts a strike; it is kept at once and stands in the file with the next save.", AT(STRIKES), do_strike, NULL},
    {{BENCH_KEY_ENTER}, 1, "what is left", "Takes what is left to go and shows each count that closes the round with it, and whether rows fit the part struck.", AT(STRIKES), do_left_type, NULL},
    {{BENCH_KEY_DIGIT}, 0, "type a number", "Typing a number begins the length that is left.", AT(STRIKES) | AT(REST), do_left_type, NULL},
    {{BENCH_KEY_ESC, 'q'}, 1, "back", "Back to the workbench.", AT(ROUND) | AT(STRIKES) | AT(LOOK) | AT(TABLE), do_leave, NULL},
    {{BENCH_KEY_BACKSPACE, '-'}, 1, "one less", "Takes a counted strike back.", AT(STRIKES), do_unstrike, NULL},
    {{'y'}, 0, "log it", "Logs with the tool what the strikes took up to the last measure, as a round of the hand; logged again later, the longer one stays.", AT(STRIKES), do_strikes_log, NULL},
    {{'x'}, 1, "begin anew", "Takes the round out of the count and begins anew, undo brings it back; a full one stays in the file.", AT(STRIKES), do_strikes_anew, NULL},

    /* two layouts */
    {{BENCH_KEY_LEFT, BENCH_KEY_RIGHT}, 2, "this or that", "Chooses the layout in hand or the held one.", AT(SECOND), do_second_choose, NULL},
    {{BENCH_KEY_ENTER}, 1, "keep it", "Keeps the chosen layout and gives the other up; undo takes it back.", AT(SECOND), do_second_keep, NULL},
    {{'x'}, 1, "drop the held one", "Drops the held layout; undo brings it back.", AT(SECOND), do_second_drop, NULL},
    {{BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN, BENCH_KEY_HOME, BENCH_KEY_END}, 0, "page", "A page up or down; to the beginning or the end.", AT(SECOND), do_second_scroll, NULL},
    {{BENCH_KEY_ESC, 'q', 'G'}, 1, "back", "Back to the workbench; both stay.", AT(SECOND), do_leave, NULL},
    {{BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "scroll", "A line up or down.", AT(SECOND), do_second_scroll, NULL},

    /* a text to read */
    {{BENCH_KEY_UP, BENCH_KEY_DOWN}, 2, "scroll", "A line up or down.", AT(READ), do_scroll, NULL},
    {{BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN}, 0, "page", "A page up or down.", AT(READ), do_scroll, NULL},
    {{BENCH_KEY_HOME, BENCH_KEY_END}, 0, "first, last", "To the beginning or the end.", AT(READ), do_scroll, NULL},
    {{BENCH_KEY_ESC, BENCH_KEY_ENTER, 'q', 'h', BENCH_KEY_F1}, 1, "back", "Back to where you were.", AT(READ), do_leave, NULL},

    /* the list of commands */
    {{BENCH_KEY_ENTER}, 1, "do it", "Does the command that is chosen, if it works where you came from.", AT(COMMANDS), do_commands_take, NULL},
    {{BENCH_KEY_ESC}, 1, "leave", "Back to where you were; nothing is done.", AT(COMMANDS), do_commands_leave, NULL},

    /* everywhere */
    {{BENCH_KEY_F1}, 0, "keys", "Says which keys work while something is typed or asked.", ANSWERS, do_keys_told, NULL},
    {{'h', BENCH_KEY_F1}, 1, "help", "The keys that work here.", ~(ANSWERS | AT(READ)), do_help, NULL},
    {{'/'}, 1, "more", "All commands in one list: type a word to find one and do it.", ~ANSWERS, do_commands, NULL},
    {{'?'}, 1, "explain", "Says in a sentence what the value in hand and each figure is.", WORK | LISTS | ITEMS | AT(ROUND) | AT(SECOND), do_figures, NULL},
    {{'?'}, 1, "marks", "What each mark of the drawing means, and every marked place in words.", AT(LOOK), do_marks, NULL},
    {{'q'}, 1, "quit", "Leaves the program; asks first if something is not saved.", AT(START) | WORK, do_quit, NULL},
    {{'M'}, 0, "mouse", "Uses the mouse, or leaves it to the terminal's own selection.", ~ANSWERS, do_mouse, NULL},
    {{BENCH_KEY_REPAINT}, 0, "paint", "Draws the whole screen anew.", ~0u, do_repaint, NULL},
};
/* clang-format on */
_Static_assert(sizeof table / sizeof table[0] <= COMMANDS_MOST, "the list of commands has room for all");

const bench_command *bench_commands(size_t *count) {
    *count = sizeof table / sizeof table[0];
    return table;
}

#define TAKE_OR_LEAVE "{lists.take} takes what is chosen, {lists.leave} leaves it, {workbench.help} shows the keys"

static const bench_place_name places[] = {
    {BENCH_WORK, "workbench", "On the workbench", "{workbench.help} shows the keys, {workbench.more} all commands"},
    {BENCH_TYPING, "typing", "While a line is typed", "{typing.take} takes what is typed, {typing.leave} leaves it"},
    {BENCH_TOOLS, "lists", "In lists", TAKE_OR_LEAVE},
    {BENCH_EVEN, "even", "In the list of sizes that close", TAKE_OR_LEAVE},
    {BENCH_ITEMS, "items", "Among the items of a list", "{items.back} goes back, {workbench.help} shows the keys"},
    {BENCH_ROUND, "round", "Along the round", "{round.back} goes back, {workbench.help} shows the keys"},
    {BENCH_LOOK, "drawing", "In a drawing of its own", "{round.back} goes back, {workbench.help} shows the keys"},
    {BENCH_TABLE, "table", "In the spacing table", "{round.back} goes back, {workbench.help} shows the keys"},
    {BENCH_STRIKES, "strikes", "Counting strikes", "{round.back} goes back, {workbench.help} shows the keys"},
    {BENCH_REST, "rest", "With what is left of a round", TAKE_OR_LEAVE},
    {BENCH_SECOND, "second", "With two layouts side by side",
     "{second.back} goes back, {workbench.help} shows the keys"},
    {BENCH_INVENTORY, "inventory", "In the inventory", "{inventory.back} goes back, {workbench.help} shows the keys"},
    {BENCH_TOOL, "tool", "In the values of a tool", "{inventory.back} goes back, {workbench.help} shows the keys"},
    {BENCH_TOOL_ITEMS, "tool-items", "Among the items of a tool's list",
     "{items.back} goes back, {workbench.help} shows the keys"},
    {BENCH_KINDS, "kinds", "Choosing what a new tool is", TAKE_OR_LEAVE},
    {BENCH_START, "start", "On the start screen", "{lists.take} opens what is chosen, {workbench.help} shows the keys"},
    {BENCH_STRIP, "strip", "In the form of a test strip", "{strip.back} goes back, {workbench.help} shows the keys"},
    {BENCH_FORM, "form", "In the form of a new piece", "{form.leave} leaves the form, {workbench.help} shows the keys"},
    {BENCH_READ, "text", "In a text", "{text.back} goes back, {text.page:2} reads on"},
    {BENCH_ASK, "question", "At a question", "{question.yes} and {question.no} answer, {question.back} goes back"},
    {BENCH_LEFT, "left", "At changes that were not saved",
     "{left.take-them}, {left.look} and {left.drop-them} answer, {left.later} leaves them for later"},
    {BENCH_THEIRS, "theirs", "At a file that somebody else changed",
     "{theirs.keep-mine}, {theirs.take-theirs} and {theirs.look} answer, {theirs.back} goes back"},
    {BENCH_COMMANDS, "commands", "In the list of commands",
     "{commands.do-it} does what is chosen, {commands.leave} leaves the list"},
};

const bench_place_name *bench_place_names(size_t *count) {
    *count = sizeof places / sizeof places[0];
    return places;
}

void command_where_words(const bench_command *command, char out[200]) {
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < sizeof places / sizeof places[0] && used < 160; i++) {
        if ((command->where & 1u << places[i].screen) != 0) {
            used += (size_t)snprintf(out + used, 200 - used, "%s%c%s", used > 0 ? ", " : "", places[i].title[0] | 0x20,
                                     places[i].title + 1);
        }
    }
}

/* Choosing stamps, changes and fillings are lists alike. */
const char *bench_hint(bench_screen screen) {
    size_t i = 0, count = sizeof places / sizeof places[0];
    screen = screen == BENCH_MOVES || screen == BENCH_EVEN || screen == BENCH_FILLS ? BENCH_TOOLS : screen;
    while (i + 1 < count && places[i].screen != screen) {
        i++;
    }
    return places[i].hint;
}

/* A key that does nothing says why, and which do something. */
static void say_unused(bench *b, int key) {
    char name[16];
    int meant;
    size_t elsewhere = command_of(b, key, WORK, &meant);
    const char *hint = bench_hint(bench_where(b)), *named = key == BENCH_KEY_UNKNOWN ? "This key" : key_name(key, name);
    bool typing = bench_where(b) == BENCH_TYPING; /* over the workbench, too */
    if (elsewhere != SIZE_MAX && bench_where(b) != BENCH_WORK && !typing) {
        bench_refuse(b, "%s (%s) works on the workbench, not here: %s.", named, table[elsewhere].name, hint);
    } else {
        bench_refuse(b, "%s does nothing here: %s.", named, hint);
    }
}

static void begin(bench *b) {
    b->effects = BENCH_REDRAW;
    b->message[0] = '\0';
    b->bad = false;
}

static unsigned run(bench *b, const bench_command *command, int meant) {
    const char *why = command->refuse != NULL ? command->refuse(b) : NULL;
    if (why != NULL) {
        bench_refuse(b, "%s", why);
    } else {
        command->run(b, meant);
    }
    bench_settle(b);
    left_tell_trouble(b);
    return b->effects;
}

unsigned bench_key(bench *b, int key) {
    if (paste_key(b, key)) {
        return b->effects;
    }
    begin(b);
    int meant = key;
    bench_screen where = bench_where(b);
    size_t index = command_of(b, key, 1u << where, &meant);
    bool letter = form_takes_letter(b, key);
    if (index != SIZE_MAX && !letter) {
        return run(b, &table[index], meant);
    }
    if (letter) {
        do_form_type(b, key);
        bench_settle(b);
        return b->effects;
    }
    bool text = where == BENCH_TYPING || where == BENCH_COMMANDS;
    if (!text || !((where == BENCH_TYPING && entry_box_key(&b->entry, key)) || entry_key(&b->entry, key))) {
        say_unused(b, key);
    } else if (where == BENCH_COMMANDS) {
        commands_filter(b);
    }
    bench_settle(b);
    return b->effects;
}

unsigned bench_meant(bench *b, int meant) {
    int key;
    size_t index = command_of(NULL, meant, 1u << bench_where(b), &key);
    if (index == SIZE_MAX) {
        return BENCH_NOTHING;
    }
    begin(b);
    return run(b, &table[index], meant);
}

/* ---- the manual ---- */

static void manual_text(FILE *to, const char *text) {
    for (; *text != '\0'; text++) {
        if (*text == '-' || *text == '\\') {
            fprintf(to, "%s", *text == '-' ? "\\-" : "\\e");
        } else {
            fputc(*text, to);
        }
    }
}

void bench_keys_manual(FILE *to) {
    for (size_t p = 0; p < sizeof places / sizeof places[0]; p++) {
        fprintf(to, ".SS %s\n", places[p].title);
        for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
            if ((table[i].where & 1u << places[p].screen) == 0) {
                continue;
            }
            fprintf(to, ".TP\n.B \"");
            for (int k = 0; k < COMMAND_KEYS && table[i].keys[k] != BENCH_KEY_NONE; k++) {
                char name[16];
                fprintf(to, "%s", k > 0 ? "  " : "");
                manual_text(to, key_name(table[i].keys[k], name));
            }
            fprintf(to, "\"\n");
            manual_text(to, table[i].help);
            fprintf(to, "\n");
        }
    }
}

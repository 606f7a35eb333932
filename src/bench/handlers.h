/* bench/handlers.h - what the rows of the table of commands run, and why some cannot be done now. inner.h includes it;
 * no other room does. */
#ifndef BENCH_HANDLERS_H
#define BENCH_HANDLERS_H

#include "bench/bench.h"

/* Handlers, one a row of the table. */
void do_up_down(bench *b, int key);
void do_list(bench *b, int key);
void do_step(bench *b, int key);
void do_ten(bench *b, int key);
void do_digit(bench *b, int key);
void do_value(bench *b, int key);
void do_usual(bench *b, int key);
void do_card(bench *b, int key);
void do_count(bench *b, int key);
void do_lose(bench *b, int key);
void do_tools(bench *b, int key);
void do_moves(bench *b, int key);
void do_list_take(bench *b, int key);
void do_leave(bench *b, int key);
void do_undo(bench *b, int key);
void do_redo(bench *b, int key);
void do_save(bench *b, int key);
void do_save_as(bench *b, int key);
void do_template(bench *b, int key);
void do_write_card(bench *b, int key);
void do_reload(bench *b, int key);
void do_open(bench *b, int key);
void do_new(bench *b, int key);
void do_start(bench *b, int key);
void do_quit(bench *b, int key);
void do_band_add(bench *b, int key);
void do_band_copy(bench *b, int key);
void do_band_out(bench *b, int key);
void do_band_move(bench *b, int key);
void do_keep(bench *b, int key);
void do_item_type(bench *b, int key);
void do_item_add(bench *b, int key);
void do_item_out(bench *b, int key);
void do_item_step(bench *b, int key);
void do_view(bench *b, int key);
void do_along(bench *b, int key);
void do_cells(bench *b, int key);
void do_hide_seam(bench *b, int key);
void do_round(bench *b, int key);
void do_round_step(bench *b, int key);
void do_tightest(bench *b, int key);
void do_widest(bench *b, int key);
void do_seam(bench *b, int key);
void do_strikes(bench *b, int key);
void do_strike(bench *b, int key);
void do_unstrike(bench *b, int key);
void do_strikes_anew(bench *b, int key);
void do_strikes_log(bench *b, int key);
void do_left_type(bench *b, int key);
void do_page(bench *b, int key);
void do_warnings(bench *b, int key);
void do_figures(bench *b, int key);
void do_help(bench *b, int key);
void do_keys_told(bench *b, int key);
void do_mouse(bench *b, int key);
void do_commands(bench *b, int key);
void do_commands_take(bench *b, int key);
void do_commands_leave(bench *b, int key);
void do_scroll(bench *b, int key);
void do_inventory(bench *b, int key);
void do_yes(bench *b, int key);
void do_no(bench *b, int key);
void do_left_take(bench *b, int key);
void do_left_look(bench *b, int key);
void do_left_drop(bench *b, int key);
void do_left_later(bench *b, int key);
void do_theirs_keep(bench *b, int key);
void do_theirs_take(bench *b, int key);
void do_theirs_look(bench *b, int key);
void do_theirs_elsewhere(bench *b, int key);
void do_entry_take(bench *b, int key);
void do_entry_leave(bench *b, int key);
void do_form_move(bench *b, int key);
void do_form_other(bench *b, int key);
void do_form_type(bench *b, int key);
void do_form_clear(bench *b, int key);
void do_hold(bench *b, int key);
void do_second(bench *b, int key);
void do_second_choose(bench *b, int key);
void do_second_keep(bench *b, int key);
void do_second_drop(bench *b, int key);
void do_second_scroll(bench *b, int key);
void do_repaint(bench *b, int key);
void do_table(bench *b, int key);
void do_table_move(bench *b, int key);
void do_table_explain(bench *b, int key);
void do_look(bench *b, int key);
void do_look_scale(bench *b, int key);
void do_look_pan(bench *b, int key);
void do_look_next(bench *b, int key);
void do_look_other(bench *b, int key);
void do_look_band(bench *b, int key);
void do_fine(bench *b, int key);
void do_marks(bench *b, int key);

const char *refuse_no_rounds(const bench *b);
const char *refuse_no_moves(const bench *b);
const char *refuse_none_held(const bench *b);

#endif

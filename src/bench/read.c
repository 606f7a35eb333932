/* read.c - texts to read: help from the table of commands, what each figure is, warnings, the page for the bench. */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"

enum { PAGE_LEAST = 16 }; /* cells of the page's lines, however narrow the window is */

/* A text made by a writer; NULL if it could not be. */
typedef struct text_stream {
    FILE *to;
    char *text;
    size_t size;
} text_stream;

static bool stream_open(text_stream *stream) {
    stream->text = NULL;
    stream->size = 0;
    stream->to = open_memstream(&stream->text, &stream->size);
    return stream->to != NULL;
}

static char *stream_text(text_stream *stream) {
    bool fine = ferror(stream->to) == 0;
    if (fclose(stream->to) != 0 || !fine) {
        free(stream->text);
        return NULL;
    }
    return stream->text;
}

/* ---- help ---- */

static void command_lines(const bench *b, FILE *to, unsigned where, bool bottom) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    for (size_t i = 0; i < count; i++) {
        char keys[100];
        if ((table[i].where & where) != 0 && (table[i].shown > 0) == bottom) {
            command_keys_words(b, i, keys);
            fprintf(to, "  %-18s %s\n", keys, table[i].help);
        }
    }
}

void do_help(bench *b, int key) {
    (void)key;
    text_stream stream;
    if (!stream_open(&stream)) {
        bench_refuse(b, "out of memory");
        return;
    }
    unsigned where = 1u << b->screen;
    fprintf(stream.to, "The keys that work here. The most used first.\n\n");
    command_lines(b, stream.to, where, true);
    fprintf(stream.to, "\n");
    command_lines(b, stream.to, where, false);
    if (b->screen == BENCH_WORK) {
        char explain[COMMAND_ID_ROOM];
        fprintf(
            stream.to,
            "\nOne value is in hand at a time, marked with >. Arrows and typing go there. A value in (brackets) does "
            "not stand in the file: it is as usual. A value marked * is kept from suggestions.\n"
            "\nThe bands follow the edge of the piece from the outside in. Words of our own: the guide is the line of "
            "the first round; the gap is what is left over (+) or lacking (-) when the round is struck at the "
            "usual step; %s says what each figure is.\n",
            key_words(b, "{workbench.explain}", explain, sizeof explain));
    }
    bench_read(b, "keys", stream_text(&stream));
}

/* Where letters are text, the message tells the keys. */
void do_keys_told(bench *b, int key) {
    (void)key;
    size_t count, used = 0;
    const bench_command *table = bench_commands(&count);
    char text[500] = "";
    for (size_t i = 0; i < count && used < sizeof text - 120; i++) {
        char keys[100];
        if ((table[i].where & 1u << bench_where(b)) != 0 && table[i].run != do_keys_told) {
            command_keys_words(b, i, keys);
            used +=
                (size_t)snprintf(text + used, sizeof text - used, "%s%s %s", used > 0 ? ", " : "", keys, table[i].name);
        }
    }
    bench_say(b, "%s", text);
}

/* ---- figures ---- */

void do_figures(bench *b, int key) {
    (void)key;
    text_stream stream;
    if (!stream_open(&stream)) {
        bench_refuse(b, "out of memory");
        return;
    }
    bench_card card;
    card_read(b, &card);
    if (b->field < card.count && (b->screen == BENCH_WORK || b->screen == BENCH_ITEMS)) {
        const bench_row *row = &card.rows[b->field];
        char range[ROW_TEXT], step[32];
        row_range_words(b, row->field, range);
        row_step_words(b, row, step);
        fprintf(stream.to, "In hand: %s, %s\n  %s%s%s\n  allowed: %s%s%s\n  in the file: %s\n\n", row->field->label,
                row->words, row->field->help, row->field->more != NULL ? " " : "",
                row->field->more != NULL ? row->field->more : "", range, step[0] != '\0' ? "; a step is " : "", step,
                row->path);
    }
    if (b->card == 0 && b->screen == BENCH_WORK) {
        show_words words;
        fprintf(stream.to, "The piece:\n  %s\n",
                show_leather_sentence(&words, desk_project(b->desk), desk_plan(b->desk)));
        fprintf(stream.to, "  %s\n\n", show_seam_sentence(&words, desk_project(b->desk), desk_plan(b->desk)));
    }
    show_figure list[SHOW_FIGURE_COUNT_OF_KINDS];
    size_t count = show_figures(desk_project(b->desk), desk_plan(b->desk), b->band, list, SHOW_FIGURE_COUNT_OF_KINDS);
    if (count > 0) {
        fprintf(stream.to, "The figures of %s:\n\n", desk_project(b->desk)->bands[b->band].name);
    }
    for (size_t i = 0; i < count; i++) {
        fprintf(stream.to, "%s, %s\n  %s\n", list[i].name, list[i].value, list[i].words);
    }
    bench_read(b, "what is this", stream_text(&stream));
}

/* ---- warnings ---- */

const char *bench_warning_way(const bw_warning *warning) {
    return warning->kind != BW_WARN_TOOL_DIFFERS
               ? ""
               : "; {workbench.inventory}, then {inventory.to-the-piece} takes the inventory's, "
                 "{inventory.to-the-inventory} gives it the piece's";
}

void do_warnings(bench *b, int key) {
    (void)key;
    text_stream stream;
    size_t count;
    const shop_project *project = desk_project(b->desk);
    const bw_plan *plan = desk_plan(b->desk);
    bw_warning *list = show_warnings(project, plan, &count);
    if (list == NULL || !stream_open(&stream)) {
        free(list);
        bench_refuse(b, "out of memory");
        return;
    }
    if (count == 0) {
        fprintf(stream.to, "No warnings: nothing stands against striking this.\n");
    }
    for (int pass = 0; pass < 2; pass++) { /* what stops the work comes first */
        for (size_t i = 0; i < count; i++) {
            show_words words;
            if ((list[i].kind == BW_WARN_VERDICT) != (pass == 0)) {
                continue;
            }
            char way[160];
            show_warning_sentence(&words, project, plan, &list[i]);
            fprintf(stream.to, "%c %s: %s%s\n", pass == 0 ? '!' : '-', project->bands[list[i].band].name, words.text,
                    key_words(b, bench_warning_way(&list[i]), way, sizeof way));
        }
    }
    free(list);
    bench_read(b, count == 1 ? "1 warning" : "warnings", stream_text(&stream));
}

/* ---- the page ---- */

static char *page_text(const bench *b, int width) {
    text_stream stream;
    if (!stream_open(&stream)) {
        return NULL;
    }
    bool fine = show_plan_page(stream.to, desk_project(b->desk), desk_plan(b->desk), width);
    char *text = stream_text(&stream);
    if (!fine) {
        free(text);
        text = NULL;
    }
    return text;
}

void do_page(bench *b, int key) {
    (void)key;
    bench_read(b, "page for the bench", page_text(b, SHOW_PAGE_WIDTH));
    b->page_width = b->screen == BENCH_READ ? SHOW_PAGE_WIDTH : 0;
}

void page_fit(bench *b, int width) {
    int fits = width < PAGE_LEAST ? PAGE_LEAST : width < SHOW_PAGE_WIDTH ? width : SHOW_PAGE_WIDTH;
    char *text = b->page_width == 0 || b->page_width == fits ? NULL : page_text(b, fits);
    if (text != NULL) {
        free(b->text);
        b->text = text;
        b->page_width = fits;
    }
}

/* ---- reading ---- */

void do_scroll(bench *b, int key) {
    size_t page = (size_t)(b->height > 5 ? b->height - 4 : 1);
    switch (key) {
    case BENCH_KEY_UP:
        b->list.first -= b->list.first > 0;
        break;
    case BENCH_KEY_DOWN:
        b->list.first++;
        break;
    case BENCH_KEY_PAGE_UP:
        b->list.first -= b->list.first < page ? b->list.first : page;
        break;
    case BENCH_KEY_HOME:
        b->list.first = 0;
        break;
    case BENCH_KEY_END:
        b->list.first = b->list.count;
        break;
    default:
        b->list.first += page;
    }
    /* b->list.count holds the number of lines since the last drawing. */
    size_t most = b->list.count > page ? b->list.count - page : 0;
    b->list.first = b->list.first > most ? most : b->list.first;
}

/* load.c - loading and planning a project against libyaml's own parse of the same bytes, and the workbench's other
 * work, in one run. Usage: speed_load FILE... Prints ratios; decides nothing. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <yaml.h>

#include "show/show.h"

#define FRAME_MS (1000.0 / 60)

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static void parse(const char *bytes, size_t length) {
    yaml_parser_t parser;
    yaml_event_t event;
    yaml_parser_initialize(&parser);
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, length);
    for (bool done = false; !done && yaml_parser_parse(&parser, &event); yaml_event_delete(&event))
        done = event.type == YAML_STREAM_END_EVENT;
    yaml_parser_delete(&parser);
}

static shop_project *load(const char *bytes, size_t length) {
    shop_problems problems;
    shop_problems_init(&problems, "speed");
    shop_project *project = shop_project_read(bytes, length, "speed", NULL, &problems);
    if (project == NULL) {
        shop_problems_print(&problems, stderr);
        exit(1);
    }
    shop_problems_free(&problems);
    return project;
}

static bw_plan *plan_of(const shop_project *project) {
    bw_plan *plan = NULL;
    if (bw_plan_create(&project->layout, NULL, &plan) != BW_OK)
        exit(1);
    return plan;
}

static void measure(const char *name, const char *bytes, size_t length, int rounds) {
    double parsing = now();
    for (int i = 0; i < rounds; i++)
        parse(bytes, length);
    parsing = (now() - parsing) / rounds;
    double loading = now();
    for (int i = 0; i < rounds; i++)
        shop_project_free(load(bytes, length));
    loading = (now() - loading) / rounds;
    shop_project *project = load(bytes, length);
    double planning = now();
    for (int i = 0; i < rounds; i++)
        bw_plan_destroy(plan_of(project));
    planning = (now() - planning) / rounds;
    printf("%-28s libyaml %.3f ms; load %.3f ms (%.1f times); plan %.3f ms (%.2f of the load)\n", name, parsing,
           loading, loading / parsing, planning, planning / loading);
    shop_project_free(project);
}

/* Fifty bands and a thousand tools on a large round piece. */
static char *large(size_t *length) {
    char *text = NULL;
    FILE *to = open_memstream(&text, length);
    fputs("bandwright-project: 1\noutline: {shape: circle, diameter: 1500}\nbands:\n", to);
    for (int i = 0; i < 50; i++)
        fprintf(to, "  - {name: band %d, space: 2, width: 11, fill: basket, tool: t%d, lay: %s}\n", i, i * 20,
                i % 2 == 0 ? "straight" : "angled");
    fputs("tools:\n", to);
    for (int i = 0; i < 1000; i++)
        fprintf(to, "  - {id: t%d, kind: basket, length: %.2f}\n", i, 5 + i * 0.01);
    fclose(to);
    return text;
}

static void frame(const char *what, double ms) {
    printf("  %-26s %8.2f ms, %.2f of a 60 Hz frame\n", what, ms, ms / FRAME_MS);
}

static void measure_large(const char *bytes, size_t length) {
    shop_project *project = load(bytes, length);
    bw_plan *plan = plan_of(project);
    show_grid grid;
    show_view view = {.project = project, .plan = plan, .band = 25, .cell_aspect = 2};
    bw_rank *ranks;
    bw_move *moves;
    size_t count;
    double begin = now();
    bw_rank_tools(&project->layout, 25, NULL, &ranks, &count);
    frame("rank of 1000 tools", now() - begin);
    begin = now();
    bw_moves_create(&project->layout, plan, 25, NULL, &moves, &count);
    frame("suggestions of a band", now() - begin);
    show_grid_init(&grid, 120, 40, false);
    begin = now();
    show_preview(&grid, (show_rect){0, 0, 60, 30}, &view);
    show_seam(&grid, (show_rect){60, 0, 60, 10}, &view);
    show_table(&grid, (show_rect){60, 10, 60, 20}, &view, 0);
    show_closure(&grid, (show_rect){0, 30, 60, 5}, &view);
    show_warning_list(&grid, (show_rect){60, 30, 60, 10}, &view, 0);
    frame("all views", now() - begin);
    show_grid_free(&grid);
    bw_moves_release(moves, NULL);
    bw_ranks_release(ranks, NULL);
    bw_plan_destroy(plan);
    shop_project_free(project);
}

int main(int argc, char **argv) {
    size_t length;
    for (int i = 1; i < argc; i++) {
        shop_problems problems;
        char *bytes;
        shop_problems_init(&problems, argv[i]);
        if (shop_read(argv[i], &bytes, &length, &problems) != SHOP_OK)
            return 1;
        measure(argv[i], bytes, length, 300);
        free(bytes);
        shop_problems_free(&problems);
    }
    char *text = large(&length);
    measure("50 bands, 1000 tools", text, length, 5);
    measure_large(text, length);
    free(text);
    return 0;
}

/* fuzz_project.c - any bytes as a project file: refused with reasons, or planned and written in every form. */
#include "fuzz/memory.h"
#include "show/show.h"

/* Writing every one of more takes a while and finds nothing new; and so does planning dozens of suggestions, as the
 * page does, along an edge of thousands of fitted arcs. */
enum { STRIKES_MOST = 200000, PAGE_PIECES_MOST = 300, LIST_PIECES_MOST = 5000 };

static void write_all(const shop_project *project) {
    bw_plan *plan;
    long long strikes = 0;
    if (bw_plan_create(&project->layout, NULL, &plan) != BW_OK)
        return;
    show_plan_yaml(nowhere(), project, plan);
    if (bw_curve_pieces(plan->edge) <= PAGE_PIECES_MOST)
        show_plan_text(nowhere(), project, plan);
    for (size_t i = 0; i < plan->band_count; i++)
        strikes += plan->bands[i].strikes;
    if (strikes <= STRIKES_MOST && bw_curve_pieces(plan->edge) <= LIST_PIECES_MOST)
        show_plan_csv(nowhere(), project, plan);
    bw_plan_destroy(plan);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    shop_problems problems;
    shop_problems_init(&problems, "fuzz.yaml");
    shop_project *project = shop_project_read((const char *)data, size, "fuzz.yaml", NULL, &problems);
    if (project != NULL)
        write_all(project);
    else if (problems.errors == 0)
        __builtin_trap(); /* refused without a reason */
    shop_problems_print(&problems, nowhere());
    shop_project_free(project);
    shop_problems_free(&problems);
    return 0;
}

#include "paper.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

char *paper_problems(const shop_problems *problems) {
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    ck_assert_ptr_nonnull(to);
    shop_problems_print(problems, to);
    ck_assert_int_eq(fclose(to), 0);
    return text;
}

char *paper_read(const char *yaml, size_t length, shop_project **project) {
    shop_problems problems;
    shop_problems_init(&problems, "lid.yaml");
    shop_project *read = shop_project_read(yaml, length, "lid.yaml", NULL, &problems);
    ck_assert_msg((read == NULL) == (problems.errors > 0), "a project and errors must not come together");
    char *text = paper_problems(&problems);
    shop_problems_free(&problems);
    if (project)
        *project = read;
    else
        shop_project_free(read);
    return text;
}

shop_project *paper_project(const char *yaml) {
    shop_project *project;
    char *said = paper_read(yaml, strlen(yaml), &project);
    ck_assert_msg(project != NULL, "must be read: %s", said);
    free(said);
    return project;
}

char *paper_edit(const char *yaml, size_t size, const char *path, const char *old, const char *value, size_t *length,
                 char **why) {
    shop_problems problems;
    shop_problems_init(&problems, "lid.yaml");
    shop_text *text = shop_text_read(yaml, size, &problems);
    char *bytes = NULL, *said = paper_problems(&problems);
    ck_assert_msg(text != NULL && problems.errors == 0, "the text itself must be good: %s", said);
    free(said);
    shop_edit edit = {strdup(path), old ? strdup(old) : NULL, value ? strdup(value) : NULL};
    bool good = shop_text_edit(text, &edit, &bytes, length, &problems);
    ck_assert_int_eq(good, problems.errors == 0);
    ck_assert_int_eq(good, bytes != NULL);
    *why = paper_problems(&problems);
    shop_edit_free(&edit);
    shop_text_free(text);
    shop_problems_free(&problems);
    return bytes;
}

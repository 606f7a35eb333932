/* The shop's own list of tools. */
#include <pwd.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "shop/load.h"
#include "shop/problems.h"

shop_project *shop_inventory_tools(const char *bytes, size_t length, shop_problems *problems) {
    size_t first = problems->count, errors = problems->errors;
    shop_project *p = shop_project_new(problems);
    if (!p)
        return NULL;
    shop_loader loader = {.problems = problems, .memory = p->memory, .project = p, .inventory = true};
    if (shop_load_file(&loader, bytes, length))
        shop_check_tools(&loader);
    shop_problems_sort(problems, first);
    if (problems->errors == errors)
        return p;
    shop_project_free(p);
    return NULL;
}

shop_inventory *shop_inventory_read(const char *bytes, size_t length, shop_problems *problems) {
    shop_project *p = shop_inventory_tools(bytes, length, problems);
    shop_inventory *inventory = p ? shop_arena_get(p->memory, sizeof *inventory) : NULL;
    if (!inventory) {
        if (p)
            shop_problem_add(problems, false, 0, 0, "out of memory");
        shop_project_free(p);
        return NULL;
    }
    inventory->text = p->text;
    inventory->units = p->units;
    inventory->tools = p->tools;
    inventory->about = p->tool_about;
    inventory->tool_count = p->own_tools;
    inventory->rates = p->rates;
    inventory->memory = p->memory;
    return inventory;
}

char *shop_new_inventory(shop_unit unit, size_t *length) {
    shop_buffer text = {0};
    shop_buffer_text(&text, "# The tools of the shop. A bare number is in the units below; 3/4 in or 18 mm work, too.\n"
                            "bandwright-inventory: 1\n");
    shop_buffer_text(&text, unit == SHOP_INCH ? "units: in\n" : "units: mm\n");
    shop_buffer_text(&text, "tools: []\n");
    return shop_buffer_take(&text, length);
}

void shop_inventory_free(shop_inventory *inventory) {
    if (!inventory)
        return;
    shop_text_free(inventory->text);
    shop_arena_free(inventory->memory); /* the inventory itself lies in it */
}

/* A relative folder in the environment counts as not set, as the base directory standard wants. */
static const char *folder_from(const char *variable) {
    const char *folder = getenv(variable);
    return folder && *folder == '/' ? folder : NULL;
}

char *shop_user_place(const char *variable, const char *under_home, const char *name) {
    shop_buffer place = {0};
    const char *folder = folder_from(variable), *home = folder_from("HOME");
    if (!folder && !home) {
        const struct passwd *me = getpwuid(getuid());
        if (!me || !me->pw_dir || *me->pw_dir != '/')
            return NULL;
        home = me->pw_dir;
    }
    shop_buffer_text(&place, folder ? folder : home);
    if (!folder)
        shop_buffer_text(&place, under_home);
    shop_buffer_text(&place, name);
    return shop_buffer_take(&place, NULL);
}

char *shop_inventory_place(void) {
    return shop_user_place("XDG_DATA_HOME", "/.local/share", "/bandwright/inventory.yaml");
}

/* new_shape.c - which shape the sizes given to `new` tell of. */
#include <string.h>

#include "shop/fields.h"
#include "verbs/verbs.h"

enum { SAID = 200 };

/* The shapes that read a value of the outline, a bit each; 0 for one that any shape has, or of something else. */
static unsigned shapes_of(const char *path, const char *const *words) {
    char own[80];
    unsigned shapes = 0;
    size_t length = strncmp(path, "outline.", 8) == 0 ? 8 + strcspn(path + 8, ".[=") : 0;
    if (length == 0 || length >= sizeof own) {
        return 0;
    }
    snprintf(own, sizeof own, "%.*s", (int)length, path);
    for (unsigned i = 0; words[i] != NULL; i++) {
        const shop_field *field = shop_field_of(own, 1u << i);
        shapes |= field != NULL && field->kinds != 0 ? 1u << i : 0;
    }
    return shapes;
}

/* "rectangle, ellipse or strap" */
static void say_shapes(unsigned shapes, const char *const *words, char out[SAID]) {
    out[0] = '\0';
    for (unsigned i = 0; words[i] != NULL; i++) {
        unsigned behind = shapes & ~((2u << i) - 1), before = shapes & ((1u << i) - 1);
        size_t used = strlen(out);
        if ((shapes & 1u << i) != 0) {
            snprintf(out + used, SAID - used, "%s%s", before == 0 ? "" : behind == 0 ? " or " : ", ", words[i]);
        }
    }
}

static int name_length(const char *operand) {
    return (int)strcspn(operand, "=");
}

/* The shape among the operands, a bit; 0 if none is given, or one that there is not. *given: there is one. */
static unsigned shape_given(const verb_args *args, const char *const *words, bool *given) {
    unsigned shape = 0;
    *given = false;
    for (int at = 1; at < args->operand_count; at++) {
        const char *operand = args->operands[at];
        if (strncmp(operand, "outline.shape=", 14) == 0) {
            *given = true;
            for (unsigned i = 0; words[i] != NULL; i++) {
                shape |= strcmp(operand + 14, words[i]) == 0 ? 1u << i : 0;
            }
        }
    }
    return shape;
}

int verb_new_shape(const verb_args *args, const char **shape) {
    const char *const *words = shop_field_find("outline.shape")->words;
    bool given;
    unsigned asked = shape_given(args, words, &given), left = given ? asked : ~0u;
    const char *first = NULL;
    char theirs[SAID], mine[SAID];
    *shape = NULL;
    for (int at = 1; at < args->operand_count && (!given || asked != 0); at++) {
        const char *operand = args->operands[at];
        unsigned shapes = operand[name_length(operand)] == '=' && operand[name_length(operand) + 1] != '\0'
                              ? shapes_of(operand, words)
                              : 0;
        if (shapes != 0 && (shapes & left) == 0) {
            say_shapes(shapes, words, mine);
            say_shapes(left, words, theirs);
            return verb_complain("%.*s is of a piece of another shape (%s) than %.*s (%s)", name_length(operand),
                                 operand, mine, first == NULL ? 13 : name_length(first),
                                 first == NULL ? "outline.shape" : first, theirs);
        }
        if (shapes != 0) {
            left &= shapes;
            first = first == NULL && !given ? operand : first;
        }
    }
    if (given || first == NULL) {
        return 0;
    }
    say_shapes(left, words, mine);
    if ((left & (left - 1)) != 0) {
        return verb_complain("%.*s alone does not tell the shape: add outline.shape=SHAPE, which may be %s",
                             name_length(first), first, mine);
    }
    for (unsigned i = 0; words[i] != NULL; i++) {
        *shape = left == 1u << i ? words[i] : *shape;
    }
    return 0;
}

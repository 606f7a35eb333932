/* Sizes and path data in a drawing: widths with their units, transforms, subpaths. */
#include <math.h>
#include <string.h>

#include "bandwright/base.h"
#include "shop/characters.h"
#include "shop/drawing.h"
#include "shop/values.h"

#define PIXEL                                                                                                          \
    (BW_MM_PER_INCH / 96) /* CSS Values and Units 3, W3C, 6.2: 1 px = 1/96 in, 1 pt = 1/72 in, 1 pc = 12 pt            \
                           */
#define ALIKE 1e-3        /* share by which two scales may differ that rounding made of one */

typedef struct text {
    const char *at, *end;
} text;

static void skip(text *t, bool comma) {
    while (t->at < t->end && shop_is_blank(*t->at))
        t->at++;
    if (comma && t->at < t->end && *t->at == ',') {
        t->at++;
        skip(t, false);
    }
}

static bool take(text *t, const char *word) {
    size_t length = strlen(word);
    if ((size_t)(t->end - t->at) < length || memcmp(t->at, word, length) != 0)
        return false;
    t->at += length;
    return true;
}

static size_t digits(text *t) {
    const char *from = t->at;
    while (t->at < t->end && *t->at >= '0' && *t->at <= '9')
        t->at++;
    return (size_t)(t->at - from);
}

static bool sign(text *t) {
    return take(t, "-") || take(t, "+");
}

/* A number as SVG writes it, exponent and all. */
static bool number(text *t, double *value) {
    const char *from = t->at;
    sign(t);
    size_t count = digits(t);
    if (take(t, "."))
        count += digits(t);
    text before = *t;
    if (count && (take(t, "e") || take(t, "E"))) {
        sign(t);
        if (digits(t) == 0)
            *t = before; /* 2em */
    }
    if (count == 0 || t->at - from > SHOP_NUMBER_MOST)
        return false;
    *value = shop_convert(from, t->at);
    return isfinite(*value);
}

/* ---- the size of a drawing ---- */

/* A width in mm. *of_its_own: it carries a unit. */
static bool length_in_mm(const shop_xml *xml, const char *name, double *mm, bool *of_its_own) {
    static const struct {
        const char *name;
        double mm;
    } units[] = {{"mm", 1},
                 {"cm", 10},
                 {"in", BW_MM_PER_INCH},
                 {"pt", BW_MM_PER_INCH / 72},
                 {"px", PIXEL},
                 {"pc", BW_MM_PER_INCH / 6},
                 {"", PIXEL}};
    shop_span span;
    if (!shop_xml_attribute(xml, name, &span))
        return false;
    text t = {xml->bytes + span.from, xml->bytes + span.to};
    skip(&t, false);
    if (!number(&t, mm) || *mm <= 0)
        return false;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        text rest = t;
        *of_its_own = *units[i].name != '\0';
        if (!take(&rest, units[i].name))
            continue;
        skip(&rest, false);
        if (rest.at == rest.end) {
            *mm *= units[i].mm;
            return true;
        }
    }
    return false;
}

static bool view_box(const shop_xml *xml, double *width, double *height) {
    shop_span span;
    double value[4];
    if (!shop_xml_attribute(xml, "viewBox", &span))
        return false;
    text t = {xml->bytes + span.from, xml->bytes + span.to};
    for (int i = 0; i < 4; i++) {
        skip(&t, i > 0);
        if (!number(&t, &value[i]))
            return false;
    }
    *width = value[2];
    *height = value[3];
    return *width > 0 && *height > 0;
}

/* Of two scales the one that holds: the lesser, so that all of the drawing fits, unless it may be stretched. */
static double one_of(const shop_xml *xml, double along, double across) {
    shop_span span;
    if (isnan(along) || isnan(across))
        return isnan(along) ? across : along;
    bool alike = fabs(along - across) <= ALIKE * along;
    if (!alike && shop_xml_attribute(xml, "preserveAspectRatio", &span)) {
        text t = {xml->bytes + span.from, xml->bytes + span.to};
        skip(&t, false);
        if (take(&t, "none"))
            return NAN;
    }
    return alike ? along : fmin(along, across);
}

double shop_drawing_unit(const shop_xml *xml) {
    double width = NAN, height = NAN, box_width, box_height;
    bool with_unit = false, high_unit = false;
    bool wide = length_in_mm(xml, "width", &width, &with_unit);
    bool high = length_in_mm(xml, "height", &height, &high_unit);
    if (view_box(xml, &box_width, &box_height)) {
        double unit = one_of(xml, wide ? width / box_width : NAN, high ? height / box_height : NAN);
        return unit > 0 && isfinite(unit) ? unit : NAN;
    }
    return (wide && with_unit) || (high && high_unit) ? PIXEL : NAN;
}

/* ---- transforms ---- */

/* The numbers in brackets, `most` of them; 0 if it is written in another way. */
static size_t arguments(text *t, double value[6]) {
    size_t count = 0;
    skip(t, false);
    if (!take(t, "("))
        return 0;
    for (;;) {
        skip(t, count > 0);
        if (take(t, ")"))
            return count;
        if (count == 6 || !number(t, &value[count++]))
            return 0;
    }
}

static double one_transform(text *t) {
    double v[6];
    if (take(t, "translate"))
        return arguments(t, v) - 1 < 2 ? 1 : NAN;
    if (take(t, "scale")) {
        size_t count = arguments(t, v);
        return (count == 1 || (count == 2 && v[1] == v[0])) && v[0] > 0 ? v[0] : NAN;
    }
    if (take(t, "matrix"))
        return arguments(t, v) == 6 && v[0] == v[3] && v[1] == 0 && v[2] == 0 && v[0] > 0 ? v[0] : NAN;
    return NAN;
}

double shop_transform_factor(const char *bytes, size_t length) {
    text t = {bytes, bytes + length};
    double factor = 1;
    skip(&t, false);
    while (t.at < t.end && !isnan(factor)) {
        factor *= one_transform(&t);
        skip(&t, true);
    }
    return isfinite(factor) && factor > 0 ? factor : NAN;
}

/* ---- path data ---- */

static void single_blanks(char *svg) {
    char *to = svg;
    for (const char *from = svg; *from; from++)
        if (!shop_is_blank(*from))
            *to++ = *from;
        else if (to > svg && to[-1] != ' ')
            *to++ = ' ';
    while (to > svg && to[-1] == ' ')
        to--;
    *to = '\0';
}

static const char *skip_digits(const char *at) {
    return at + strspn(at, "0123456789");
}

/* Behind one number of path data; NULL if none stands there. */
static const char *behind_number(const char *at) {
    at += strspn(at, " ,");
    at += *at == '+' || *at == '-';
    const char *digits = at;
    at = skip_digits(at);
    at = *at == '.' ? skip_digits(at + 1) : at;
    if (strcspn(digits, "0123456789") >= (size_t)(at - digits)) {
        return NULL;
    }
    const char *power = at + (*at == 'e' || *at == 'E');
    power += power > at && (*power == '+' || *power == '-');
    return power > at && skip_digits(power) > power ? skip_digits(power) : at;
}

/* Where the path begins behind a subpath that only goes somewhere, as drawing programs leave one; NULL if it begins
 * with none, or if what follows counts from there. */
static const char *behind_empty(const char *svg) {
    const char *at = svg + strspn(svg, " ");
    at = *at == 'M' || *at == 'm' ? behind_number(at + 1) : NULL;
    at = at != NULL ? behind_number(at) : NULL;
    if (at == NULL) {
        return NULL;
    }
    at += strspn(at, " Zz");
    return *at == 'M' ? at : NULL;
}

/* A subpath begins with M, and also with whatever follows Z. */
size_t shop_first_subpath(char *svg) {
    size_t subpaths = 0, cut = 0;
    bool closed = false;
    single_blanks(svg);
    for (const char *rest; (rest = behind_empty(svg)) != NULL;) {
        memmove(svg, rest, strlen(rest) + 1);
    }
    for (size_t i = 0; svg[i]; i++) {
        bool move = svg[i] == 'M' || svg[i] == 'm', close = svg[i] == 'Z' || svg[i] == 'z';
        if (move || subpaths == 0 || (closed && svg[i] != ' ')) {
            if (++subpaths == 2)
                cut = i;
        }
        closed = close || (closed && svg[i] == ' ');
    }
    if (cut)
        svg[cut] = '\0';
    single_blanks(svg);
    return subpaths ? subpaths - 1 : 0;
}

/* check_results.c - what plan, fit, get, set and new do, with their exit status. */
#include <check.h>
#include <ctype.h>
#include <glob.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_results_suite(void);

/* A file with comments, blank lines, all styles and trailing blanks: what is not edited must stay, byte for byte. */
static const char lid[] = "# my lid\n"
                          "bandwright-project: 1\n"
                          "piece:   'Round lid'   # for the cedar box\n"
                          "\n"
                          "outline:\n"
                          "    shape: circle\n"
                          "    diameter: 120        # measured twice\n"
                          "bands:\n"
                          "  - name: rim\n"
                          "    space: 4\n"
                          "    width: 6 # narrow\n"
                          "    fill: border\n"
                          "    tool: s\n"
                          "  - {name: inner weave, width: 16, fill: basket, tool: b, outer: {line: cut}}\n"
                          "tools:\n"
                          "  - {id: s, kind: border, length: 5, width: 5}  # shell\n"
                          "  - {id: b, kind: basket, length: 9}\n";

static void begin(void) {
    spawn_begin();
    spawn_write("lid.yaml", lid, strlen(lid));
}

/* Numbers in two texts within 1e-9 relative or 1e-8 absolute, everything else the same. */
static void same_but_for_rounding(const char *one, const char *other, const char *what) {
    const char *line = one;
    while (*one != '\0' || *other != '\0') {
        line = *one == '\n' ? one + 1 : line;
        char *one_end, *other_end;
        bool number = (isdigit((unsigned char)*one) || (*one == '-' && isdigit((unsigned char)one[1]))) &&
                      (isdigit((unsigned char)*other) || (*other == '-' && isdigit((unsigned char)other[1])));
        if (!number) {
            ck_assert_msg(*one == *other, "%s: %.*s", what, (int)strcspn(line, "\n"), line);
            one++;
            other++;
            continue;
        }
        double a = strtod(one, &one_end), b = strtod(other, &other_end);
        ck_assert_msg(fabs(a - b) <= fmax(1e-8, 1e-9 * fabs(b)), "%s: %.*s", what, (int)strcspn(line, "\n"), line);
        one = one_end;
        other = other_end;
    }
}

/* The golden outputs are those of a second, independent computation. */
START_TEST(plan_is_the_golden_one) {
    static const char *const formats[] = {"yaml", "csv"};
    for (int i = 0; i < 2; i++) {
        char path[100];
        snprintf(path, sizeof path, "tests/show/golden/cedar-lid.plan.%s", formats[i]);
        spawn_copy(path, "golden");
        spawn_copy("tests/show/golden/cedar-lid.yaml", "cedar-lid.yaml");
        size_t length;
        char *golden = spawn_read("golden", &length);
        const spawned *run = spawn("$BW plan --format %s cedar-lid.yaml", formats[i]);
        ck_assert_int_eq(run->status, 0);
        ck_assert_str_eq(run->err, "");
        same_but_for_rounding(golden, run->out, formats[i]);
        free(golden);
    }
}
END_TEST

START_TEST(every_example_plans) {
    glob_t files;
    int fits = 0, fails = 0;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &files), 0);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        const spawned *run = spawn("$BW plan -i $TREE/share/inventory.yaml $TREE/%s", files.gl_pathv[i]);
        ck_assert_msg(run->status == 0 || run->status == 1, "%s: %d\n%s", files.gl_pathv[i], run->status, run->err);
        ck_assert_msg(run->err[0] == '\0', "%s", run->err);
        fits += run->status == 0;
        fails += run->status == 1;
    }
    globfree(&files);
    ck_assert_int_ge(fits, 4);
    ck_assert_int_ge(fails, 1); /* one with a stamp that cannot work */
}
END_TEST

START_TEST(plan_status_tells_whether_it_fits) {
    ck_assert_int_eq(spawn("$BW plan lid.yaml")->status, 0);
    const spawned *run = spawn("$BW set lid.yaml 'bands.inner weave.width=55' && $BW plan -fyaml lid.yaml");
    ck_assert_int_eq(run->status, 1);
    ck_assert_ptr_nonnull(strstr(run->out, "verdict: no room"));
    /* a plain band without room, too */
    run = spawn("$BW new plain.yaml outline.diameter=50 bands.a.width=30 && $BW plan -fyaml plain.yaml");
    ck_assert_int_eq(run->status, 1);
    ck_assert_ptr_nonnull(strstr(run->out, "fit: {verdict: no room}"));
}
END_TEST

START_TEST(fit_ranks_and_tells) {
    const spawned *run = spawn("$BW fit lid.yaml");
    ck_assert_int_eq(run->status, 0);
    ck_assert(strstr(run->out, "rim") != NULL && strstr(run->out, "inner weave") != NULL);
    run = spawn("$BW fit lid.yaml 'inner weave'");
    ck_assert_int_eq(run->status, 0);
    ck_assert_ptr_null(strstr(run->out, "rim:"));
    ck_assert_int_eq(spawn("$BW fit lid.yaml nobody")->status, 2);
    /* legs too short for any count: no stamp is good or tight for that band */
    run = spawn("$BW set lid.yaml tools.b.bar=8.5 && $BW fit lid.yaml 'inner weave'");
    ck_assert_msg(run->status == 1, "%d\n%s", run->status, run->out);
    ck_assert_int_eq(spawn("$BW fit lid.yaml")->status, 1);
    ck_assert_int_eq(spawn("$BW fit lid.yaml rim")->status, 0);
    /* ... but one in the inventory is */
    const char *shop = "bandwright-inventory: 1\ntools:\n  - {id: other, kind: basket, length: 9}\n";
    spawn_write("shop.yaml", shop, strlen(shop));
    run = spawn("$BW fit -i shop.yaml lid.yaml 'inner weave'");
    ck_assert_msg(run->status == 0, "%d\n%s%s", run->status, run->out, run->err);
    ck_assert_ptr_nonnull(strstr(run->out, "other"));
    ck_assert(strstr(run->out, "other") < strstr(run->out, "\n 2."));
}
END_TEST

START_TEST(get_writes_values_and_defaults) {
    const spawned *run = spawn("$BW get lid.yaml piece outline.diameter 'bands.inner weave.width' bands[1].space "
                               "bands.rim.lose tools.s.give sizes");
    ck_assert_int_eq(run->status, 0);
    ck_assert_str_eq(run->out, "piece=Round lid\noutline.diameter=120\nbands.inner weave.width=16\nbands[1].space=4\n"
                               "bands.rim.lose=even\ntools.s.give=5 %\nsizes=laid-out\n");
    run = spawn("$BW get lid.yaml");
    ck_assert_int_eq(run->status, 0);
    ck_assert_ptr_nonnull(strstr(run->out, "\nbands.inner weave.guide=50 %\n"));
    ck_assert_int_eq(spawn("$BW get lid.yaml no.such.path")->status, 2);
    ck_assert_int_eq(spawn("$BW get lid.yaml bands.nobody.width")->status, 2);
}
END_TEST

/* The file's bytes, with one text in it replaced by another. */
static void file_is(const char *from, const char *to) {
    size_t length;
    char *now = spawn_read("lid.yaml", &length), wanted[sizeof lid + 200];
    const char *at = strstr(lid, from);
    ck_assert_ptr_nonnull(at);
    snprintf(wanted, sizeof wanted, "%.*s%s%s", (int)(at - lid), lid, to, at + strlen(from));
    ck_assert_str_eq(now, wanted);
    free(now);
}

START_TEST(set_changes_one_value) {
    static const struct {
        const char *path_value, *from, *to;
    } cases[] = {
        {"outline.diameter=121.5", "diameter: 120 ", "diameter: 121.5 "},
        {"bands.rim.width=1/4 in", "width: 6 #", "width: 1/4 in #"},
        {"bands.inner weave.width=15.75", "width: 16,", "width: 15.75,"},
        {"bands[2].outer.line=scribe", "{line: cut}", "{line: scribe}"},
        {"tools.b.length=9.25", "length: 9}", "length: 9.25}"},
        {"piece=Other lid", "'Round lid'", "'Other lid'"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        spawn_write("lid.yaml", lid, strlen(lid));
        const spawned *run = spawn("$BW set lid.yaml '%s'", cases[i].path_value);
        ck_assert_msg(run->status == 0, "%s: %d\n%s", cases[i].path_value, run->status, run->err);
        file_is(cases[i].from, cases[i].to);
    }
}
END_TEST

START_TEST(set_makes_all_changes_or_none) {
    static const struct {
        const char *values;
        int status;
    } cases[] = {
        {"outline.diameter=130 bands.rim.width=-6", 65},  {"outline.diameter=130 bands.rim.width=nan", 65},
        {"outline.diameter=130 bands.rim.tool=none", 65}, {"outline.diameter=130 bands.rim", 2},
        {"outline.diameter=130 no.such.path=1", 2},       {"outline.diameter=130 bands.rim.width=1e3", 65},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const spawned *run = spawn("$BW set lid.yaml %s", cases[i].values);
        ck_assert_msg(run->status == cases[i].status, "%s: %d\n%s", cases[i].values, run->status, run->err);
        ck_assert_str_ne(run->err, "");
        file_is("", "");
    }
    ck_assert_int_eq(spawn("$BW set lid.yaml outline.diameter=130 bands.rim.space=5")->status, 0);
    ck_assert_str_eq(spawn("$BW get lid.yaml outline.diameter bands.rim.space")->out,
                     "outline.diameter=130\nbands.rim.space=5\n");
}
END_TEST

START_TEST(set_with_nothing_takes_the_value_out) {
    ck_assert_int_eq(spawn("$BW set lid.yaml bands.rim.space=")->status, 0);
    file_is("    space: 4\n", "");
}
END_TEST

START_TEST(set_changes_the_round_to_a_circumference) {
    const spawned *run =
        spawn("$BW set lid.yaml outline.diameter= outline.around='15 in' && $BW get lid.yaml outline.around");
    ck_assert_msg(run->status == 0, "%s", run->err);
    ck_assert_str_eq(run->out, "outline.around=15 in\n");
}
END_TEST

START_TEST(new_makes_what_its_paths_name) {
    const spawned *run = spawn("$BW new fresh.yaml piece=Coaster outline.diameter='4 in' tools.b9.kind=basket "
                               "tools.b9.length=9 bands.weave.width=20 bands.weave.fill=basket bands.weave.tool=b9 "
                               "'bands.the rim.width=3' bands.weave.inner.line=cut");
    ck_assert_msg(run->status == 0, "%d\n%s", run->status, run->err);
    run = spawn("$BW get fresh.yaml piece bands[1].name bands[2].name bands.weave.inner.line tools.b9.length");
    ck_assert_str_eq(run->out, "piece=Coaster\nbands[1].name=weave\nbands[2].name=the rim\n"
                               "bands.weave.inner.line=cut\ntools.b9.length=9\n");
    ck_assert_int_eq(spawn("$BW plan fresh.yaml")->status, 0);
}
END_TEST

START_TEST(new_takes_every_shape) {
    static const char *const shapes[] = {
        "",
        "outline.around=300",
        "outline.chord=80 outline.depth=20",
        "units=in outline.diameter=4",
        "outline.shape=line outline.length=300",
        "outline.shape=rectangle outline.length=200 outline.width=100 outline.corner=20",
        "outline.shape=rectangle outline.length=200 outline.width=100 'outline.corner=[1, 2, 3, 4]'",
        "outline.shape=arc outline.radius=100 outline.sweep=-90",
        "outline.shape=ellipse outline.length=300 'outline.width=8 in'",
        "outline.shape=strap outline.length=900 outline.width=38 outline.start=round 'outline.end={point: 30}'",
        "outline.shape=strap outline.length=900 outline.width=38",
        "outline.shape=polygon 'outline.corners=[[0, 0], [90, 0, 8], [90, 60], [0, 60]]'",
        "outline.shape=polygon outline.corners[1]='[0, 0]' outline.corners[2]='[90, 0]' outline.corners[3]='[9, 60]'",
        "outline.shape=path 'outline.svg=M 0 0 H 90 V 60 Z'",
        "outline.shape=path 'outline.svg=M 0 0 Q 30 20 60 0' outline.scale=2.5",
    };
    for (size_t i = 0; i < sizeof shapes / sizeof shapes[0]; i++) {
        const spawned *run = spawn("rm -f x.yaml; $BW new x.yaml %s && $BW plan x.yaml", shapes[i]);
        ck_assert_msg(run->status == 0, "%s: %d\n%s", shapes[i], run->status, run->err);
    }
}
END_TEST

START_TEST(items_of_lists_are_values) {
    const spawned *run = spawn("$BW new x.yaml outline.shape=polygon "
                               "'outline.corners=[[0, 0], [90, 0], [90, 60, 5]]' && $BW set x.yaml "
                               "'outline.corners[2]=[80, 0]' 'outline.corners[3][3]=7' 'outline.corners[4]=[0, 60]' && "
                               "$BW get x.yaml outline.corners outline.corners[3][3] outline.corners[2]");
    ck_assert_msg(run->status == 0, "%d\n%s", run->status, run->err);
    ck_assert_str_eq(run->out, "outline.corners=[[0, 0], [80, 0], [90, 60, 7], [0, 60]]\noutline.corners[3][3]=7\n"
                               "outline.corners[2]=[80, 0]\n");
    run = spawn("$BW new r.yaml outline.shape=rectangle outline.length=90 outline.width=60 outline.corner=8 && "
                "$BW get r.yaml outline.corner[2] && $BW set r.yaml outline.corner[2]=5");
    ck_assert_int_eq(run->status, 65);
    ck_assert_str_eq(run->out, "outline.corner[2]=8\n");
    ck_assert_msg(strstr(run->err, "for '[2]' give the list as a whole") != NULL, "%s", run->err);
    ck_assert_int_eq(spawn("$BW get x.yaml outline.corners[2][1][1]")->status, 2);
    ck_assert_int_eq(spawn("$BW set x.yaml 'outline.scale[2]=3'")->status, 2);
    ck_assert_int_eq(spawn("$BW set x.yaml 'outline.corners[9]=[1, 1]'")->status, 65);
}
END_TEST

/* Values that make no edge are refused, and the file stays as it is. */
START_TEST(set_refuses_what_makes_no_edge) {
    static const struct {
        const char *made, *set, *said;
    } cases[] = {
        {"shape=polygon 'outline.corners=[[0, 0], [90, 0], [90, 60], [0, 60]]'", "corners[3]=[20, -30]",
         "the edge crosses or touches itself at x 13.33 mm, y 0 mm, "}, /* 20 mm times 60 in 90 */
        {"shape=polygon 'outline.corners=[[0, 0], [90, 0], [90, 60], [0, 60]]'", "corners[3][3]=61",
         "outline.corners[3]: a rounding of 61 mm does not fit"},
        {"shape=strap outline.length=100 outline.width=40", "end={point: 101}", "the ends take 101 mm"},
        {"shape=path 'outline.svg=M 0 0 H 9 V 9 Z'", "svg=M 0 0 H", "at byte 8 of the path data; "},
        {"shape=path 'outline.svg=M 0 0 H 9 V 9 Z'", "svg=@drawing.svg", "a drawing is read once, by: bandwright new"},
        {"shape=path 'outline.svg=M 0 0 H 9 V 9 Z'", "scale=0", "allowed: any number above 0"},
        {"shape=ellipse outline.length=90 outline.width=60", "width=5001", "allowed: 1 to 5000 mm"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        size_t before_length, after_length;
        const spawned *run = spawn("rm -f x.yaml; $BW new x.yaml outline.%s", cases[i].made);
        ck_assert_msg(run->status == 0, "%s", run->err);
        char *before = spawn_read("x.yaml", &before_length);
        run = spawn("$BW set x.yaml 'outline.%s'", cases[i].set);
        ck_assert_msg(run->status == 65 && strstr(run->err, cases[i].said), "%s: %d %s", cases[i].set, run->status,
                      run->err);
        char *after = spawn_read("x.yaml", &after_length);
        ck_assert_str_eq(before, after);
        free(before);
        free(after);
    }
}
END_TEST

#define DRAWING                                                                                                        \
    "<svg xmlns='http://www.w3.org/2000/svg' width='4.5in' height='3in' viewBox='0 0 9 6'>\n"                          \
    " <rect width='3' height='3'/>\n <path d='M 0 0 H 9 V 6 H 0 Z M 1 1 h 1'/>\n <path d='M 1 1 h 3'/>\n</svg>\n"

START_TEST(new_takes_a_drawing) {
    spawn_write("d.svg", DRAWING, strlen(DRAWING));
    const spawned *run = spawn("$BW new x.yaml outline.svg=@d.svg");
    ck_assert_msg(run->status == 0, "%d\n%s", run->status, run->err);
    ck_assert_str_eq(run->out, "");
    ck_assert_str_eq(run->err,
                     "d.svg:2:2: note: left out from here on: 1 other path, 1 other shape\n"
                     "d.svg:3:2: note: this path is taken; its unit is 12.7 mm by the size that the drawing gives\n"
                     "d.svg:3:11: note: 1 further subpath of this path is left out\n");
    run = spawn("$BW get x.yaml outline.shape outline.svg outline.scale");
    ck_assert_str_eq(run->out, "outline.shape=path\noutline.svg=M 0 0 H 9 V 6 H 0 Z\noutline.scale=12.7\n");
    run = spawn("$BW plan -fyaml x.yaml"); /* 4.5 in by 3 in: 381 mm around */
    ck_assert_msg(strstr(run->out, "outline: {length: 381.0, turning: 360.0") != NULL, "%s%s", run->out, run->err);
    /* scale and shape given: they count, before and behind */
    run = spawn("$BW new y.yaml units=in outline.scale=2 outline.svg=@d.svg outline.shape=path bands.a.width=1/4 && "
                "$BW get y.yaml outline.shape outline.scale bands.a.width");
    ck_assert_str_eq(run->out, "outline.shape=path\noutline.scale=2\nbands.a.width=1/4\n");
    /* an @ in other values means nothing */
    run = spawn("$BW new z.yaml piece=@d.svg && $BW get z.yaml piece");
    ck_assert_str_eq(run->out, "piece=@d.svg\n");
}
END_TEST

/* Without outline.shape, the sizes tell the shape; none is made of what belongs to different ones. */
START_TEST(new_takes_the_shape_of_its_sizes) {
    static const struct {
        const char *sizes, *shape; /* or, with a line break, what is said when it is refused */
    } cases[] = {
        {"outline.diameter=80", "circle"},
        {"outline.chord=80 outline.depth=10", "circle"},
        {"outline.length=90 outline.width=60 outline.corner=8", "rectangle"},
        {"outline.width=60 outline.end=round outline.length=90", "strap"},
        {"'outline.corners=[[0, 0], [50, 0], [0, 60]]'", "polygon"},
        {"'outline.svg=M 0 0 H 9 V 9 Z' outline.scale=5", "path"},
        {"outline.radius=100 outline.sweep=90", "arc"},
        {"piece=lid", "circle"},
        {"outline.shape=ellipse outline.length=90 outline.width=60", "ellipse"},
        {"outline.length=90 outline.width=60", "outline.length alone does not tell the shape: add outline.shape=SHAPE, "
                                               "which may be ellipse, rectangle or strap\n"},
        {"outline.diameter=80 'outline.corners=[[0, 0], [50, 0], [0, 60]]'",
         "outline.corners is of a piece of another shape (polygon) than outline.diameter (circle)\n"},
        {"outline.shape=circle outline.corner=5",
         "outline.corner is of a piece of another shape (rectangle) than outline.shape (circle)\n"},
        {"outline.end=round outline.length=90 outline.width=30 outline.radius=5",
         "outline.radius is of a piece of another shape (arc) than outline.end (strap)\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const spawned *run = spawn("rm -f x.yaml; $BW new x.yaml %s", cases[i].sizes);
        if (strchr(cases[i].shape, '\n') != NULL) {
            ck_assert_int_eq(run->status, 2);
            ck_assert_msg(strstr(run->err, cases[i].shape) != NULL, "%s: %s", cases[i].sizes, run->err);
            ck_assert_int_ne(spawn("test -e x.yaml")->status, 0);
            continue;
        }
        ck_assert_msg(run->status == 0 && run->err[0] == '\0', "%s: %d %s", cases[i].sizes, run->status, run->err);
        run = spawn("$BW get x.yaml outline.shape");
        ck_assert_int_eq(run->status, 0);
        ck_assert_msg(strstr(run->out, cases[i].shape) != NULL, "%s: %s", cases[i].sizes, run->out);
    }
}
END_TEST

START_TEST(new_refuses_bad_drawings) {
    static const struct {
        const char *drawing; /* NULL: there is none */
        const char *value;
        int status;
        const char *said;
    } cases[] = {
        {NULL, "outline.svg=@none.svg", 66, "none.svg: error: cannot be read: "},
        {NULL, "outline.svg=@.", 66, ".: error: cannot be read: "},
        {NULL, "outline.svg=d.svg", 65,
         "that names a drawing, which is read once, by: bandwright new FILE outline.svg=@d.svg"},
        {NULL, "outline.svg=@", 2, "a drawing is named behind the @"},
        {"<svg><rect/></svg>", "outline.svg=@d.svg", 65, "d.svg:1:1: error: there is no path in this drawing"},
        {"<svg>\n<path d='M 0 0 H'/></svg>", "outline.svg=@d.svg", 65, "d.svg:2:17: error: found the end at byte 8"},
        {"<svg>\n<path d='M 0 0 H 9'</svg>", "outline.svg=@d.svg", 65, "d.svg:2:20: error: "},
        {"<svg><path d='M 0 0 L 60 0 L 0 40 L 60 40 Z'/></svg>", "outline.svg=@d.svg", 65, "the edge crosses"},
        {"\033]0;x\007", "outline.svg=@d.svg", 65, "there is no path"},
        {"<svg><path d='M 0 0 H 9'/></svg>", "outline.shape=polygon outline.corners=@d.svg", 65, "outline.corners: "},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        if (cases[i].drawing != NULL) {
            spawn_write("d.svg", cases[i].drawing, strlen(cases[i].drawing));
        }
        const spawned *run = spawn("$BW new x.yaml %s; s=$?; ls x.yaml; exit $s", cases[i].value);
        ck_assert_msg(run->status == cases[i].status && strstr(run->err, cases[i].said), "%s: %d %s", cases[i].value,
                      run->status, run->err);
        ck_assert_str_eq(run->out, ""); /* no file was made */
    }
}
END_TEST

START_TEST(new_leaves_what_is_there) {
    ck_assert_int_eq(spawn("$BW new lid.yaml")->status, 73);
    file_is("", "");
    ck_assert_int_eq(spawn("ln -s nowhere dangling; $BW new dangling")->status, 73);
    ck_assert_int_eq(spawn("$BW new no/such/folder.yaml")->status, 73);
    const spawned *run = spawn("$BW new bad.yaml outline.diameter=-3; test -e bad.yaml && echo there");
    ck_assert_str_eq(run->out, "");
    ck_assert_int_eq(spawn("$BW new bad.yaml outline.diameter=-3")->status, 65);
}
END_TEST

/* The first lines of a screen after keys. */
static const char *screen_after(const char *file, const char *keys) {
    spawn("printf '%s\\n' > keys; $BW --keys keys --screen seen --size 160x60 %s", keys, file);
    return spawn("cat seen")->out;
}

/* A lid that fails with the count found by itself, while one stamp fewer works: that is said first, and is so. Inches
 * stay fractions. */
START_TEST(the_cheapest_cure_is_named) {
    static const char inches[] =
        "bandwright-project: 1\nunits: in\noutline: {shape: circle, diameter: 4 3/4 in}\nbands:\n"
        "  - {name: w, width: 3/8in, space: 1/8in, fill: border, tool: b}\n"
        "tools:\n  - {id: b, kind: border, length: 3/8in, width: 3/8in}\n";
    spawn_write("c.yaml", inches, strlen(inches));
    const spawned *run = spawn("$BW plan c.yaml | tr '\\n' ' ' | tr -s ' '");
    const char *cure = strstr(run->out, "; 34 impressions would do, or a stamp 23/64 in wide");
    ck_assert_msg(cure != NULL && strstr(run->out, "it would work with 34 impressions; or") > cure, "%s", run->out);
    const char *seen = screen_after("c.yaml", "Right");
    ck_assert_msg(strstr(seen, "width 3/8 in -> 25/64 in;") != NULL, "%s", seen);
    ck_assert_int_eq(spawn("$BW plan c.yaml > before; $BW set c.yaml bands[1].count=34 && $BW plan c.yaml")->status, 0);
}
END_TEST

/* Steps that show are told in the same breath as the yes; what mends nothing stands last, what leaves a no says so. */
START_TEST(a_yes_tells_of_long_steps) {
    static const char belt[] = "bandwright-project: 1\noutline: {shape: strap, length: 1000, width: 38}\nbands:\n"
                               "  - {name: w, width: 12, space: 3, fill: basket, tool: b}\n"
                               "tools:\n  - {id: b, kind: basket, length: 7}\n";
    static const char coaster[] = "bandwright-project: 1\noutline: {shape: circle, diameter: 50}\nbands:\n"
                                  "  - {name: w, width: 20, space: 3, fill: basket, tool: b}\n"
                                  "tools:\n  - {id: b, kind: basket, length: 12}\n";
    spawn_write("belt.yaml", belt, strlen(belt));
    spawn_write("coaster.yaml", coaster, strlen(coaster));
    const char *seen = screen_after("belt.yaml", "Down");
    ck_assert_msg(strstr(seen, "yes: it works, but with steps 39 % longer than usual: ") != NULL, "%s", seen);
    seen = screen_after("belt.yaml", "c");
    const char *closes = strstr(seen, "length 1000 mm -> "), *mends = strstr(seen, "steps less");
    ck_assert_msg(mends != NULL && (closes == NULL || closes > mends), "%s", seen);
    seen = screen_after("coaster.yaml", "c");
    const char *works = strstr(seen, "it just works"), *still = strstr(seen, "still no");
    ck_assert_msg(works != NULL && still > works, "%s", seen);
}
END_TEST

/* A crossing is told in the numbers of the drawing, whose y runs downward. */
START_TEST(a_crossing_is_told_as_drawn) {
    const char *file =
        "bandwright-project: 1\noutline: {shape: path, scale: %s, svg: \"M 0 0 L 100 80 L 100 0 L 0 80 Z\"}\n";
    char text[200];
    for (int i = 0; i < 2; i++) {
        snprintf(text, sizeof text, file, i == 0 ? "1" : "2");
        spawn_write("x.yaml", text, strlen(text));
        const spawned *run = spawn("$BW plan x.yaml");
        ck_assert_msg(strstr(run->err, i == 0 ? "at x 50 mm, y 40 mm, " : "at x 50, y 40 in the drawing, ") != NULL,
                      "%s", run->err);
    }
}
END_TEST

Suite *verbs_results_suite(void) {
    Suite *suite = suite_create("verbs/results");
    TCase *tests = tcase_create("results");
    tcase_add_checked_fixture(tests, begin, spawn_end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, plan_is_the_golden_one);
    tcase_add_test(tests, every_example_plans);
    tcase_add_test(tests, plan_status_tells_whether_it_fits);
    tcase_add_test(tests, fit_ranks_and_tells);
    tcase_add_test(tests, get_writes_values_and_defaults);
    tcase_add_test(tests, set_changes_one_value);
    tcase_add_test(tests, set_makes_all_changes_or_none);
    tcase_add_test(tests, set_with_nothing_takes_the_value_out);
    tcase_add_test(tests, set_changes_the_round_to_a_circumference);
    tcase_add_test(tests, new_makes_what_its_paths_name);
    tcase_add_test(tests, new_takes_every_shape);
    tcase_add_test(tests, items_of_lists_are_values);
    tcase_add_test(tests, set_refuses_what_makes_no_edge);
    tcase_add_test(tests, new_takes_a_drawing);
    tcase_add_test(tests, new_takes_the_shape_of_its_sizes);
    tcase_add_test(tests, new_refuses_bad_drawings);
    tcase_add_test(tests, new_leaves_what_is_there);
    tcase_add_test(tests, the_cheapest_cure_is_named);
    tcase_add_test(tests, a_yes_tells_of_long_steps);
    tcase_add_test(tests, a_crossing_is_told_as_drawn);
    suite_add_tcase(suite, tests);
    return suite;
}

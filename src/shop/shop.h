/* shop/shop.h - what is kept: the text of a file with the place of every value, the one table of fields that binds it
 * to the maths values, projects, the inventory, and the safe write.
 *
 * bytes -> shop_text (spans) -> field table -> bw_layout. The only change is the edit: path, old text, new text.
 */
#ifndef SHOP_SHOP_H
#define SHOP_SHOP_H

#include <stddef.h>
#include <stdio.h>

#include "bandwright/bandwright.h"

/* Exit status of the program, after sysexits.h. */
typedef enum shop_status {
    SHOP_OK = 0,
    SHOP_BAD_FILE = 65,    /* what it holds is not a project or inventory */
    SHOP_NO_FILE = 66,     /* not there, a folder, or not readable */
    SHOP_CANNOT_MAKE = 73, /* cannot be created */
    SHOP_CANNOT_WRITE = 74,
    SHOP_NO_MEMORY = 70
} shop_status;

/* ---- problems: everything that is wrong with a file, in one go ---- */

typedef struct shop_problem {
    size_t line, column; /* from 1, column in bytes; 0 = the whole file */
    bool note;           /* an unknown key kept, say: not an error */
    char *file;          /* where it stands, if not in the file of the whole list; else NULL */
    char *text;          /* may hold hostile bytes from the file: shop_clean before showing */
} shop_problem;

typedef struct shop_problems {
    char *file;
    shop_problem *list;
    size_t count, room;
    size_t errors; /* how many are not notes */
} shop_problems;

void shop_problems_init(shop_problems *problems, const char *file);
void shop_problems_free(shop_problems *problems);
__attribute__((format(printf, 5, 6))) void shop_problem_add(shop_problems *problems, bool note, size_t line,
                                                            size_t column, const char *format, ...);
/* A copy of a problem that another file has, among those of this one. */
void shop_problem_of(shop_problems *problems, const shop_problem *one, const char *file);
/* `FILE:LINE:COLUMN: error: ...`, a line each, cleaned. */
void shop_problems_print(const shop_problems *problems, FILE *to);

/* ---- text that is safe to show ---- */

/* Writes bytes (length given; may hold NUL) into out as UTF-8 without control, bidirectional, zero-width or broken
 * bytes: each becomes a visible escape such as \x1B or \u202E. Always terminated. Returns the length that would have
 * been needed. */
size_t shop_clean(const char *bytes, size_t length, char *out, size_t room);

/* ---- values as text ---- */

typedef enum shop_unit { SHOP_MM, SHOP_INCH } shop_unit;

typedef enum shop_type {
    SHOP_TYPE_FORMAT,  /* the format number */
    SHOP_TYPE_TEXT,    /* any text (shop_string) */
    SHOP_TYPE_NAME,    /* 1-40 characters, unique (const char *) */
    SHOP_TYPE_WORD,    /* one of `words` (int) */
    SHOP_TYPE_YES_NO,  /* bool */
    SHOP_TYPE_NUMBER,  /* whole number (int) */
    SHOP_TYPE_LENGTH,  /* mm (double) */
    SHOP_TYPE_WEIGHT,  /* a length that may be in oz (double) */
    SHOP_TYPE_SHARE,   /* fraction (double) */
    SHOP_TYPE_ANGLE,   /* degrees in files, radians in values (double) */
    SHOP_TYPE_PLACE,   /* bw_place */
    SHOP_TYPE_PLACES,  /* list of bw_place */
    SHOP_TYPE_GUIDE,   /* share or length with its unit */
    SHOP_TYPE_COUNT,   /* auto, number or a list of them */
    SHOP_TYPE_LOSE,    /* even, last K, straights, anchored */
    SHOP_TYPE_CORNER,  /* length or four of them */
    SHOP_TYPE_PATHS,   /* list of paths (fixed) */
    SHOP_TYPE_TOOL,    /* id of a tool of a kind that fits */
    SHOP_TYPE_LIST,    /* a list of mappings whose keys are rows of their own (struck, strips, rounds) */
    SHOP_TYPE_LENGTHS, /* a list of lengths (const double *, with its count behind) */
    SHOP_TYPE_DECIMAL, /* a plain number with a point (double) */
    SHOP_TYPE_END,     /* square, round or {point: LENGTH} (bw_end) */
    SHOP_TYPE_CORNERS, /* list of [x, y] or [x, y, radius] (bw_corner, with its count behind) */
    SHOP_TYPE_SVG      /* path data of SVG (const char *) */
} shop_type;

/* What a field belongs to; offsets are into the structure named. */
typedef enum shop_owner {
    SHOP_OF_PROJECT, /* shop_project */
    SHOP_OF_BAND,    /* bw_band (shop_band for texts) */
    SHOP_OF_TOOL,    /* bw_tool */
    SHOP_OF_RATES,   /* shop_rates */
    SHOP_OF_STRIP,   /* bw_strip (shop_strip for texts): a strip or round of a tool */
    SHOP_OF_STRUCK   /* shop_struck: a round of a band */
} shop_owner;

/* One row a field: loading, range errors, get and set, forms, completion and the man page all come from it. */
typedef struct shop_field {
    const char *path;  /* "outline.diameter", "bands[].width", "tools[].length" */
    const char *label; /* on screen: "width" */
    shop_owner owner;
    shop_type type;
    double least, most;       /* in the value's inner unit (mm, fraction, radians, number) */
    double step;              /* what one key changes, mm, share or number; 0 = none. In an inch file 1/64 in steps */
    const char *const *words; /* NULL-terminated, for words */
    const char *fallback;     /* the default as text; NULL = must be given or depends */
    const char *help;         /* one plain sentence, short enough for a line of 80 */
    const char *more;         /* what else there is to say about it; NULL: nothing */
    unsigned
        kinds; /* tools: bits 1u << bw_kind that have it. bands: bits 1u << bw_fill. outline: 1u << bw_shape. 0 = all */
    size_t offset;
    bool needed; /* must be given wherever its kind has it */
    bool above;  /* least itself is not allowed, and there is no most */
} shop_field;

/* A path that means different things by shape or kind (outline.length, tools[].length, tools[].give) has several rows.
 */
const shop_field *shop_fields(size_t *count);
/* The field that a path of values leads to ("bands.weave.width", "bands[2].width", "bands[].width", "tools.x.bar"),
 * NULL if none; the first of several. */
const shop_field *shop_field_find(const char *path);
/* Whether a number in it is a length: without a unit it is of the file's. */
bool shop_field_has_unit(const shop_field *field);
/* The same, but an item of a list of values ("outline.corner[2]", "outline.corners[3][1]") leads to the list's. */
const shop_field *shop_field_holding(const char *path);

/* A length of the file format ("18", "3/4 in", "1 1/8\"", "1.2 cm"; "8 oz" only with weight) to mm. False with a reason
 * that says what is allowed. Locale plays no part. */
bool shop_parse_length(const char *text, size_t length, shop_unit bare, bool weight, double *mm, char reason[160]);
/* By how much a round may miss its end: a length from BW_TOLERANCE_LEAST to BW_TOLERANCE_MOST. */
bool shop_parse_tolerance(const char *text, shop_unit bare, double *mm, char reason[160]);
bool shop_parse_share(const char *text, size_t length, double *share, char reason[160]);
/* mm as a maker reads it: "18.5 mm", "3/4 in", rounded to what a hand can set (0.01 mm, or 1/64 in with the remainder
 * kept out). */
void shop_show_length(double mm, shop_unit unit, char *out, size_t room);
/* mm as text for a file in this unit, shortest that reads back the same: "18.5", "0.75". */
void shop_write_length(double mm, shop_unit unit, char *out, size_t room);
/* mm as inches on a ruler, "25/64 in", "4 3/4 in": false where it is no whole number of 64ths. */
bool shop_write_fraction(double mm, char *out, size_t room);

/* ---- a project or inventory, read ---- */

typedef struct shop_string {
    const char *bytes; /* may hold NUL and anything else */
    size_t length;
} shop_string;

typedef struct shop_rates {
    double per_hour, strikes_per_minute; /* NAN = none */
    shop_string currency;
} shop_rates;

/* A round that was begun or finished. */
typedef struct shop_struck {
    int run;         /* of the band, from 1 */
    int row;         /* 0: the guide's round, else that row's own */
    int impressions; /* struck so far */
    int of;          /* the count at which it is to close, 0 = not said */
    int planned;     /* the plan's count when it was begun, 0 = not said */
    double guide;    /* mm, the run of the guide then, NAN = not said */
    int from;        /* impressions struck when the step was last changed */
    double left;     /* mm still to go along the guide, NAN = not measured */
    int before;      /* impressions struck at the measure before that, 0 = there was none */
    double left_before;
    double aimed; /* mm a step, NAN = not said */
    bool done;
    bool logged; /* among the rounds of its tool */
    double took; /* mm that are among them, of this round; NAN = none */
    shop_string date;
} shop_struck;

/* What a band has beside its maths values. */
typedef struct shop_band {
    shop_string note;
    shop_struck *struck;
    size_t struck_count;
} shop_band;

/* What a strip or round has beside its maths values. */
typedef struct shop_strip {
    shop_string leather, piece, date;
} shop_strip;

typedef struct shop_tool {
    shop_string name, note;
    shop_strip *strip_about; /* beside bw_tool.strips */
    bool from_inventory;     /* the project has no copy of its own */
    bool differs;            /* both have one, and they say different things in what a plan or an estimate reads */
    bool only_strips;        /* in nothing but test strips, rounds, and the steps that come from them */
    bool named_otherwise;    /* in their names or notes, also one that only one of them has */
} shop_tool;

typedef struct shop_text shop_text;
struct shop_arena;

typedef struct shop_inventory {
    shop_text *text;
    shop_unit units;
    bw_tool *tools;
    shop_tool *about;
    size_t tool_count;
    shop_rates rates;
    struct shop_arena *memory; /* of everything above */
} shop_inventory;

typedef struct shop_project {
    shop_text *text;
    shop_string piece;
    shop_unit units;
    bw_layout layout; /* ready for bw_plan_create; points into the members below */
    bw_band *bands;
    shop_band *band_about;
    bw_tool *tools; /* the project's own first, then the inventory's others */
    shop_tool *tool_about;
    size_t own_tools;
    int dividers; /* index into tools, -1 = none */
    shop_rates rates;
    shop_string *fixed;
    size_t fixed_count;
    int sizes;        /* 0 laid-out, 1 finished: the word behind layout.finished */
    double tolerance; /* mm by which a round may miss its end and still close. Not in the file: of whoever opened
                         it, BW_VISIBLE_JUMP if nobody says */
    struct shop_arena *memory; /* of everything above */
} shop_project;

/* Do two strips or rounds tell the same of the hand? */
bool shop_same_strip(const bw_strip *a, const bw_strip *b);
/* Do two copies of a tool have the same test strips and rounds, in any order? */
bool shop_same_strips(const bw_tool *a, const bw_tool *b);

/* Reads a whole file: *bytes is malloc'ed. SHOP_NO_FILE with a problem if it cannot be read; over 16 MiB is
 * SHOP_BAD_FILE. */
shop_status shop_read(const char *file, char **bytes, size_t *length, shop_problems *problems);

/* Takes a copy of bytes. file gives `piece` its default. inventory may be NULL. NULL with errors in problems if
 * anything is wrong; notes may stand in problems although a project comes back. */
shop_project *shop_project_read(const char *bytes, size_t length, const char *file, const shop_inventory *inventory,
                                shop_problems *problems);
void shop_project_free(shop_project *project);
shop_inventory *shop_inventory_read(const char *bytes, size_t length, shop_problems *problems);
void shop_inventory_free(shop_inventory *inventory);
/* The same text as a project of nothing but tools, whose values can be looked up and changed like any other's; its
 * layout has no outline and cannot be planned. Released by shop_project_free. */
shop_project *shop_inventory_tools(const char *bytes, size_t length, shop_problems *problems);
/* Does a pattern of the table ("units", "rates.currency", "tools[].id") stand in an inventory? */
bool shop_inventory_has(const char *pattern);
/* The bytes of an inventory without tools. malloc'ed, NULL without memory. */
char *shop_new_inventory(shop_unit unit, size_t *length);
/* The knobs that a path, or what stands below it, leads to ("bands.weave" to all of that band's): bits 1u << bw_knob of
 * the outline, and one a band of the layout. */
void shop_path_knobs(const shop_project *project, const char *path, unsigned *outline, unsigned *bands);
/* The field of a path in this project, or that of the list in which it is an item: of several rows the one of its
 * shape, fill or kind. NULL if there is none, or if what it belongs to is not there. */
const shop_field *shop_field_for(const shop_project *project, const char *path);
/* What a path says: its text in the file, else its default (also one that depends, such as a stamp's usual width).
 * NULL if it is neither there nor has a default. malloc'ed. */
char *shop_project_get(const shop_project *project, const char *path);
/* The bytes of a fresh project: a circle of 100 mm (4 in) without bands, for the maker to change. piece may be NULL.
 * malloc'ed, NULL without memory. */
char *shop_new_text(const char *piece, shop_unit unit, size_t *length);
/* A place of the user's: the folder that a variable names, else one under the home folder, and name behind it. Relative
 * folders do not count. malloc'ed, NULL if there is no home. */
char *shop_user_place(const char *variable, const char *under_home, const char *name);
/* $XDG_DATA_HOME/bandwright/inventory.yaml or the home folder's; relative XDG paths do not count. malloc'ed. */
char *shop_inventory_place(void);

/* A YAML text by itself, whatever it holds. NULL if it is no YAML or goes beyond the limits; for other flaws (a key
 * twice, a second document) errors are added and the text comes back all the same. */
shop_text *shop_text_read(const char *bytes, size_t length, shop_problems *problems);
void shop_text_free(shop_text *text);
/* The bytes of the text, as they are (not terminated by NUL within length). */
const char *shop_text_bytes(const shop_text *text, size_t *length);

/* ---- a drawing ---- */

/* The first path of an SVG drawing that is drawn, and of it the first subpath. */
typedef struct shop_drawing {
    char *svg;    /* its path data on one line; malloc'ed */
    double scale; /* mm per unit, by width, height, viewBox and what transforms enlarge; NAN if nothing says */
} shop_drawing;

/* What is left out (other paths and shapes, further subpaths, transforms) stands among the problems as notes.
 * scale_given: the maker says how large a unit is. */
shop_status shop_drawing_read(const char *bytes, size_t length, bool scale_given, shop_problems *problems,
                              shop_drawing *drawing);

/* ---- edits ---- */

/* The only way in which a layout changes. NULL text = the value is not in the file. For a whole list item (path
 * "bands[2]", "bands.weave", "tools.x") the text is its YAML in flow style; "bands[N+1]" with old NULL adds one at the
 * end, and "bands[i]" with old NULL and a mapping as new text inserts one before the i-th; in any other case what is at
 * the path is replaced. Setting a value to what it says already, or taking out what is not there, changes no byte. */
typedef struct shop_edit {
    char *path;
    char *old_text;
    char *new_text;
} shop_edit;

void shop_edit_free(shop_edit *edit);

/* The text of the value at a path as it stands in the file, quotes undone; a list or mapping in flow style. NULL if it
 * is not there. malloc'ed. */
char *shop_text_get(const shop_text *text, const char *path);

/* New bytes with the one value changed and every other byte kept; read again, and everything but the intended change
 * must be the same, else a problem says so. Fills edit->old_text. *bytes is malloc'ed. */
bool shop_text_edit(const shop_text *text, shop_edit *edit, char **bytes, size_t *length, shop_problems *problems);

/* ---- the safe write ---- */

/* A folder with those above it; those that are made are for the user alone. False with errno. */
bool shop_folder_make(const char *folder);

/* New file beside, fsync, read back and compare, rename over (through symbolic links), fsync the folder; mode bits are
 * kept. With must_not_exist a file that is there is an error. errno is kept and named in problems. */
shop_status shop_save(const char *file, const char *bytes, size_t length, bool must_not_exist, shop_problems *problems);

#endif

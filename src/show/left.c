/* What no single small change makes go, and what mends it otherwise. */
#include "show/inner.h"

static const char *trouble(bw_warning_kind kind) {
    static const char *const words[] = {
        [BW_WARN_BARE_STRIP] = "the bare strip",
        [BW_WARN_STRETCH] = "the much changed steps",
        [BW_WARN_JUMP] = "the jump from step to step",
        [BW_WARN_WANTED_COUNT] = "the other count than the nearest",
        [BW_WARN_NARROW] = "the leaned first round",
        [BW_WARN_MISS] = "the rails that miss each other",
        [BW_WARN_CORNER] = "the corner in the guide",
        [BW_WARN_SPLIT] = "the line in several pieces",
        [BW_WARN_FALLBACK] = "that the gap is not lost as asked",
        [BW_WARN_FACE_OUT] = "that faces leave the band",
    };
    return (size_t)kind < sizeof words / sizeof words[0] ? words[kind] : NULL;
}

/* What only the maker can mend. */
static const char *mending(bw_warning_kind kind) {
    switch (kind) {
    case BW_WARN_STEPS_FACE:
        return "The measured steps cannot be of this face: measure both again.";
    case BW_WARN_ESTIMATED:
        return "Estimated sizes: measure the stamp and type them in.";
    case BW_WARN_TOOL_DIFFERS:
        return "The stamp differs from the shop's: measure it and make both the same.";
    default:
        return NULL;
    }
}

const char *show_left_sentence(show_words *out, unsigned left) {
    int named = 0;
    show_start(out);
    if ((left & 1u << BW_WARN_VERDICT) != 0)
        show_say(out, "No single small change makes it work. ");
    for (int kind = 0; kind <= BW_WARN_TOOL_DIFFERS; kind++)
        if ((left & 1u << kind) != 0 && trouble((bw_warning_kind)kind))
            show_say(out, "%s%s", named++ == 0 ? "No change here ends " : ", ", trouble((bw_warning_kind)kind));
    if (named > 0)
        show_say(out, ". ");
    for (int kind = 0; kind <= BW_WARN_TOOL_DIFFERS; kind++)
        if ((left & 1u << kind) != 0 && mending((bw_warning_kind)kind))
            show_say(out, "%s ", mending((bw_warning_kind)kind));
    return out->text;
}

/* The words that files and screens use for verdicts and warnings. */
#include "bandwright/plan.h"

const char *bw_verdict_word(bw_verdict verdict) {
    static const char *const words[] = {
        [BW_NO_ROOM] = "no room",
        [BW_BAND_TOO_NARROW] = "band too narrow",
        [BW_EDGE_TOO_SHARP] = "edge too sharp",
        [BW_LEGS_LONG] = "legs long",
        [BW_FEET_COLLIDE] = "feet collide",
        [BW_LEGS_SHORT] = "legs short",
        [BW_BAND_TOO_WIDE] = "band too wide",
        [BW_NO_WHOLE_COUNT] = "no whole count",
        [BW_OPENS_OUTSIDE] = "opens outside",
        [BW_CROWDS_INSIDE] = "crowds inside",
        [BW_TIGHT] = "tight",
        [BW_GOOD] = "good",
    };
    return words[verdict];
}

const char *bw_warning_word(bw_warning_kind kind) {
    static const char *const words[] = {
        [BW_WARN_VERDICT] = "verdict",
        [BW_WARN_BARE_STRIP] = "bare-strip",
        [BW_WARN_STRETCH] = "stretch",
        [BW_WARN_JUMP] = "jump",
        [BW_WARN_WANTED_COUNT] = "wanted-count",
        [BW_WARN_NARROW] = "narrow",
        [BW_WARN_MISS] = "miss",
        [BW_WARN_CORNER] = "corner",
        [BW_WARN_SPLIT] = "split",
        [BW_WARN_FALLBACK] = "fallback",
        [BW_WARN_FACE_OUT] = "face-out",
        [BW_WARN_STEPS_FACE] = "steps-face",
        [BW_WARN_ESTIMATED] = "estimated",
        [BW_WARN_TOOL_DIFFERS] = "tool-differs",
    };
    return words[kind];
}

/* show/hand.h - what strips and rounds tell of a tool and of the hand that strikes it, in sentences. */
#ifndef SHOW_HAND_H
#define SHOW_HAND_H

#include "bandwright/hand.h"
#include "show/show.h"

#define SHOW_HAND_LINES 12

/* Sentences of all that a tool's strips give, read with a rule of this resolution (mm); returns how many. `tool` may be
 * one that is not in the project, which gives the units. */
size_t show_hand_lines(const shop_project *project, const bw_tool *tool, double rule,
                       show_words lines[SHOW_HAND_LINES]);
/* "usual step 7.53 mm, from 3 strips": which steps the plan takes from strips, and how sure they are; empty where the
 * tool has none in use. */
void show_say_steps_source(show_words *out, const shop_project *project, const bw_tool *tool);
/* "Steps in use: closest 6.3 mm (from the face), usual 7.53 mm (from strips), widest 9.5 mm (as given in steps)." */
void show_say_steps_in_use(show_words *out, const shop_project *project, const bw_tool *tool);
/* "the usual step by strips, 7.51 mm, does not lie between the other steps: it is not less than the widest, 6.67 mm
 * (from strips), and is not used: measure stamp and strip again": of the steps that strips give and a plan leaves out.
 */
void show_say_left_out(show_words *out, const shop_project *project, const bw_tool *tool);
/* Where a step that is in use comes from, in few words: "from strips", "from the face", "by overlap", "as given". */
const char *show_step_source(const bw_tool *tool, bw_how how);
/* One of a project's tool's strips or rounds: "10 impressions, 67.6 mm: 7.51 mm a step, 8 oz shoulder". */
const char *show_strip_words(show_words *out, const shop_project *project, size_t tool, size_t strip);
/* The strips, numbered, and the lines as a page; false if it could not be written. */
bool show_hand_text(FILE *to, const shop_project *project, size_t tool, double rule);

#endif

/* flow.c - a page that fills from above, and the next one when it is full. */
#include "paper/template.h"

#define GAP 2.5 /* mm before a head */

void paper_flow_page(paper_flow *flow) {
    flow->window = paper_frame_page(flow->frame, false, flow->what);
    flow->y = flow->window.y + 2;
}

void paper_flow_need(paper_flow *flow, double height) {
    if (flow->y + height > flow->window.y + flow->window.height)
        paper_flow_page(flow);
}

void paper_flow_head(paper_flow *flow, const char *text) {
    paper_flow_need(flow, 16); /* a head is not left alone at the foot */
    cairo_t *cr = flow->frame->cr;
    flow->y += GAP + 4;
    cairo_set_source_rgb(cr, 0, 0, 0);
    paper_font(cr, 4.0, true);
    paper_text_within(cr, flow->window.x, flow->y, flow->window.width - 2, text);
    flow->y += 1.5;
}

void paper_flow_text(paper_flow *flow, double in, const char *text) {
    double width = flow->window.width - in - 2;
    paper_font(flow->frame->cr, PAPER_USUAL, false);
    double height = paper_paragraph(flow->frame->cr, 0, 0, width, text, false);
    paper_flow_need(flow, height + 1);
    cairo_set_source_rgb(flow->frame->cr, 0, 0, 0);
    paper_font(flow->frame->cr, PAPER_USUAL, false);
    flow->y = paper_paragraph(flow->frame->cr, flow->window.x + in, flow->y + PAPER_USUAL, width, text, true) -
              PAPER_USUAL + 0.6;
}

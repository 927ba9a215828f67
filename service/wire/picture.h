#ifndef SMALLEND_WIRE_PICTURE_H
#define SMALLEND_WIRE_PICTURE_H

/*
 * What every picture of an answer has beside its drawing: the label, text
 * broken into lines, the cautions. Each writes downward from `top` and returns
 * where it ends; with out == NULL it measures only.
 */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/svg.h"

/* Margins of the picture, and distance of lines of text. */
#define PICTURE_LEFT 12.0
#define PICTURE_RIGHT (SVG_WIDTH - 12.0)
#define PICTURE_LINE 14.0

double picture_paragraph(struct buffer *out, double left, double right, double top, const struct svg_letter *letter,
                         const char *text);

/* The client's own label, or `otherwise` where there is none, on two lines at
 * most: what is longer ends in an ellipsis. */
double picture_label(struct buffer *out, const struct job *job, const char *otherwise, double top);

/* The verdict and the summary. */
double picture_verdict(struct buffer *out, const struct job *job, const struct report *report, double top);

/* Every caution of the answer under a rule. */
double picture_cautions(struct buffer *out, const struct report *report, double top);

/* The words a screen reader begins with: what it is, the verdict, the label. */
enum { PICTURE_TITLE_SIZE = JOB_LABEL_SIZE + 64 };
void picture_title(char *buffer, size_t capacity, const char *what, const struct job *job, const struct report *report);

#endif

#ifndef SMALLEND_WIRE_TEXT_STATION_H
#define SMALLEND_WIRE_TEXT_STATION_H

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/* The stations of a measured part as a Markdown table: where, how large, how
 * round, what to take off. Nothing where none was measured. */
void text_station_table(struct buffer *out, const struct job *job, const struct report *report);

#endif

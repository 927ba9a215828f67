#ifndef SMALLEND_WIRE_RESULT_WRITE_H
#define SMALLEND_WIRE_RESULT_WRITE_H

/* The member "results" of an answer: one object per section computed. */

#include "wire/report_write.h"
#include "wire/writer.h"

/* The sections of the report's call that have something to show. */
section_set result_sections(const struct report *report);

/* The curves of "trace": where each lies within struct trace_point. */
struct result_curve {
    const char *name;
    enum dimension dimension;
    size_t offset;
};
const struct result_curve *result_curves(size_t *count);

void result_write(struct writer *writer, const struct job *job, const struct report *report,
                  const struct report_curves *curves);

#endif

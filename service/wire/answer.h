#ifndef SMALLEND_WIRE_ANSWER_H
#define SMALLEND_WIRE_ANSWER_H

/*
 * The straight line from the text of a job to the text of its answer, the same
 * for the command line and for HTTP. Every function fills *reply whatever
 * happens; the caller clears it.
 */

#include <stdbool.h>
#include <stddef.h>

#include "joint/report.h"
#include "wire/problem.h"

enum answer_format { ANSWER_JSON, ANSWER_MD, ANSWER_TXT };

/* The format called "json", "md" or "txt"; false if there is none. */
bool answer_format_from(const char *word, enum answer_format *format);

struct reply {
    int status; /* of HTTP */
    const char *content_type;
    const char *body; /* `length` bytes; borrows from `owned`, or is constant text */
    size_t length;
    char *owned; /* freed by reply_clear; NULL where the body is constant */
};

void reply_clear(struct reply *reply);

/* Most points of the curves over the cycle, and fewest. */
enum { ANSWER_TRACE_MIN = 12, ANSWER_TRACE_MAX = 1440 };

/* What is asked. */
struct answer_request {
    enum call call;
    enum answer_format format;
    const char *body; /* borrowed: the job document */
    size_t length;
    const char *instance; /* path asked for, for problem documents; NULL = none */
    const char *link;     /* address of the same answer, for texts; NULL = none */
    unsigned trace;       /* points of the curves over the cycle, 0 = none; load and JSON only */
};

/*
 * Read the job, compute, judge, write. Status 200, 400 (no JSON), 422 (no job),
 * 500 (a fault of ours), 503 (no memory). *verdict (may be NULL) is set where
 * the status is 200.
 */
void answer_request(const struct answer_request *request, struct reply *reply, enum verdict *verdict);

/* The same without link and trace. */
void answer_call(enum call call, const char *body, size_t length, enum answer_format format, const char *instance,
                 struct reply *reply, enum verdict *verdict);

/* A problem document. `detail` and `instance` may be NULL. */
void answer_problem(enum problem problem, const char *detail, const char *instance, struct reply *reply);

/*
 * The table `name` ("steels"), or its row `id` (NULL = all rows); an unknown id
 * gives a 404 that names the nearest. False, and *reply untouched, if there is
 * no such table.
 */
bool answer_table(const char *name, const char *id, struct reply *reply);

/* What the service is and where its calls and tables are. */
void answer_index(struct reply *reply);

#endif

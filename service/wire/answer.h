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
#include "wire/notary.h"
#include "wire/query.h"
#include "wire/reply.h"

/* Most points of the curves over the cycle, and fewest. */
enum { ANSWER_TRACE_MIN = 12, ANSWER_TRACE_MAX = 1440 };

/* Forms in which a call can be answered: bits 1u << enum answer_format. */
unsigned answer_forms(enum call call);

/* What is asked. */
struct answer_request {
    enum call call;
    enum answer_format format;
    const char *body; /* borrowed: the job document */
    size_t length;
    const struct query *query; /* borrowed: the link that spells the job; NULL = it stands in `body` */
    const char *path;          /* path asked for, "/v1/check", for links and problems; NULL = none */
    const char *public_url;    /* what stands before a path in links; NULL or "" = nothing */
    bool unlinked;             /* no link is wanted: it takes time, and nobody would see it */
    unsigned trace;            /* points of the curves over the cycle, 0 = none; load only */
    const struct notary *notary; /* who makes the ids and the signature of a record; NULL = no orders here */
};

/*
 * Read the job, compute, judge, write. Status 200, 400 (no JSON, or no query),
 * 406 (a record without a key to sign it, where only a signed one is wanted),
 * 422 (no job), 500 (a fault of ours), 503 (no memory). *verdict (may be NULL)
 * is set where the status is 200; the reply then carries the link to the same
 * answer, where there is a path and the link is short enough.
 */
void answer_request(const struct answer_request *request, struct reply *reply, enum verdict *verdict);

/* The problem document of a document with these faults, at least one; `request`
 * tells what was asked, and need have no body. */
void answer_refuse(const struct answer_request *request, const struct fault_list *faults, struct reply *reply);

/*
 * The table `name` ("steels"), or its row `id` (NULL = all rows); an unknown id
 * gives a 404 that names the nearest. False, and *reply untouched, if there is
 * no such table.
 */
bool answer_table(const char *name, const char *id, struct reply *reply);

/* Forms of the index: bits 1u << enum answer_format. */
enum { ANSWER_INDEX_FORMS = 1u << ANSWER_JSON | 1u << ANSWER_MD | 1u << ANSWER_HTML };

/* What the service is and where its calls and tables are: for people the whole
 * reference, in one of ANSWER_INDEX_FORMS. */
void answer_index(enum answer_format format, struct reply *reply);

#endif

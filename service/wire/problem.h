#ifndef SMALLEND_WIRE_PROBLEM_H
#define SMALLEND_WIRE_PROBLEM_H

/*
 * Why a request was not answered: the catalogue, and the problem document of
 * RFC 9457 that says so to the client.
 */

#include "base/fault.h"
#include "wire/buffer.h"

enum problem {
#define PROBLEM(id, name, status, title, meaning) PROBLEM_##id,
#include "wire/problem.def"
    PROBLEM_COUNT
};

struct problem_row {
    const char *name; /* "not-json", as in its address */
    int status;
    const char *title;
    const char *meaning;
};

const struct problem_row *problem_row(enum problem problem);

/* The type of its document, "/v1/problems/not-json", into PROBLEM_TYPE_SIZE
 * bytes. */
enum { PROBLEM_TYPE_SIZE = 64 };
void problem_type(enum problem problem, char *type);

/* The general problem of a status; of its hundred where the status has none:
 * bad_request below 500, else internal. */
enum problem problem_of_status(int status);

/* How a client is told where in its document a fault is: by JSON pointer, or
 * by the name of the query's parameter. */
enum fault_place { PLACE_POINTER, PLACE_PARAMETER };

/*
 * The place of a fault in the client's terms, into FAULT_POINTER_SIZE bytes:
 * "/engine/bore" or "engine.bore".
 */
void problem_place(char *place, const char *pointer, enum fault_place as);

/*
 * Write the problem document into `out`. `detail` and `instance` may be NULL;
 * `faults` may be NULL and stands under "errors", their places `as` said.
 */
void problem_write(struct buffer *out, enum problem problem, const char *detail, const char *instance,
                   const struct fault_list *faults, enum fault_place as);

/*
 * The whole document for a service that has run out of memory: constant text,
 * so that giving it needs none.
 */
extern const char problem_no_memory[];
extern const size_t problem_no_memory_length;

#endif

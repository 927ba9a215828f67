#ifndef SMALLEND_WIRE_REPLY_H
#define SMALLEND_WIRE_REPLY_H

/* What goes back to the client, whatever carries it there. */

#include <stdbool.h>
#include <stddef.h>

#include "wire/buffer.h"
#include "wire/problem.h"

/* The forms an answer can take, in the order in which they are preferred where
 * the client takes several alike. */
enum answer_format { ANSWER_JSON, ANSWER_MD, ANSWER_TXT, ANSWER_SVG, ANSWER_HTML, ANSWER_JWS, ANSWER_FORMATS };

struct answer_form {
    const char *word;         /* of ?format= and --format */
    const char *media_type;   /* type/subtype */
    const char *content_type; /* with its parameters */
};

const struct answer_form *answer_form(enum answer_format format);

/* The format called "json", "md" ...; false if there is none. */
bool answer_format_from(const char *word, enum answer_format *format);

struct reply {
    int status; /* of HTTP */
    const char *content_type;
    const char *body; /* `length` bytes; borrows from `owned`, or is constant text */
    size_t length;
    char *owned;    /* freed by reply_clear; NULL where the body is constant */
    char *location; /* owned: link to the same answer by GET; NULL = none */
    bool is_problem;
    enum problem problem; /* meaningful if it is one */
};

void reply_clear(struct reply *reply);

/* Hand what was written over to the reply, `out` included; where memory ran out
 * meanwhile, the constant document that says so. */
void reply_deliver(struct reply *reply, struct buffer *out, int status, const char *content_type);

/* What is to be told of a request that is not answered. */
struct refusal {
    enum problem problem;
    const char *detail;              /* NULL = what the problem means */
    const char *instance;            /* path asked for, NULL = none */
    const struct fault_list *faults; /* NULL = none */
    enum fault_place place;
};

/*
 * A problem document, or the same in words where the client takes text: a
 * person who follows a link, or a bot that posts what it gets, has no use for
 * JSON.
 */
void reply_refuse(struct reply *reply, const struct refusal *refusal, enum answer_format format);

#endif

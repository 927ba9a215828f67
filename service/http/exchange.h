#ifndef SMALLEND_HTTP_EXCHANGE_H
#define SMALLEND_HTTP_EXCHANGE_H

/*
 * One request and its one answer. The server begins it, the gate and the route
 * look at it, a handler reads the body if there is one and answers once, the
 * server ends it.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/text.h"
#include "http/setting.h"
#include "http/trace_context.h"
#include "wire/answer.h"
#include "wire/problem.h"

struct head;
struct mg_connection;
struct mg_request_info;
struct server;

enum {
    EXCHANGE_READ_MS = 5000,      /* for a whole body; CivetWeb's request_timeout_ms as well */
    EXCHANGE_READ_BYTES_MS = 256, /* and a millisecond more for as many bytes of it */
    EXCHANGE_WRITE_MS = 10000     /* for a whole answer; for each piece of a streamed one */
};

/* What may be done with an answer later. */
enum cache { CACHE_NOTHING, CACHE_MINUTES, CACHE_HOUR, CACHE_DAY };

struct exchange {
    struct mg_connection *connection;      /* borrowed, as are the next two */
    const struct mg_request_info *request; /* NULL where CivetWeb could not read it */
    const struct settings *settings;
    struct server *server;     /* borrowed */
    bool tls;                  /* the connection is encrypted */
    bool admin;                /* it came in by the admin listener */
    bool draining;             /* the service is about to stop */
    bool close;                /* no further request on this connection */
    bool unread;               /* the client may still be sending what nobody reads */
    bool cors;                 /* web pages may read the answer */
    const char *route;         /* as in route.def; "other" if there is none */
    size_t row;                /* of the route, for counting; ROUTE_OTHER if there is none */
    const char *allow;         /* for the Allow header; NULL = leave it out */
    const char *challenge;     /* for the WWW-Authenticate header; NULL = leave it out */
    const char *unoffered;     /* why a form is not offered, for the one who asks for it; NULL = nothing to say */
    bool takes_jose;           /* a body may be application/jose too */
    const char *link;          /* for the Link header; NULL = leave it out */
    enum answer_format format; /* as negotiated */
    unsigned trace;            /* points of the curves asked for, 0 = none */
    int64_t calculation_us;    /* -1 = nothing was calculated */
    int64_t started_us;
    int status;  /* 0 until answered */
    int problem; /* enum problem; PROBLEM_COUNT = the answer is none */
    size_t bytes_in, bytes_out;
    char trace_id[TRACE_ID_SIZE]; /* "" = none */
};

/* Start: set every member. `request` is NULL where CivetWeb could not read it;
 * the connection then closes after the answer. */
void exchange_begin(struct exchange *exchange, struct mg_connection *connection, const struct mg_request_info *request,
                    const struct settings *settings);

/* Value of the first header of that name, or NULL. */
const char *exchange_header(const struct exchange *exchange, const char *name);

/* All values of that name, joined by commas, into `buffer`; NULL if there are
 * none. What does not fit is cut. */
const char *exchange_header_joined(const struct exchange *exchange, const char *name, char *buffer, size_t capacity);

/*
 * Find the form of the answer by ?format= or Accept, among `offered` (bits
 * 1u << enum answer_format), and the number of ?trace= where that is taken;
 * refuse other parameters. False: refused and answered.
 */
bool exchange_negotiate(struct exchange *exchange, unsigned offered, bool takes_trace);

/*
 * The same for an address whose other parameters spell a job: they stay in
 * *query, which the caller closes. False: refused and answered, and there is
 * nothing to close.
 */
bool exchange_negotiate_link(struct exchange *exchange, unsigned offered, bool takes_trace, struct query *query);

/* The form in which to refuse what there is no handler for, JSON if nothing else
 * was asked for; refuses nothing itself. */
void exchange_take_form(struct exchange *exchange);

/*
 * Read the whole body, at most `most` bytes, into *body, which the caller frees.
 * False: refused and answered, and *body is not set.
 */
bool exchange_read_body(struct exchange *exchange, long most, char **body, size_t *length);

/* Answer with `reply`, which stays the caller's. */
void exchange_send(struct exchange *exchange, const struct reply *reply, enum cache cache);

/* Answer with the status alone. */
void exchange_send_empty(struct exchange *exchange, int status);

/* Answer with a problem document; `detail` may be NULL. */
void exchange_refuse(struct exchange *exchange, enum problem problem, const char *detail);

/* Two steps of answering, for exchange_stream.c: write the head of the answer
 * into `text`, of HEAD_SIZE bytes; and send bytes within the deadline of this
 * thread. False if the client does not take them all; it then gets no further
 * answer, for it would be taken for the rest of this one. */
void exchange_head(struct exchange *exchange, const struct head *head, struct text *text);
bool exchange_write(struct exchange *exchange, const char *bytes, size_t length);

/* After the answer: write the log line and count it, and wait for the client to
 * see it where the connection closes under what it sends. */
void exchange_end(struct exchange *exchange);

#endif

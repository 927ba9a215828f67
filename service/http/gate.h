#ifndef SMALLEND_HTTP_GATE_H
#define SMALLEND_HTTP_GATE_H

/*
 * Is this one request, whole, and will everybody between the client and us
 * agree on where it ends? CivetWeb reads leniently, drops headers past the
 * 64th in silence and takes a folded line for the end of the headers; behind a
 * proxy that sees it otherwise, the rest of the body would be taken for
 * another client's request. RFC 9112 sections 2.2, 3, 5 and 6 say what to
 * refuse. Every refusal closes the connection.
 */

struct mg_request_info;

enum gate_verdict {
    GATE_OPEN,
    GATE_BAD_FRAMING,     /* 400 */
    GATE_LENGTH_REQUIRED, /* 411: a transfer coding, which we do not take */
    GATE_TOO_LARGE,       /* 413: a length beyond all measure */
    GATE_TOO_MANY_HEADERS /* 431 */
};

/* Bytes of CivetWeb's buffer for a request's head (option max_request_size). */
enum { GATE_HEAD_SIZE = 16384 };

/*
 * `request` as CivetWeb parsed it, in place: the texts in it must lie in one
 * buffer with the line ends around them. On refusal *detail is a plain
 * sentence.
 */
enum gate_verdict gate_check(const struct mg_request_info *request, const char **detail);

#endif

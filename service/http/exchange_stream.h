#ifndef SMALLEND_HTTP_EXCHANGE_STREAM_H
#define SMALLEND_HTTP_EXCHANGE_STREAM_H

/*
 * An answer that is sent while it is being made. What is written is gathered
 * into pieces, so that there are few packets and the memory taken does not grow
 * with the answer. An answer that ends within its first piece goes out like any
 * other, with its length; a longer one in chunks (RFC 9112 section 7.1), or to a
 * client of HTTP/1.0 without a length, up to the end of the connection.
 *
 *     if (exchange_stream_begin(&stream, exchange, "application/json")) {
 *         while (... && exchange_stream_write(&stream, bytes, length)) { ... }
 *         exchange_stream_end(&stream, whole);
 *     }
 */

#include "http/exchange.h"

enum {
    EXCHANGE_STREAM_PIECE = 65536,
    EXCHANGE_STREAM_WAIT_MS = 60000, /* for a client that reads slowly, in all */
    EXCHANGE_STREAM_PAUSE_MS = 1000  /* what is there is sent after as long, however little it is */
};

struct exchange_stream {
    struct exchange *exchange; /* borrowed */
    const char *content_type;  /* borrowed */
    char *space;               /* owned: one piece, with room around it for the head and the chunk's frame */
    size_t length;             /* bytes of the piece so far */
    bool started;              /* the head is sent */
    bool chunked;
    bool failed;        /* the client does not take it: nothing more is sent */
    int64_t sent_us;    /* when something was last sent; at first, the beginning */
    int64_t waiting_us; /* spent in sending */
};

/* Start; nothing is sent yet. False: refused and answered, and there is no
 * stream to end. */
bool exchange_stream_begin(struct exchange_stream *stream, struct exchange *exchange, const char *content_type);

/* Take `length` bytes, and send what is due. False: the client is gone or too
 * slow, and to go on would be for nobody. */
bool exchange_stream_write(struct exchange_stream *stream, const char *bytes, size_t length);

/*
 * Send the rest and free what the stream owns. With `whole` false, for what could
 * not be made to its end, the client gets a problem document if nothing was sent
 * yet; otherwise the connection is closed without the mark of the end, so that
 * what has come does not pass for the whole.
 */
void exchange_stream_end(struct exchange_stream *stream, bool whole);

#endif

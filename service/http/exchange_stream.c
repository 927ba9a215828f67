#include "http/exchange_stream.h"

#include <stdlib.h>
#include <string.h>

#include <civetweb.h>

#include "base/log.h"
#include "http/deadline.h"
#include "http/head.h"
#include "http/server.h"

/* Before the piece stand the head and the chunk's size in hexadecimal; behind it
 * the chunk's end and, at the very end, the chunk of no bytes. */
enum { CHUNK_SIZE_ROOM = 16, PIECE_AT = HEAD_SIZE + CHUNK_SIZE_ROOM, TAIL_ROOM = 8 };

static const char line_end[] = "\r\n";
static const char last_chunk[] = "0\r\n\r\n";

bool
exchange_stream_begin(struct exchange_stream *stream, struct exchange *exchange, const char *content_type)
{
    *stream =
        (struct exchange_stream){.exchange = exchange, .content_type = content_type, .sent_us = deadline_now_us()};
    stream->chunked = strcmp(exchange->request->http_version, "1.0") != 0;
    stream->space = malloc(PIECE_AT + EXCHANGE_STREAM_PIECE + TAIL_ROOM);
    if (stream->space == NULL) {
        exchange_refuse(exchange, PROBLEM_unavailable, NULL);
    }
    return stream->space != NULL;
}

/* Put `length` bytes in front of `at`; where they begin. */
static char *
put_before(char *at, const char *bytes, size_t length)
{
    memcpy(at - length, bytes, length);
    return at - length;
}

static char *
put_head(struct exchange_stream *stream, char *at, bool last)
{
    char buffer[HEAD_SIZE];
    struct text text;
    struct head head = {.status = 200, .content_type = stream->content_type, .cache = CACHE_NOTHING, .etag = ""};
    if (last) {
        head.content_length = stream->length;
    } else if (stream->chunked) {
        head.framing = FRAMING_CHUNKED;
    } else {
        head.framing = FRAMING_CLOSE;
        stream->exchange->close = true;
    }
    text_init(&text, buffer, sizeof buffer);
    exchange_head(stream->exchange, &head, &text);
    return put_before(at, buffer, text.length);
}

static void
send_bytes(struct exchange_stream *stream, const char *from, size_t length)
{
    const int left_ms = EXCHANGE_STREAM_WAIT_MS - (int)(stream->waiting_us / 1000);
    const int64_t start_us = deadline_now_us();
    deadline_set(left_ms < EXCHANGE_WRITE_MS ? left_ms : EXCHANGE_WRITE_MS);
    stream->failed = left_ms <= 0 || !exchange_write(stream->exchange, from, length);
    stream->sent_us = deadline_now_us();
    stream->waiting_us += stream->sent_us - start_us;
}

/* Send the piece, framed, in one write. */
static void
send_piece(struct exchange_stream *stream, bool last)
{
    char *from = stream->space + PIECE_AT;
    char *end = from + stream->length;
    const bool in_chunks = stream->chunked && (stream->started || !last);
    if (in_chunks && stream->length > 0) {
        char buffer[CHUNK_SIZE_ROOM];
        struct text size;
        text_init(&size, buffer, sizeof buffer);
        text_format(&size, "%zx\r\n", stream->length);
        from = put_before(from, buffer, size.length);
        memcpy(end, line_end, sizeof line_end - 1);
        end += sizeof line_end - 1;
    }
    if (in_chunks && last) {
        memcpy(end, last_chunk, sizeof last_chunk - 1);
        end += sizeof last_chunk - 1;
    }
    if (!stream->started) {
        from = put_head(stream, from, last);
        stream->started = true;
    }
    stream->length = 0;
    if (end > from) {
        send_bytes(stream, from, (size_t)(end - from));
    }
}

static bool
is_due(const struct exchange_stream *stream)
{
    return stream->length > 0 && deadline_now_us() - stream->sent_us >= (int64_t)EXCHANGE_STREAM_PAUSE_MS * 1000;
}

bool
exchange_stream_write(struct exchange_stream *stream, const char *bytes, size_t length)
{
    while (length > 0 && !stream->failed) {
        const size_t room = EXCHANGE_STREAM_PIECE - stream->length;
        const size_t taken = length < room ? length : room;
        memcpy(stream->space + PIECE_AT + stream->length, bytes, taken);
        stream->length += taken;
        bytes += taken;
        length -= taken;
        if (length > 0 || is_due(stream)) {
            send_piece(stream, false);
        }
    }
    return !stream->failed;
}

/* A client that leaves is no fault, but the operator may wonder at the bytes. */
static void
log_cut_off(const struct exchange_stream *stream, const char *reason)
{
    struct log_line line;
    log_begin(&line, stream->exchange->server->log_mode, LOG_LEVEL_WARN, "answer cut off");
    log_text(&line, "route", stream->exchange->route);
    log_text(&line, "reason", reason);
    log_integer(&line, "waiting_ms", stream->waiting_us / 1000);
    log_end(&line);
}

void
exchange_stream_end(struct exchange_stream *stream, bool whole)
{
    if (!stream->failed && whole) {
        send_piece(stream, true);
    } else if (!stream->failed && !stream->started) {
        exchange_refuse(stream->exchange, PROBLEM_unavailable, "The service has no memory left for this answer.");
    } else if (!stream->failed) {
        log_cut_off(stream, "memory");
        stream->exchange->close = true;
        mg_disable_connection_keep_alive(stream->exchange->connection);
    }
    if (stream->failed) {
        log_cut_off(stream, "client");
    }
    free(stream->space);
    stream->space = NULL;
}

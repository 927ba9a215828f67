#ifndef SMALLEND_HTTP_DEADLINE_H
#define SMALLEND_HTTP_DEADLINE_H

/*
 * A limit on how long one request may hold its thread. CivetWeb limits the
 * wait for each piece of a body, so a client that sends a byte now and then
 * keeps its thread for good; the same goes for one that reads an answer byte by
 * byte. Our build of CivetWeb (deploy/setup.sh) waits on sockets through
 * smallend_poll, which ends such waits.
 *
 * The limit belongs to the calling thread, as the wait itself does: CivetWeb
 * passes smallend_poll nothing else by which to know the request. Nowhere else
 * does the program keep state outside struct server.
 */

#include <poll.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Milliseconds and microseconds of the clock that only goes forward. */
int64_t deadline_now_ms(void);
int64_t deadline_now_us(void);

/* From now on this thread's waits end `milliseconds` hence, all told. */
void deadline_set(int milliseconds);

/* No limit, and the socket of the last wait is forgotten. */
void deadline_clear(void);

/* True if a wait of this thread was ended since the limit was set, or the limit
 * is past. */
bool deadline_passed(void);

/*
 * Read and throw away what the client still sends, so that closing does not
 * reset the connection before the client has seen our answer: until it has
 * finished, or `most_bytes` or `most_ms` are reached. With `finish` our side is
 * closed first (not under TLS, whose closing message is yet to come).
 */
void deadline_linger(size_t most_bytes, int most_ms, bool finish);

/* poll(2) within the thread's limit: past it, a wait to read fails with
 * ETIMEDOUT, and a wait to write closes the socket so that the write fails. */
int smallend_poll(struct pollfd *sockets, nfds_t count, int milliseconds);

#endif

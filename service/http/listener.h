#ifndef SMALLEND_HTTP_LISTENER_H
#define SMALLEND_HTTP_LISTENER_H

/* One CivetWeb context, and what it calls back for. */

#include "http/server.h"

/* Set every member, before any listener of the server starts: each answers for
 * all. `threads` is 0 where nothing is to start. */
void listener_init(struct listener *listener, struct server *server, bool admin, int threads);

/*
 * Listen on `addresses` (see setting.def), with so many accepted connections
 * waiting for a thread. On failure listener->context is NULL, and `fault` says
 * why.
 */
bool listener_start(struct listener *listener, const char *addresses, int queue, char fault[SERVER_FAULT_SIZE]);

#endif

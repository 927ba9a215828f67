#ifndef SMALLEND_HTTP_LISTENER_H
#define SMALLEND_HTTP_LISTENER_H

/* One CivetWeb context, and what it calls back for. */

#include "http/server.h"

/*
 * Listen on `addresses` (see setting.def) with so many threads and so many
 * accepted connections waiting for one. Set listener->admin before. On failure
 * listener->context is NULL, and `fault` says why.
 */
bool listener_start(struct listener *listener, struct server *server, const char *addresses, int threads, int queue,
                    char fault[SERVER_FAULT_SIZE]);

#endif

#ifndef SMALLEND_HTTP_PROBE_H
#define SMALLEND_HTTP_PROBE_H

/* The other end of /readyz: the health check of a container that has no shell. */

#include <stdbool.h>

#include "http/setting.h"

enum { PROBE_FAULT_SIZE = 320 };

/* How long a service may take to say that it is ready, in ms. */
enum { PROBE_LIMIT_MS = 3000 };

/*
 * Ask the service that runs on this machine with these settings whether it is
 * ready: over the first address without TLS of admin_listen, else of listen.
 * False if it is not, with a sentence in `fault`.
 */
bool probe_service(const struct settings *settings, char fault[PROBE_FAULT_SIZE]) __attribute__((warn_unused_result));

#endif

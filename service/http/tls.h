#ifndef SMALLEND_HTTP_TLS_H
#define SMALLEND_HTTP_TLS_H

/*
 * TLS for the listeners: versions and ciphers, and the identity in force,
 * which can be exchanged while handshakes go on. Connections that stand keep
 * what they were made with.
 */

#include <pthread.h>
#include <stdbool.h>
#include <stdint.h>

#include "http/setting.h"
#include "http/tls_identity.h"

/* The versions of TLS, as CivetWeb's option ssl_protocol_version has them: 1.2
 * and 1.3. */
#define TLS_CIVETWEB_VERSION "4"

/* For TLS 1.2: forward secrecy and authenticated encryption only (RFC 9325
 * section 4.2). */
#define TLS_CIPHERS "ECDHE+AESGCM:ECDHE+CHACHA20"

struct tls {
    const struct settings *settings; /* borrowed */
    pthread_mutex_t lock;            /* over the identity */
    struct tls_identity *identity;   /* NULL = nobody speaks TLS */
};

/*
 * Read the identity that the settings name, where a listener needs it. False,
 * and a sentence in `fault`, if it cannot be used. After true the caller calls
 * tls_stop.
 */
bool tls_start(struct tls *tls, const struct settings *settings, char fault[TLS_IDENTITY_FAULT_SIZE]);
void tls_stop(struct tls *tls);

/* Read it again. False, with a sentence in `fault` and the old identity still
 * in force, if the new one cannot be used. */
bool tls_reload(struct tls *tls, char fault[TLS_IDENTITY_FAULT_SIZE]);

/* Set up a listener's context; false if OpenSSL does not take it. The rest is
 * done by CivetWeb, from the options above. */
bool tls_prepare(struct tls *tls, SSL_CTX *context);

/* When the certificate in force expires, in seconds since 1970; 0 without TLS. */
int64_t tls_expires_s(struct tls *tls);

#endif

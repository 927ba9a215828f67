#ifndef SMALLEND_HTTP_TLS_IDENTITY_H
#define SMALLEND_HTTP_TLS_IDENTITY_H

/*
 * Who the service is to its TLS clients, and whom it takes for a client: a
 * certificate with what stands between it and its authority, its private key,
 * and the authorities of the clients' certificates. Read from files as a whole
 * and never changed after.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <openssl/ssl.h>

struct tls_files {
    const char *certificate; /* PEM, the service's own first */
    const char *key;         /* PEM, without a passphrase */
    const char *client_ca;   /* PEM; "" = clients need no certificate */
};

enum { TLS_IDENTITY_FAULT_SIZE = 384, TLS_IDENTITY_NAME_SIZE = 160 };

struct tls_identity {
    X509 *certificate;
    STACK_OF(X509) * chain;
    EVP_PKEY *key;
    X509_STORE *client_authorities;       /* NULL = none, as is the next */
    STACK_OF(X509_NAME) * client_issuers; /* told to clients that have several certificates */
    int64_t expires_s;                    /* seconds since 1970 */
    bool key_is_open;                     /* any user of the machine may read the key's file */
    char name[TLS_IDENTITY_NAME_SIZE];    /* subject of the certificate */
};

/*
 * Read the files. NULL, and a sentence in `fault`, where one cannot be read, the
 * key is another certificate's, the certificate is not valid at this time, or
 * OpenSSL would refuse it in a handshake. The caller frees.
 */
struct tls_identity *tls_identity_load(const struct tls_files *files, char fault[TLS_IDENTITY_FAULT_SIZE]);
void tls_identity_free(struct tls_identity *identity);

/* Have one handshake done with it. False, and OpenSSL's own fault in its queue,
 * if memory ran out. */
bool tls_identity_use(const struct tls_identity *identity, SSL *ssl);

#endif

#include "http/tls.h"

#include <string.h>

#include "base/text.h"

/* True if an address in the list has the s of TLS. */
static bool
is_wanted(const char *addresses)
{
    for (const char *entry = addresses; *entry != '\0';) {
        const size_t length = strcspn(entry, ",");
        if (length > 0 && entry[length - 1] == 's') {
            return true;
        }
        entry += length;
        entry += *entry == ',';
    }
    return false;
}

static struct tls_identity *
load(const struct settings *settings, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    const struct tls_files files = {
        .certificate = settings->tls_cert, .key = settings->tls_key, .client_ca = settings->tls_client_ca};
    return tls_identity_load(&files, fault);
}

bool
tls_start(struct tls *tls, const struct settings *settings, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    tls->settings = settings;
    tls->identity = NULL;
    if (pthread_mutex_init(&tls->lock, NULL) != 0) {
        text_copy(fault, TLS_IDENTITY_FAULT_SIZE, "no memory for a lock");
        return false;
    }
    if (!is_wanted(settings->listen) && !is_wanted(settings->admin_listen)) {
        return true;
    }
    if (settings->tls_cert[0] == '\0' || settings->tls_key[0] == '\0') {
        text_copy(fault, TLS_IDENTITY_FAULT_SIZE,
                  "an address with an s behind it needs SMALLEND_TLS_CERT and SMALLEND_TLS_KEY");
    } else {
        tls->identity = load(settings, fault);
    }
    if (tls->identity == NULL) {
        tls_stop(tls);
        return false;
    }
    return true;
}

void
tls_stop(struct tls *tls)
{
    tls_identity_free(tls->identity);
    tls->identity = NULL;
    pthread_mutex_destroy(&tls->lock);
}

bool
tls_reload(struct tls *tls, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    struct tls_identity *fresh = load(tls->settings, fault);
    if (fresh == NULL) {
        return false;
    }
    pthread_mutex_lock(&tls->lock);
    struct tls_identity *old = tls->identity;
    tls->identity = fresh;
    pthread_mutex_unlock(&tls->lock);
    tls_identity_free(old);
    return true;
}

int64_t
tls_expires_s(struct tls *tls)
{
    pthread_mutex_lock(&tls->lock);
    const int64_t expires_s = tls->identity != NULL ? tls->identity->expires_s : 0;
    pthread_mutex_unlock(&tls->lock);
    return expires_s;
}

/* OpenSSL asks for the certificate once it has read the client's first message. */
static int
choose_certificate(SSL *ssl, void *data)
{
    struct tls *tls = data;
    /* Whoever gets hold of the key that seals tickets, which lives as long as
     * the process, can read recorded connections of TLS 1.2 that had one; in
     * TLS 1.3 resumed connections agree on new keys (RFC 8446 section 2.2). */
    if (SSL_version(ssl) == TLS1_2_VERSION) {
        SSL_set_options(ssl, SSL_OP_NO_TICKET);
    }
    pthread_mutex_lock(&tls->lock);
    const bool good = tls->identity != NULL && tls_identity_use(tls->identity, ssl);
    pthread_mutex_unlock(&tls->lock);
    return good ? 1 : 0;
}

/* RFC 7301: a client that names protocols gets one of them that we speak, or a
 * clear refusal, rather than bytes of another protocol than it thinks. */
static int
choose_protocol(SSL *ssl, const unsigned char **chosen, unsigned char *length, const unsigned char *offered,
                unsigned offered_length, void *data)
{
    static const unsigned char ours[] = "\x08http/1.1\x08http/1.0";
    unsigned char *found = NULL;
    (void)ssl;
    (void)data;
    if (SSL_select_next_proto(&found, length, ours, sizeof ours - 1, offered, offered_length) !=
        OPENSSL_NPN_NEGOTIATED) {
        return SSL_TLSEXT_ERR_ALERT_FATAL;
    }
    *chosen = found;
    return SSL_TLSEXT_ERR_OK;
}

/*
 * Resumed sessions do not show the client's certificate again, so where one is
 * asked for there are none: otherwise an authority that a reload has taken out
 * would go on being trusted. Elsewhere by ticket only, so that nothing is kept
 * here for each client, and in TLS 1.3 only: see choose_certificate.
 */
static void
set_sessions(SSL_CTX *context, bool with_client_certificates)
{
    SSL_CTX_set_session_cache_mode(context, SSL_SESS_CACHE_OFF);
    if (with_client_certificates) {
        SSL_CTX_set_options(context, SSL_OP_NO_TICKET);
        SSL_CTX_set_num_tickets(context, 0);
    }
}

bool
tls_prepare(struct tls *tls, SSL_CTX *context)
{
    const bool clients = tls->settings->tls_client_ca[0] != '\0';
    char groups[] = "X25519:P-256:P-384"; /* OpenSSL's macro casts const away */
    const bool required = strcmp(tls->settings->tls_client, "require") == 0;
    SSL_CTX_set_cert_cb(context, choose_certificate, tls);
    SSL_CTX_set_alpn_select_cb(context, choose_protocol, NULL);
    if (clients) {
        SSL_CTX_set_verify(context, SSL_VERIFY_PEER | (required ? SSL_VERIFY_FAIL_IF_NO_PEER_CERT : 0), NULL);
    }
    set_sessions(context, clients);
    /* Phones without AES in hardware ask for ChaCha20 first, and get it. */
    SSL_CTX_set_options(context, SSL_OP_PRIORITIZE_CHACHA);
    return SSL_CTX_set_min_proto_version(context, TLS1_2_VERSION) == 1 &&
           SSL_CTX_set_ciphersuites(context, "TLS_AES_256_GCM_SHA384:TLS_CHACHA20_POLY1305_SHA256:"
                                             "TLS_AES_128_GCM_SHA256") == 1 &&
           SSL_CTX_set1_groups_list(context, groups) == 1;
}

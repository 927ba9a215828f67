#include "http/tls_identity.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

#include <openssl/err.h>
#include <openssl/pem.h>
#include <openssl/x509.h>

#include "base/text.h"
#include "seal/key.h"

/* Say what is wrong with which file; false, for the caller to return. */
static bool
blame(char fault[TLS_IDENTITY_FAULT_SIZE], const char *before, const char *path, const char *after)
{
    struct text text;
    text_init(&text, fault, TLS_IDENTITY_FAULT_SIZE);
    text_format(&text, "%s%s%s", before, path, after);
    return false;
}

/* The same with OpenSSL's word for it at the end. */
static bool
blame_openssl(char fault[TLS_IDENTITY_FAULT_SIZE], const char *before, const char *path, const char *after)
{
    const char *reason = ERR_reason_error_string(ERR_peek_last_error());
    struct text text;
    text_init(&text, fault, TLS_IDENTITY_FAULT_SIZE);
    text_format(&text, "%s%s%s: %s", before, path, after, reason != NULL ? reason : "no reason given");
    return false;
}

static FILE *
open_file(const char *path, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        char reason[128] = "";
        if (strerror_r(errno, reason, sizeof reason) != 0) {
            reason[0] = '\0';
        }
        struct text text;
        text_init(&text, fault, TLS_IDENTITY_FAULT_SIZE);
        text_format(&text, "cannot read %s: %s", path, reason);
    }
    ERR_clear_error();
    return file;
}

/* All certificates of a file, in order; NULL and a fault if there are none or
 * one is broken. */
static STACK_OF(X509) * read_certificates(const char *path, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    STACK_OF(X509) *all = sk_X509_new_null();
    FILE *file = open_file(path, fault);
    bool good = all != NULL && file != NULL;
    while (good) {
        X509 *one = PEM_read_X509(file, NULL, key_no_passphrase, NULL);
        if (one == NULL) {
            break;
        }
        if (sk_X509_push(all, one) == 0) {
            X509_free(one);
            good = blame(fault, "no memory for ", path, "");
        }
    }
    if (good && ERR_GET_REASON(ERR_peek_last_error()) != PEM_R_NO_START_LINE) {
        good = blame_openssl(fault, "a certificate in ", path, " cannot be read");
    } else if (good && sk_X509_num(all) == 0) {
        good = blame(fault, "there is no certificate in ", path, " (PEM is wanted)");
    }
    if (file != NULL) {
        fclose(file);
    }
    if (!good) {
        sk_X509_pop_free(all, X509_free);
        all = NULL;
    }
    return all;
}

static bool
read_key(struct tls_identity *identity, const char *path, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    struct stat status;
    FILE *file = open_file(path, fault);
    if (file == NULL) {
        return false;
    }
    identity->key_is_open = fstat(fileno(file), &status) == 0 && (status.st_mode & S_IROTH) != 0;
    identity->key = PEM_read_PrivateKey(file, NULL, key_no_passphrase, NULL);
    fclose(file);
    return identity->key != NULL ||
           blame(fault, "no private key can be read from ", path, " (PEM without a passphrase is wanted)");
}

static int64_t
seconds_of(const ASN1_TIME *time)
{
    struct tm utc;
    int days = 0, seconds = 0;
    ASN1_TIME *origin = ASN1_TIME_set(NULL, 0);
    const bool known =
        origin != NULL && ASN1_TIME_to_tm(time, &utc) == 1 && ASN1_TIME_diff(&days, &seconds, origin, time) == 1;
    ASN1_TIME_free(origin);
    return known ? (int64_t)days * 86400 + seconds : 0;
}

static bool
check_dates(struct tls_identity *identity, const char *path, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    const ASN1_TIME *start = X509_get0_notBefore(identity->certificate);
    const ASN1_TIME *end = X509_get0_notAfter(identity->certificate);
    const char *wrong = X509_cmp_current_time(end) <= 0 ? "expired at" : "is not valid before";
    struct tm utc;
    char when[32] = "an unreadable time";
    identity->expires_s = seconds_of(end);
    if (X509_cmp_current_time(start) < 0 && X509_cmp_current_time(end) > 0) {
        return true;
    }
    if (ASN1_TIME_to_tm(wrong[0] == 'e' ? end : start, &utc) == 1) {
        strftime(when, sizeof when, "%Y-%m-%dT%H:%M:%SZ", &utc);
    }
    struct text text;
    text_init(&text, fault, TLS_IDENTITY_FAULT_SIZE);
    text_format(&text, "the certificate in %s %s %s", path, wrong, when);
    return false;
}

/* What OpenSSL would say in each handshake it had better say now: it refuses
 * keys and signatures that are too weak for its security level. */
static bool
try_out(const struct tls_identity *identity, const char *path, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    SSL_CTX *trial = SSL_CTX_new(TLS_server_method());
    ERR_clear_error();
    const bool taken =
        trial != NULL && SSL_CTX_use_cert_and_key(trial, identity->certificate, identity->key, identity->chain, 1) == 1;
    SSL_CTX_free(trial);
    return taken || blame_openssl(fault, "the certificate in ", path, " cannot be used");
}

static bool
read_own(struct tls_identity *identity, const struct tls_files *files, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    identity->chain = read_certificates(files->certificate, fault);
    if (identity->chain == NULL || !read_key(identity, files->key, fault)) {
        return false;
    }
    identity->certificate = sk_X509_shift(identity->chain);
    X509_NAME_oneline(X509_get_subject_name(identity->certificate), identity->name, TLS_IDENTITY_NAME_SIZE);
    if (X509_check_private_key(identity->certificate, identity->key) != 1) {
        char after[TLS_IDENTITY_FAULT_SIZE];
        blame(after, " does not belong to the first certificate in ", files->certificate, "");
        return blame(fault, "the private key in ", files->key, after);
    }
    return check_dates(identity, files->certificate, fault) && try_out(identity, files->certificate, fault);
}

static bool
read_client_authorities(struct tls_identity *identity, const char *path, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    STACK_OF(X509) *all = read_certificates(path, fault);
    if (all == NULL) {
        return false;
    }
    identity->client_authorities = X509_STORE_new();
    identity->client_issuers = sk_X509_NAME_new_null();
    bool good = identity->client_authorities != NULL && identity->client_issuers != NULL;
    for (int i = 0; good && i < sk_X509_num(all); ++i) {
        X509 *one = sk_X509_value(all, i);
        X509_NAME *name = X509_NAME_dup(X509_get_subject_name(one));
        good = X509_STORE_add_cert(identity->client_authorities, one) == 1 && name != NULL;
        if (!good || sk_X509_NAME_push(identity->client_issuers, name) == 0) {
            X509_NAME_free(name);
            good = false;
        }
    }
    sk_X509_pop_free(all, X509_free);
    return good || blame_openssl(fault, "the authorities in ", path, " cannot be used");
}

struct tls_identity *
tls_identity_load(const struct tls_files *files, char fault[TLS_IDENTITY_FAULT_SIZE])
{
    struct tls_identity *identity = calloc(1, sizeof *identity);
    if (identity == NULL) {
        blame(fault, "no memory for ", files->certificate, "");
        return NULL;
    }
    if (!read_own(identity, files, fault) ||
        (files->client_ca[0] != '\0' && !read_client_authorities(identity, files->client_ca, fault))) {
        tls_identity_free(identity);
        identity = NULL;
    }
    ERR_clear_error();
    return identity;
}

void
tls_identity_free(struct tls_identity *identity)
{
    if (identity == NULL) {
        return;
    }
    X509_free(identity->certificate);
    sk_X509_pop_free(identity->chain, X509_free);
    EVP_PKEY_free(identity->key);
    X509_STORE_free(identity->client_authorities);
    sk_X509_NAME_pop_free(identity->client_issuers, X509_NAME_free);
    free(identity);
}

bool
tls_identity_use(const struct tls_identity *identity, SSL *ssl)
{
    if (SSL_use_cert_and_key(ssl, identity->certificate, identity->key, identity->chain, 1) != 1) {
        return false;
    }
    if (identity->client_authorities == NULL) {
        return true;
    }
    STACK_OF(X509_NAME) *issuers = SSL_dup_CA_list(identity->client_issuers);
    if (issuers == NULL) {
        return false;
    }
    SSL_set_client_CA_list(ssl, issuers); /* which it owns from here on */
    return SSL_set1_verify_cert_store(ssl, identity->client_authorities) == 1;
}

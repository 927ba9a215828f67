/* Which files will do. The certificates are made here, and gone with their folder. */

#include "http/tls_identity.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <openssl/pem.h>
#include <openssl/x509.h>

#include "support/close.h"

enum { DAY_S = 86400 };

static char folder[] = "/tmp/smallend-unit-XXXXXX";
static char fault[TLS_IDENTITY_FAULT_SIZE];

/* Path of a file in the folder; the last few stay valid. */
static const char *
in_folder(const char *name)
{
    static char paths[8][sizeof folder + 32];
    static size_t next;
    char *path = paths[next++ % 8];
    snprintf(path, sizeof paths[0], "%s/%s", folder, name);
    return path;
}

static X509 *
make_certificate(EVP_PKEY *key, const char *name, long starts_in_s, long ends_in_s)
{
    X509 *made = X509_new();
    X509_NAME *subject = X509_NAME_new();
    X509_set_version(made, X509_VERSION_3);
    ASN1_INTEGER_set(X509_get_serialNumber(made), 1);
    X509_gmtime_adj(X509_getm_notBefore(made), starts_in_s);
    X509_gmtime_adj(X509_getm_notAfter(made), ends_in_s);
    X509_NAME_add_entry_by_txt(subject, "CN", MBSTRING_ASC, (const unsigned char *)name, -1, -1, 0);
    X509_set_subject_name(made, subject);
    X509_set_issuer_name(made, subject);
    X509_NAME_free(subject);
    X509_set_pubkey(made, key);
    assert_true(X509_sign(made, key, EVP_sha256()) > 0);
    return made;
}

static FILE *
open_new(const char *name, const char *mode)
{
    FILE *file = fopen(in_folder(name), mode);
    assert_non_null(file);
    return file;
}

static void
write_key(const char *name, EVP_PKEY *key, const char *passphrase)
{
    FILE *file = open_new(name, "w");
    assert_int_equal(chmod(in_folder(name), 0600), 0);
    PEM_write_PrivateKey(file, key, passphrase != NULL ? EVP_aes_128_cbc() : NULL, NULL, 0, NULL,
                         (void *)(uintptr_t)passphrase);
    fclose(file);
}

static void
write_certificate(const char *name, const char *mode, X509 *certificate)
{
    FILE *file = open_new(name, mode);
    PEM_write_X509(file, certificate);
    fclose(file);
}

static void
write_text(const char *name, const char *text)
{
    FILE *file = open_new(name, "w");
    fputs(text, file);
    fclose(file);
}

/* A key in NAME.key and a certificate in NAME.pem. */
static void
make_pair(const char *name, EVP_PKEY *key, long starts_in_s, long ends_in_s)
{
    char file[32];
    X509 *certificate = make_certificate(key, name, starts_in_s, ends_in_s);
    snprintf(file, sizeof file, "%s.pem", name);
    write_certificate(file, "w", certificate);
    snprintf(file, sizeof file, "%s.key", name);
    write_key(file, key, NULL);
    X509_free(certificate);
    EVP_PKEY_free(key);
}

static int
make_all(void **state)
{
    (void)state;
    if (mkdtemp(folder) == NULL) {
        return -1;
    }
    make_pair("good", EVP_EC_gen("P-256"), -60, 30 * DAY_S);
    make_pair("other", EVP_EC_gen("P-256"), -60, 30 * DAY_S);
    make_pair("expired", EVP_EC_gen("P-256"), -2 * DAY_S, -DAY_S);
    make_pair("early", EVP_EC_gen("P-256"), DAY_S, 2 * DAY_S);
    make_pair("weak", EVP_RSA_gen(1024), -60, 30 * DAY_S);
    write_text("empty", "");
    write_text("broken", "-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n");
    return 0;
}

static int
remove_all(void **state)
{
    (void)state;
    const char *const names[] = {"good.pem",    "good.key",  "other.pem", "other.key", "expired.pem",
                                 "expired.key", "early.pem", "early.key", "weak.pem",  "weak.key",
                                 "empty",       "broken",    "chain.pem", "locked.key"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; ++i) {
        unlink(in_folder(names[i]));
    }
    return rmdir(folder);
}

static struct tls_identity *
load(const char *certificate, const char *key, const char *client_ca)
{
    const struct tls_files files = {.certificate = in_folder(certificate),
                                    .key = in_folder(key),
                                    .client_ca = client_ca != NULL ? in_folder(client_ca) : ""};
    fault[0] = '\0';
    return tls_identity_load(&files, fault);
}

/* The fault names the file and says what is wrong. */
static void
assert_refused(const char *certificate, const char *key, const char *client_ca, const char *file, const char *reason)
{
    struct tls_identity *identity = load(certificate, key, client_ca);
    assert_null(identity);
    if (strstr(fault, in_folder(file)) == NULL || strstr(fault, reason) == NULL) {
        fail_msg("wanted %s and \"%s\" in: %s", in_folder(file), reason, fault);
    }
}

static void
takes_a_certificate_with_its_key(void **state)
{
    (void)state;
    struct tls_identity *identity = load("good.pem", "good.key", NULL);
    assert_non_null(identity);
    assert_string_equal(identity->name, "/CN=good");
    assert_int_equal(sk_X509_num(identity->chain), 0);
    assert_null(identity->client_authorities);
    assert_false(identity->key_is_open);
    const int64_t left_s = identity->expires_s - (int64_t)time(NULL);
    assert_true(left_s > 30 * DAY_S - 120 && left_s <= 30 * DAY_S);
    tls_identity_free(identity);
}

static void
keeps_what_follows_as_the_chain(void **state)
{
    (void)state;
    EVP_PKEY *key = EVP_EC_gen("P-256");
    X509 *second = make_certificate(key, "second", -60, DAY_S);
    char line[2048];
    FILE *good = fopen(in_folder("good.pem"), "r");
    FILE *chain = open_new("chain.pem", "w");
    while (fgets(line, sizeof line, good) != NULL) {
        fputs(line, chain);
    }
    fclose(good);
    fclose(chain);
    write_certificate("chain.pem", "a", second);
    struct tls_identity *identity = load("chain.pem", "good.key", NULL);
    assert_non_null(identity);
    assert_int_equal(sk_X509_num(identity->chain), 1);
    assert_int_equal(X509_cmp(sk_X509_value(identity->chain, 0), second), 0);
    tls_identity_free(identity);
    X509_free(second);
    EVP_PKEY_free(key);
}

static void
refuses_what_cannot_be_read(void **state)
{
    (void)state;
    assert_refused("missing", "good.key", NULL, "missing", "No such file");
    assert_refused("good.pem", "missing", NULL, "missing", "No such file");
    assert_refused("empty", "good.key", NULL, "empty", "no certificate");
    assert_refused("good.key", "good.key", NULL, "good.key", "no certificate");
    assert_refused("broken", "good.key", NULL, "broken", "cannot be read");
    assert_refused("good.pem", "empty", NULL, "empty", "no private key");
    assert_refused("good.pem", "good.pem", NULL, "good.pem", "no private key");
    assert_refused("", "good.key", NULL, "", "");
}

static void
refuses_a_key_with_a_passphrase(void **state)
{
    (void)state;
    EVP_PKEY *key = EVP_EC_gen("P-256");
    write_key("locked.key", key, "secret");
    EVP_PKEY_free(key);
    assert_refused("good.pem", "locked.key", NULL, "locked.key", "passphrase");
}

static void
refuses_the_key_of_another_certificate(void **state)
{
    (void)state;
    assert_refused("good.pem", "other.key", NULL, "other.key", "does not belong");
    assert_refused("good.pem", "weak.key", NULL, "good.pem", "does not belong");
}

static void
refuses_what_is_not_valid_today(void **state)
{
    (void)state;
    assert_refused("expired.pem", "expired.key", NULL, "expired.pem", "expired at 2");
    assert_refused("early.pem", "early.key", NULL, "early.pem", "not valid before 2");
}

/* Debian's OpenSSL wants RSA keys of 2048 bits: security level 2, see
 * SSL_CTX_get_security_level(3). It would otherwise show in each handshake. */
static void
refuses_what_openssl_would_refuse_later(void **state)
{
    (void)state;
    assert_refused("weak.pem", "weak.key", NULL, "weak.pem", "too small");
}

static void
notices_a_key_that_any_user_may_read(void **state)
{
    (void)state;
    const struct {
        mode_t mode;
        bool open;
    } cases[] = {{0600, false}, {0640, false}, {0644, true}, {0604, true}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; ++i) {
        chmod(in_folder("good.key"), cases[i].mode);
        struct tls_identity *identity = load("good.pem", "good.key", NULL);
        assert_non_null(identity);
        assert_int_equal(identity->key_is_open, cases[i].open);
        tls_identity_free(identity);
    }
    chmod(in_folder("good.key"), 0600);
}

static void
reads_the_authorities_of_clients(void **state)
{
    (void)state;
    struct tls_identity *identity = load("good.pem", "good.key", "other.pem");
    assert_non_null(identity);
    assert_non_null(identity->client_authorities);
    assert_int_equal(sk_X509_NAME_num(identity->client_issuers), 1);
    tls_identity_free(identity);
    assert_refused("good.pem", "good.key", "empty", "empty", "no certificate");
    assert_refused("good.pem", "good.key", "missing", "missing", "No such file");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(takes_a_certificate_with_its_key),
        cmocka_unit_test(keeps_what_follows_as_the_chain),
        cmocka_unit_test(refuses_what_cannot_be_read),
        cmocka_unit_test(refuses_a_key_with_a_passphrase),
        cmocka_unit_test(refuses_the_key_of_another_certificate),
        cmocka_unit_test(refuses_what_is_not_valid_today),
        cmocka_unit_test(refuses_what_openssl_would_refuse_later),
        cmocka_unit_test(notices_a_key_that_any_user_may_read),
        cmocka_unit_test(reads_the_authorities_of_clients),
    };
    return cmocka_run_group_tests(tests, make_all, remove_all);
}

#ifndef SMALLEND_TESTS_UNIT_SEAL_KEYS_H
#define SMALLEND_TESTS_UNIT_SEAL_KEYS_H

/*
 * Keys for the tests, as PEM files in a folder of their own: the published
 * example keys of RFC 8037 appendix A.1 and RFC 7515 appendix A.3.1, and some
 * of the wrong kind, made when they are wanted.
 */

#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <openssl/core_names.h>
#include <openssl/ec.h>
#include <openssl/evp.h>
#include <openssl/param_build.h>
#include <openssl/pem.h>
#include <openssl/rsa.h>

#include "base/base64url.h"

#define RFC8037_D "nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A"
#define RFC8037_X "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo"
#define RFC8037_THUMBPRINT "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k"
#define RFC7515_D "jpsQnnGQmL-YBIffH1136cspYG6-0iY7X1fCE9-E9LI"
#define RFC7515_X "f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU"
#define RFC7515_Y "x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0"

enum { PATH_BYTES = 160 };

struct folder {
    char path[64];
};

static inline void
folder_make(struct folder *folder)
{
    snprintf(folder->path, sizeof folder->path, "/tmp/smallend-seal-XXXXXX");
    assert_non_null(mkdtemp(folder->path));
}

/* The tests name their files by one letter. */
static inline void
folder_remove(struct folder *folder)
{
    for (char letter = 'a'; letter <= 'z'; letter++) {
        char path[PATH_BYTES];
        snprintf(path, sizeof path, "%s/%c", folder->path, letter);
        unlink(path);
    }
    assert_int_equal(rmdir(folder->path), 0);
}

static inline void
folder_file(const struct folder *folder, char letter, char path[PATH_BYTES])
{
    snprintf(path, PATH_BYTES, "%s/%c", folder->path, letter);
}

static inline void
write_text(const struct folder *folder, char letter, const char *text, char path[PATH_BYTES])
{
    folder_file(folder, letter, path);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, strlen(text), file), strlen(text));
    assert_int_equal(fclose(file), 0);
    assert_int_equal(chmod(path, S_IRUSR | S_IWUSR), 0);
}

static inline void
read_part(const char *text, unsigned char part[32])
{
    size_t count = 0;
    assert_true(base64url_read(text, strlen(text), part, &count));
    assert_int_equal(count, 32);
}

static inline EVP_PKEY *
rfc8037_key(void)
{
    unsigned char d[32];
    read_part(RFC8037_D, d);
    EVP_PKEY *key = EVP_PKEY_new_raw_private_key(EVP_PKEY_ED25519, NULL, d, sizeof d);
    assert_non_null(key);
    return key;
}

static inline EVP_PKEY *
rfc7515_key(void)
{
    unsigned char d[32], point[65] = {4}; /* uncompressed: SEC 1 section 2.3.3 */
    read_part(RFC7515_D, d);
    read_part(RFC7515_X, point + 1);
    read_part(RFC7515_Y, point + 33);
    BIGNUM *number = BN_bin2bn(d, sizeof d, NULL);
    OSSL_PARAM_BLD *build = OSSL_PARAM_BLD_new();
    assert_int_equal(OSSL_PARAM_BLD_push_utf8_string(build, OSSL_PKEY_PARAM_GROUP_NAME, "prime256v1", 0), 1);
    assert_int_equal(OSSL_PARAM_BLD_push_octet_string(build, OSSL_PKEY_PARAM_PUB_KEY, point, sizeof point), 1);
    assert_int_equal(OSSL_PARAM_BLD_push_BN(build, OSSL_PKEY_PARAM_PRIV_KEY, number), 1);
    OSSL_PARAM *parameters = OSSL_PARAM_BLD_to_param(build);
    EVP_PKEY_CTX *context = EVP_PKEY_CTX_new_from_name(NULL, "EC", NULL);
    EVP_PKEY *key = NULL;
    assert_int_equal(EVP_PKEY_fromdata_init(context), 1);
    assert_int_equal(EVP_PKEY_fromdata(context, &key, EVP_PKEY_KEYPAIR, parameters), 1);
    EVP_PKEY_CTX_free(context);
    OSSL_PARAM_free(parameters);
    OSSL_PARAM_BLD_free(build);
    BN_free(number);
    return key;
}

/* Takes the key. */
static inline void
write_private(const struct folder *folder, char letter, EVP_PKEY *key, char path[PATH_BYTES])
{
    folder_file(folder, letter, path);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_int_equal(PEM_write_PrivateKey(file, key, NULL, NULL, 0, NULL, NULL), 1);
    assert_int_equal(fclose(file), 0);
    assert_int_equal(chmod(path, S_IRUSR | S_IWUSR), 0);
    EVP_PKEY_free(key);
}

static inline void
write_public(const struct folder *folder, char letter, EVP_PKEY *key, char path[PATH_BYTES])
{
    folder_file(folder, letter, path);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_int_equal(PEM_write_PUBKEY(file, key), 1);
    assert_int_equal(fclose(file), 0);
    EVP_PKEY_free(key);
}

#endif

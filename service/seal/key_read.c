#include "seal/key.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

#include <openssl/core_names.h>
#include <openssl/crypto.h>
#include <openssl/err.h>
#include <openssl/evp.h>
#include <openssl/pem.h>

#include "base/text.h"
#include "seal/file.h"
#include "seal/key_part.h"

/* A key of either kind takes a few hundred bytes. */
enum { PEM_MAX = 65536 };

static bool
complain(char fault[KEY_FAULT_SIZE], const char *path, const char *what)
{
    struct text text;
    text_init(&text, fault, KEY_FAULT_SIZE);
    text_format(&text, "%s %s", path, what);
    ERR_clear_error();
    return false;
}

int
key_no_passphrase(char *buffer, int size, int writing, void *context)
{
    (void)buffer;
    (void)size;
    (void)writing;
    (void)context;
    return -1;
}

/* Find out what kind of key it is; false if it is none of ours. */
static bool
find_kind(struct key *key)
{
    char group[32] = "";
    size_t length = 0;
    if (EVP_PKEY_is_a(key->pkey, "ED25519")) {
        key->kind = KEY_ED25519;
        return true;
    }
    key->kind = KEY_P256;
    return EVP_PKEY_is_a(key->pkey, "EC") &&
           EVP_PKEY_get_utf8_string_param(key->pkey, OSSL_PKEY_PARAM_GROUP_NAME, group, sizeof group, &length) == 1 &&
           (strcasecmp(group, "prime256v1") == 0 || strcasecmp(group, "P-256") == 0);
}

static bool
take(struct key *key, const char *path, char fault[KEY_FAULT_SIZE])
{
    if (!find_kind(key)) {
        key_clear(key);
        return complain(fault, path, "holds a key of another kind; Ed25519 or P-256 (prime256v1) is wanted");
    }
    if (!key_part_name(key)) {
        key_clear(key);
        return complain(fault, path, "holds a key that OpenSSL cannot use");
    }
    ERR_clear_error();
    return true;
}

static EVP_PKEY *
parse(const char *pem, size_t length, EVP_PKEY *(*read)(BIO *, EVP_PKEY **, pem_password_cb *, void *))
{
    BIO *bio = BIO_new_mem_buf(pem, (int)length);
    EVP_PKEY *pkey = bio != NULL ? read(bio, NULL, key_no_passphrase, NULL) : NULL;
    BIO_free(bio);
    return pkey;
}

/* Read the file and parse it; what keys of the other sort would be is for the
 * caller to say, in `pem`, which it wipes. */
static char *
read_pem(const char *path, size_t *length, bool *world_readable, char fault[KEY_FAULT_SIZE])
{
    struct stat status;
    char *pem = file_read(path, PEM_MAX, length, fault, KEY_FAULT_SIZE);
    *world_readable = pem != NULL && stat(path, &status) == 0 && (status.st_mode & (S_IROTH | S_IWOTH)) != 0;
    return pem;
}

static void
wipe(char *pem, size_t length)
{
    OPENSSL_cleanse(pem, length);
    free(pem);
}

bool
key_read_private(struct key *key, const char *path, char fault[KEY_FAULT_SIZE])
{
    size_t length = 0;
    memset(key, 0, sizeof *key);
    char *pem = read_pem(path, &length, &key->world_readable, fault);
    if (pem == NULL) {
        return false;
    }
    key->pkey = parse(pem, length, PEM_read_bio_PrivateKey);
    key->can_sign = true;
    bool good = false;
    if (key->pkey != NULL) {
        good = take(key, path, fault);
    } else if (strstr(pem, "ENCRYPTED") != NULL) {
        complain(fault, path, "is encrypted; write the key without a passphrase and guard the file");
    } else if (strstr(pem, "PUBLIC KEY") != NULL) {
        complain(fault, path, "holds a public key; a private key is wanted to sign with");
    } else {
        complain(fault, path, "holds no private key in PEM form");
    }
    wipe(pem, length);
    return good;
}

bool
key_read_public(struct key *key, const char *path, char fault[KEY_FAULT_SIZE])
{
    size_t length = 0;
    memset(key, 0, sizeof *key);
    char *pem = read_pem(path, &length, &key->world_readable, fault);
    if (pem == NULL) {
        return false;
    }
    key->world_readable = false; /* so it may be */
    key->pkey = parse(pem, length, PEM_read_bio_PUBKEY);
    bool good = false;
    if (key->pkey != NULL) {
        good = take(key, path, fault);
    } else if (strstr(pem, "PRIVATE KEY") != NULL) {
        complain(fault, path, "holds a private key; to verify, give its public part alone (openssl pkey -pubout)");
    } else {
        complain(fault, path, "holds no public key in PEM form");
    }
    wipe(pem, length);
    return good;
}

#include "seal/key.h"

#include <stdint.h>
#include <string.h>

#include <openssl/bn.h>
#include <openssl/core_names.h>
#include <openssl/ec.h>
#include <openssl/ecdsa.h>
#include <openssl/err.h>
#include <openssl/evp.h>

#include "base/base64url.h"
#include "seal/digest.h"
#include "seal/key_part.h"

/* Bytes of a coordinate, of r and of s, of either kind of key. */
enum { PART_SIZE = 32, PART_TEXT_SIZE = 44, DER_SIZE = 80 };

void
key_clear(struct key *key)
{
    EVP_PKEY_free(key->pkey);
    memset(key, 0, sizeof *key);
}

const char *
key_algorithm(const struct key *key)
{
    return key->kind == KEY_ED25519 ? "EdDSA" : "ES256";
}

/* ---- the public key as text ---- */

static bool
part_of_number(const EVP_PKEY *pkey, const char *name, unsigned char part[PART_SIZE])
{
    BIGNUM *number = NULL;
    const bool good =
        EVP_PKEY_get_bn_param(pkey, name, &number) == 1 && BN_bn2binpad(number, part, PART_SIZE) == PART_SIZE;
    BN_free(number);
    return good;
}

/* The members of the JWK that make the thumbprint, in its order (RFC 7638
 * section 3.2; RFC 8037 section 2), without the braces. */
static bool
write_required(const struct key *key, struct buffer *out)
{
    unsigned char part[PART_SIZE];
    char x[PART_TEXT_SIZE], y[PART_TEXT_SIZE];
    if (key->kind == KEY_ED25519) {
        size_t size = sizeof part;
        if (EVP_PKEY_get_raw_public_key(key->pkey, part, &size) != 1 || size != sizeof part) {
            return false;
        }
        base64url_write(x, part, sizeof part);
        buffer_format(out, "\"crv\":\"Ed25519\",\"kty\":\"OKP\",\"x\":\"%s\"", x);
        return true;
    }
    if (!part_of_number(key->pkey, OSSL_PKEY_PARAM_EC_PUB_X, part)) {
        return false;
    }
    base64url_write(x, part, sizeof part);
    if (!part_of_number(key->pkey, OSSL_PKEY_PARAM_EC_PUB_Y, part)) {
        return false;
    }
    base64url_write(y, part, sizeof part);
    buffer_format(out, "\"crv\":\"P-256\",\"kty\":\"EC\",\"x\":\"%s\",\"y\":\"%s\"", x, y);
    return true;
}

bool
key_write_jwk(const struct key *key, struct buffer *out)
{
    buffer_add(out, "{");
    const bool good = write_required(key, out);
    buffer_format(out, ",\"kid\":\"%s\",\"use\":\"sig\"}", key->id);
    return good;
}

bool
key_part_name(struct key *key)
{
    struct buffer text;
    unsigned char digest[DIGEST_SIZE];
    buffer_init(&text);
    buffer_add(&text, "{");
    const bool written = write_required(key, &text);
    buffer_add(&text, "}");
    const bool good = written && !text.failed && digest_sha256(text.at, text.length, digest);
    if (good) {
        base64url_write(key->id, digest, sizeof digest);
    }
    buffer_clear(&text);
    return good;
}

/* ---- signing ---- */

/* Name of OpenSSL's parameter that makes the nonce follow from key and bytes:
 * 3.2 on; its header of 3.0 does not have it. */
static const char nonce_type[] = "nonce-type";

bool
key_is_deterministic(const struct key *key)
{
    if (key->kind == KEY_ED25519) {
        return true;
    }
    EVP_MD_CTX *context = EVP_MD_CTX_new();
    EVP_PKEY_CTX *signing = NULL;
    bool good = false;
    if (context != NULL && EVP_DigestSignInit(context, &signing, EVP_sha256(), NULL, key->pkey) == 1) {
        const OSSL_PARAM *known = EVP_PKEY_CTX_settable_params(signing);
        good = known != NULL && OSSL_PARAM_locate_const(known, nonce_type) != NULL;
    }
    EVP_MD_CTX_free(context);
    ERR_clear_error();
    return good;
}

/* r and s, each as 32 bytes: RFC 7518 section 3.4. */
static bool
raw_from_der(const unsigned char *der, size_t length, unsigned char raw[KEY_SIGNATURE_SIZE])
{
    const unsigned char *at = der;
    ECDSA_SIG *pair = d2i_ECDSA_SIG(NULL, &at, (long)length);
    const bool good = pair != NULL && BN_bn2binpad(ECDSA_SIG_get0_r(pair), raw, PART_SIZE) == PART_SIZE &&
                      BN_bn2binpad(ECDSA_SIG_get0_s(pair), raw + PART_SIZE, PART_SIZE) == PART_SIZE;
    ECDSA_SIG_free(pair);
    return good;
}

static bool
der_from_raw(const unsigned char *raw, unsigned char der[DER_SIZE], size_t *length)
{
    ECDSA_SIG *pair = ECDSA_SIG_new();
    BIGNUM *r = BN_bin2bn(raw, PART_SIZE, NULL), *s = BN_bin2bn(raw + PART_SIZE, PART_SIZE, NULL);
    unsigned char *at = der;
    int size = -1;
    if (pair == NULL || r == NULL || s == NULL || ECDSA_SIG_set0(pair, r, s) != 1) {
        BN_free(r);
        BN_free(s);
    } else if ((size = i2d_ECDSA_SIG(pair, NULL)) > 0 && size <= DER_SIZE) {
        size = i2d_ECDSA_SIG(pair, &at);
    }
    ECDSA_SIG_free(pair);
    *length = size > 0 ? (size_t)size : 0;
    return size > 0 && size <= DER_SIZE;
}

static bool
begin_signing(const struct key *key, EVP_MD_CTX *context)
{
    const EVP_MD *hash = key->kind == KEY_ED25519 ? NULL : EVP_sha256();
    EVP_PKEY_CTX *signing = NULL;
    if (EVP_DigestSignInit(context, &signing, hash, NULL, key->pkey) != 1) {
        return false;
    }
    if (key->kind == KEY_P256 && key_is_deterministic(key)) {
        unsigned deterministic = 1;
        const OSSL_PARAM parameters[] = {OSSL_PARAM_construct_uint(nonce_type, &deterministic),
                                         OSSL_PARAM_construct_end()};
        return EVP_PKEY_CTX_set_params(signing, parameters) == 1;
    }
    return true;
}

bool
key_sign(const struct key *key, const void *bytes, size_t length, unsigned char signature[KEY_SIGNATURE_SIZE])
{
    unsigned char made[DER_SIZE];
    size_t size = sizeof made;
    EVP_MD_CTX *context = EVP_MD_CTX_new();
    bool good = context != NULL && key->can_sign && begin_signing(key, context) &&
                EVP_DigestSign(context, made, &size, bytes, length) == 1;
    if (good && key->kind == KEY_ED25519) {
        good = size == KEY_SIGNATURE_SIZE;
        memcpy(signature, made, KEY_SIGNATURE_SIZE);
    } else if (good) {
        good = raw_from_der(made, size, signature);
    }
    EVP_MD_CTX_free(context);
    ERR_clear_error();
    return good;
}

bool
key_check(const struct key *key, const void *bytes, size_t length, const unsigned char *signature, size_t size)
{
    const bool edwards = key->kind == KEY_ED25519;
    unsigned char der[DER_SIZE];
    size_t der_size = 0;
    if (size != KEY_SIGNATURE_SIZE || (!edwards && !der_from_raw(signature, der, &der_size))) {
        return false;
    }
    EVP_MD_CTX *context = EVP_MD_CTX_new();
    const bool good =
        context != NULL && EVP_DigestVerifyInit(context, NULL, edwards ? NULL : EVP_sha256(), NULL, key->pkey) == 1 &&
        EVP_DigestVerify(context, edwards ? signature : der, edwards ? size : der_size, bytes, length) == 1;
    EVP_MD_CTX_free(context);
    ERR_clear_error();
    return good;
}

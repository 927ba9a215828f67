#ifndef SMALLEND_SEAL_JWS_H
#define SMALLEND_SEAL_JWS_H

/*
 * Signed records in the compact form of RFC 7515:
 *
 *     header  {"alg":"EdDSA","kid":"...","typ":"smallend-result+jws","cty":"application/json"}
 *     payload the bytes of the record
 *
 * The algorithm is that of the key which kid names, whatever alg says: a
 * header that says another is refused, none and HS256 with it. Keys in the
 * header (jwk, jku, x5c) are not looked at.
 */

#include "seal/keyring.h"

#define JWS_TYPE "smallend-result+jws"

/* Append the JWS. False: OpenSSL could not sign. (Want of memory shows in
 * out->failed.) */
bool jws_sign(const struct key *key, const char *payload, size_t length, struct buffer *out)
    __attribute__((warn_unused_result));

enum jws_verdict {
    JWS_GOOD,
    JWS_BAD,         /* no signature of the key it names, or not one that counts on a record */
    JWS_UNKNOWN_KEY, /* it names no key of ours */
    JWS_MALFORMED,   /* it is no compact JWS at all */
    JWS_NO_MEMORY
};

struct jws_reading {
    enum jws_verdict verdict;
    const char *detail;    /* one sentence, constant */
    char key_id[65];       /* as the header has it; "" = it has none, or a longer one */
    char *payload;         /* owned, NUL-terminated; only where the signature is good */
    size_t payload_length;
};

/*
 * Read and check `length` bytes; blanks and line ends round them are passed
 * over. The caller clears the reading.
 */
void jws_read(const struct keyring *ring, const char *text, size_t length, struct jws_reading *reading);
void jws_reading_clear(struct jws_reading *reading);

#endif

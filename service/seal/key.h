#ifndef SMALLEND_SEAL_KEY_H
#define SMALLEND_SEAL_KEY_H

/*
 * A key that signs or checks records: Ed25519 (RFC 8037), or ECDSA on P-256
 * with SHA-256 (RFC 7518 section 3.4). What a key may be used with is told by
 * the key, never by what a signature says of itself.
 */

#include <stdbool.h>
#include <stddef.h>

#include <openssl/types.h>

#include "wire/buffer.h"

enum key_kind { KEY_ED25519, KEY_P256 };

enum {
    KEY_ID_SIZE = 44,      /* RFC 7638 thumbprint: 43 characters of base64url */
    KEY_SIGNATURE_SIZE = 64, /* of either kind, as JWS has it */
    KEY_FAULT_SIZE = 320
};

struct key {
    EVP_PKEY *pkey; /* owned; NULL = none */
    enum key_kind kind;
    bool can_sign;
    bool world_readable; /* its file may be read, or written, by everybody */
    char id[KEY_ID_SIZE];
};

/*
 * Read the first key of a PEM file: a private one that is not encrypted, or a
 * public one. False, and a sentence in `fault` that names the file: it cannot be
 * read, holds no such key, or one of another kind. The caller clears the key.
 */
bool key_read_private(struct key *key, const char *path, char fault[KEY_FAULT_SIZE])
    __attribute__((warn_unused_result));
bool key_read_public(struct key *key, const char *path, char fault[KEY_FAULT_SIZE]) __attribute__((warn_unused_result));

/* For whoever reads PEM (OpenSSL's pem_password_cb): no file of ours has a
 * passphrase, and without this OpenSSL would ask for one at the terminal. */
int key_no_passphrase(char *buffer, int size, int writing, void *context);

void key_clear(struct key *key);

/* "EdDSA" or "ES256", as in the header of a JWS. */
const char *key_algorithm(const struct key *key);

/* Sign. False: OpenSSL could not. */
bool key_sign(const struct key *key, const void *bytes, size_t length, unsigned char signature[KEY_SIGNATURE_SIZE])
    __attribute__((warn_unused_result));

/*
 * Is the signature of this key on these bytes the same every time? Always with
 * Ed25519; with P-256 only where OpenSSL (3.2 on) makes its nonces as RFC 6979
 * says.
 */
bool key_is_deterministic(const struct key *key);

/* Is `size` bytes of `signature` this key's on these bytes? */
bool key_check(const struct key *key, const void *bytes, size_t length, const unsigned char *signature, size_t size)
    __attribute__((warn_unused_result));

/* Append the public key as a JWK (RFC 7517): kty, crv, x, y; kid and use. */
bool key_write_jwk(const struct key *key, struct buffer *out) __attribute__((warn_unused_result));

#endif

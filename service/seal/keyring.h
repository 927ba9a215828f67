#ifndef SMALLEND_SEAL_KEYRING_H
#define SMALLEND_SEAL_KEYRING_H

/*
 * The keys in force: private ones, of which the first signs, and retired
 * public ones. All of them check. It does not change once it is filled.
 */

#include "seal/key.h"

enum { KEYRING_MAX = 32 };

struct keyring {
    size_t count;
    size_t signing; /* so many of them, the first ones, are private */
    struct key key[KEYRING_MAX];
};

/*
 * Fill from two lists of PEM files, separated by commas, either of which may be
 * empty. A key that is there already is passed over. False, and a sentence in
 * `fault`, if one cannot be used; the ring is then empty. The caller clears it.
 */
bool keyring_read(struct keyring *ring, const char *signing_files, const char *verify_files,
                  char fault[KEY_FAULT_SIZE]) __attribute__((warn_unused_result));

void keyring_clear(struct keyring *ring);

/* The key that signs; NULL if there is none. */
const struct key *keyring_signer(const struct keyring *ring);

/* The key of this id; NULL if there is none. */
const struct key *keyring_find(const struct keyring *ring, const char *id);

/* The JWK set of them all (RFC 7517 section 5), public parts alone. */
bool keyring_write(const struct keyring *ring, struct buffer *out) __attribute__((warn_unused_result));

#endif

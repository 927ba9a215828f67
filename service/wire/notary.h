#ifndef SMALLEND_WIRE_NOTARY_H
#define SMALLEND_WIRE_NOTARY_H

/*
 * Who hashes and signs a release record for this layer, which has no
 * cryptography of its own.
 */

#include <stdbool.h>
#include <stddef.h>

#include "joint/order.h"
#include "wire/buffer.h"

struct notary {
    const void *context;
    /* SHA-256 in lower-case hexadecimal. False: it could not be worked out. */
    bool (*digest)(const char *bytes, size_t length, char id[ORDER_ID_SIZE]);
    /* Append the compact JWS of the payload. False: it could not be made. NULL =
     * there is no key to sign with. */
    bool (*sign)(const void *context, const char *payload, size_t length, struct buffer *jws);
    const char *key_id; /* of that key; NULL = none */
};

/* Why a signed record cannot be had where there is no key, one sentence. */
#define NOTARY_NO_KEY                                                                                                  \
    "This service has no signing key, so that it gives no signed records: ask for JSON, Markdown or text, or have a key " \
    "set (SMALLEND_SIGNING_KEYS)."

#endif

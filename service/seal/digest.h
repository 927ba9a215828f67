#ifndef SMALLEND_SEAL_DIGEST_H
#define SMALLEND_SEAL_DIGEST_H

/* SHA-256 (FIPS 180-4), by OpenSSL. */

#include <stdbool.h>
#include <stddef.h>

#include "joint/order.h"

enum { DIGEST_SIZE = 32 };

/* False: OpenSSL could not, and the result is not to be used. */
bool digest_sha256(const void *bytes, size_t length, unsigned char digest[DIGEST_SIZE])
    __attribute__((warn_unused_result));

/* The same in lower-case hexadecimal: an id of a record or a part. */
bool digest_id(const char *bytes, size_t length, char id[ORDER_ID_SIZE]) __attribute__((warn_unused_result));

#endif

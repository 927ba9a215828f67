#include "seal/digest.h"

#include <openssl/evp.h>

bool
digest_sha256(const void *bytes, size_t length, unsigned char digest[DIGEST_SIZE])
{
    unsigned size = 0;
    return EVP_Digest(bytes, length, digest, &size, EVP_sha256(), NULL) == 1 && size == DIGEST_SIZE;
}

bool
digest_id(const char *bytes, size_t length, char id[ORDER_ID_SIZE])
{
    static const char hex[] = "0123456789abcdef";
    unsigned char digest[DIGEST_SIZE];
    if (!digest_sha256(bytes, length, digest)) {
        return false;
    }
    for (size_t i = 0; i < DIGEST_SIZE; i++) {
        id[2 * i] = hex[digest[i] >> 4];
        id[2 * i + 1] = hex[digest[i] & 15u];
    }
    id[ORDER_ID_LENGTH] = '\0';
    return true;
}

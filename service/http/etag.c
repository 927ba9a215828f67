#include "http/etag.h"

#include <stdint.h>
#include <string.h>

#include <openssl/evp.h>
#include <openssl/sha.h>

/* Half the hash, 128 bits, is written: 32 digits between quotes. */
enum { TAG_BYTES = 16 };

void
etag_of(const char *body, size_t length, char etag[ETAG_SIZE])
{
    static const char digits[] = "0123456789abcdef";
    unsigned char hash[SHA256_DIGEST_LENGTH];
    etag[0] = '\0';
    if (EVP_Digest(body, length, hash, NULL, EVP_sha256(), NULL) != 1) {
        return; /* no tag is a valid answer */
    }
    size_t at = 0;
    etag[at++] = '"';
    for (size_t i = 0; i < TAG_BYTES; ++i) {
        etag[at++] = digits[hash[i] >> 4];
        etag[at++] = digits[hash[i] & 15];
    }
    etag[at++] = '"';
    etag[at] = '\0';
}

bool
etag_is_named(const char *header, const char *etag)
{
    if (header == NULL || etag[0] == '\0') {
        return false;
    }
    for (const char *at = header; *at != '\0';) {
        at += strspn(at, " \t,");
        if (*at == '*') {
            return true;
        }
        /* A weak tag of ours, made by a proxy that packs, means the same here. */
        if (at[0] == 'W' && at[1] == '/') {
            at += 2;
        }
        const size_t length = strcspn(at, ", \t");
        if (length == strlen(etag) && memcmp(at, etag, length) == 0) {
            return true;
        }
        at += length;
    }
    return false;
}

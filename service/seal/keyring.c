#include "seal/keyring.h"

#include <string.h>

#include "base/text.h"

enum { PATH_SIZE = 4096 }; /* PATH_MAX of Linux */

static bool
complain(char fault[KEY_FAULT_SIZE], const char *what)
{
    struct text text;
    text_init(&text, fault, KEY_FAULT_SIZE);
    text_add(&text, what);
    return false;
}

/* Take one file's key into the ring. */
static bool
take_file(struct keyring *ring, const char *path, bool private_key, char fault[KEY_FAULT_SIZE])
{
    struct key key;
    if (private_key ? !key_read_private(&key, path, fault) : !key_read_public(&key, path, fault)) {
        return false;
    }
    if (keyring_find(ring, key.id) != NULL) {
        key_clear(&key);
        return true;
    }
    if (ring->count == KEYRING_MAX) {
        key_clear(&key);
        return complain(fault, "there are more than 32 keys");
    }
    ring->key[ring->count++] = key;
    ring->signing += private_key;
    return true;
}

static bool
take_list(struct keyring *ring, const char *files, bool private_keys, char fault[KEY_FAULT_SIZE])
{
    for (const char *at = files; *at != '\0';) {
        char path[PATH_SIZE];
        struct text text;
        const size_t length = strcspn(at, ",");
        text_init(&text, path, sizeof path);
        text_add_bytes(&text, at, length);
        if (text.cut) {
            return complain(fault, "the name of a key file is too long");
        }
        if (!take_file(ring, path, private_keys, fault)) {
            return false;
        }
        at += length + (at[length] == ',');
    }
    return true;
}

bool
keyring_read(struct keyring *ring, const char *signing_files, const char *verify_files, char fault[KEY_FAULT_SIZE])
{
    memset(ring, 0, sizeof *ring);
    if (take_list(ring, signing_files, true, fault) && take_list(ring, verify_files, false, fault)) {
        return true;
    }
    keyring_clear(ring);
    return false;
}

void
keyring_clear(struct keyring *ring)
{
    for (size_t i = 0; i < ring->count; i++) {
        key_clear(&ring->key[i]);
    }
    ring->count = ring->signing = 0;
}

const struct key *
keyring_signer(const struct keyring *ring)
{
    return ring->signing > 0 ? &ring->key[0] : NULL;
}

const struct key *
keyring_find(const struct keyring *ring, const char *id)
{
    for (size_t i = 0; i < ring->count; i++) {
        if (strcmp(ring->key[i].id, id) == 0) {
            return &ring->key[i];
        }
    }
    return NULL;
}

bool
keyring_write(const struct keyring *ring, struct buffer *out)
{
    bool good = true;
    buffer_add(out, "{\"keys\":[");
    for (size_t i = 0; i < ring->count; i++) {
        buffer_add(out, i > 0 ? "," : "");
        good = key_write_jwk(&ring->key[i], out) && good;
    }
    buffer_add(out, "]}\n");
    return good;
}

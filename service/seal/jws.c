#include "seal/jws.h"

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "base/base64url.h"
#include "base/text.h"
#include "wire/json_text.h"

enum { HEADER_TEXT_MAX = 2732 }; /* characters, of 2,048 bytes; ours has some 180 */

/* Append bytes in base64url. */
static void
add_encoded(struct buffer *out, const void *bytes, size_t length)
{
    char *text = malloc(base64url_length(length) + 1);
    if (text == NULL) {
        out->failed = true;
        return;
    }
    base64url_write(text, bytes, length);
    buffer_add_bytes(out, text, base64url_length(length));
    free(text);
}

bool
jws_sign(const struct key *key, const char *payload, size_t length, struct buffer *out)
{
    struct buffer header;
    unsigned char signature[KEY_SIGNATURE_SIZE];
    const size_t start = out->length;
    buffer_init(&header);
    buffer_format(&header, "{\"alg\":\"%s\",\"kid\":\"%s\",\"typ\":\"" JWS_TYPE "\",\"cty\":\"application/json\"}",
                  key_algorithm(key), key->id);
    add_encoded(out, header.at, header.length);
    buffer_add(out, ".");
    add_encoded(out, payload, length);
    out->failed = out->failed || header.failed;
    buffer_clear(&header);
    if (out->failed) {
        return true;
    }
    if (!key_sign(key, out->at + start, out->length - start, signature)) {
        return false;
    }
    buffer_add(out, ".");
    add_encoded(out, signature, sizeof signature);
    return true;
}

/* ---- reading ---- */

/* A part of the text. */
struct piece {
    const char *at;
    size_t length;
};

/* The three parts; false if there are not three. */
static bool
split(const char *text, size_t length, struct piece part[3])
{
    size_t count = 0, start = 0;
    for (size_t i = 0; i <= length; i++) {
        if (i < length && text[i] != '.') {
            continue;
        }
        if (count == 3) {
            return false;
        }
        part[count++] = (struct piece){text + start, i - start};
        start = i + 1;
    }
    return count == 3;
}

/* Bytes of a part, owned, with a NUL behind them; NULL where it is no base64url
 * (padding is none: RFC 7515 section 2) or where there is no memory. */
static unsigned char *
decode(const struct piece *piece, size_t *count, bool *no_memory)
{
    unsigned char *bytes = malloc(piece->length / 4 * 3 + 4);
    *no_memory = bytes == NULL;
    if (bytes == NULL) {
        return NULL;
    }
    if ((piece->length > 0 && piece->at[piece->length - 1] == '=') ||
        !base64url_read(piece->at, piece->length, bytes, count)) {
        free(bytes);
        return NULL;
    }
    bytes[*count] = '\0';
    return bytes;
}

static bool
is(enum jws_verdict verdict, const char *detail, struct jws_reading *reading)
{
    reading->verdict = verdict;
    reading->detail = detail;
    return false;
}

/* The header as an object, a new reference; NULL and *reading set otherwise. */
static json_t *
read_header(const struct piece *piece, struct jws_reading *reading)
{
    size_t length = 0;
    bool no_memory = false;
    struct json_text_fault fault;
    unsigned char *bytes = piece->length <= HEADER_TEXT_MAX ? decode(piece, &length, &no_memory) : NULL;
    if (bytes == NULL) {
        is(no_memory ? JWS_NO_MEMORY : JWS_MALFORMED, "Its header is no base64url of a fitting length.", reading);
        return NULL;
    }
    json_t *header = json_text_read((const char *)bytes, length, &fault);
    free(bytes);
    if (!json_is_object(header)) {
        json_decref(header);
        is(JWS_MALFORMED, "Its header is no JSON object, or has a member twice.", reading);
        return NULL;
    }
    return header;
}

/* A member of the header: NULL where it is absent; *good false where it is no
 * text. */
static const char *
header_text(const json_t *header, const char *name, bool *good)
{
    const json_t *value = json_object_get(header, name);
    *good = *good && (value == NULL || json_is_string(value));
    return json_string_value(value);
}

/* Find the key that the header names, and hold the header against it. NULL and
 * *reading set where it does not do. */
static const struct key *
accept_header(const struct keyring *ring, const json_t *header, struct jws_reading *reading)
{
    bool good = true;
    const char *algorithm = header_text(header, "alg", &good);
    const char *type = header_text(header, "typ", &good);
    const char *id = header_text(header, "kid", &good);
    if (!good || algorithm == NULL) {
        is(JWS_MALFORMED, "Its header has no alg, or an alg, typ or kid that is no text.", reading);
        return NULL;
    }
    if (id != NULL && strlen(id) < sizeof reading->key_id) {
        text_copy(reading->key_id, sizeof reading->key_id, id);
    }
    if (json_object_get(header, "crit") != NULL) {
        is(JWS_BAD,
           "Its header says crit: it must not be taken without knowing what that names, and nothing is known here.",
           reading);
        return NULL;
    }
    if (strcmp(algorithm, "none") == 0) {
        is(JWS_BAD, "It is not signed: its header says alg none.", reading);
        return NULL;
    }
    if (type == NULL || strcmp(type, JWS_TYPE) != 0) {
        is(JWS_BAD, "It is no release record: its header does not say typ " JWS_TYPE ".", reading);
        return NULL;
    }
    const struct key *key = id != NULL ? keyring_find(ring, id) : NULL;
    if (key == NULL) {
        is(JWS_UNKNOWN_KEY,
           "It names no key of this service: it comes from elsewhere, or its key is no longer kept here.", reading);
        return NULL;
    }
    if (strcmp(algorithm, key_algorithm(key)) != 0) {
        is(JWS_BAD, "Its header says another algorithm than the one of the key it names.", reading);
        return NULL;
    }
    return key;
}

/* Is the last part a signature of the key on what stands before it? */
static bool
check_signature(const struct key *key, const struct piece part[3], struct jws_reading *reading)
{
    size_t size = 0;
    bool no_memory = false;
    unsigned char *signature = decode(&part[2], &size, &no_memory);
    if (signature == NULL) {
        return is(no_memory ? JWS_NO_MEMORY : JWS_MALFORMED, "Its signature is no base64url.", reading);
    }
    const size_t signed_length = (size_t)(part[1].at - part[0].at) + part[1].length;
    const bool good = key_check(key, part[0].at, signed_length, signature, size);
    free(signature);
    return good || is(JWS_BAD, "The signature does not fit: record or signature was altered.", reading);
}

static void
read_parts(const struct keyring *ring, const struct piece part[3], struct jws_reading *reading)
{
    json_t *header = read_header(&part[0], reading);
    if (header == NULL) {
        return;
    }
    size_t length = 0;
    bool no_memory = false;
    unsigned char *payload = decode(&part[1], &length, &no_memory);
    const struct key *key = accept_header(ring, header, reading);
    json_decref(header);
    if (payload == NULL) {
        is(no_memory ? JWS_NO_MEMORY : JWS_MALFORMED, "Its payload is no base64url.", reading);
    } else if (key != NULL && check_signature(key, part, reading)) {
        is(JWS_GOOD, "It is a record of this service, and unaltered.", reading);
        reading->payload = (char *)payload;
        reading->payload_length = length;
        payload = NULL;
    }
    free(payload);
}

static bool
is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

void
jws_read(const struct keyring *ring, const char *text, size_t length, struct jws_reading *reading)
{
    struct piece part[3];
    memset(reading, 0, sizeof *reading);
    while (length > 0 && is_blank(text[length - 1])) {
        length--;
    }
    while (length > 0 && is_blank(*text)) {
        text++;
        length--;
    }
    if (!split(text, length, part)) {
        is(JWS_MALFORMED, "It is no compact JWS: three parts with a point between them.", reading);
        return;
    }
    read_parts(ring, part, reading);
}

void
jws_reading_clear(struct jws_reading *reading)
{
    free(reading->payload);
    memset(reading, 0, sizeof *reading);
}

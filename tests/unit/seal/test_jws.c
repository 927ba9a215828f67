/* What counts as a signed record of ours, and what is only dressed as one. */

#include "seal/jws.h"

#include "keys.h"

#include <openssl/evp.h>
#include <openssl/hmac.h>

struct bench {
    struct folder folder;
    struct keyring ring; /* Ed25519 first, P-256 second: both private */
    char edwards[PATH_BYTES], p256[PATH_BYTES];
};

static int
set_up(void **state)
{
    static struct bench bench;
    char list[2 * PATH_BYTES + 1], fault[KEY_FAULT_SIZE] = "";
    folder_make(&bench.folder);
    write_private(&bench.folder, 'a', rfc8037_key(), bench.edwards);
    write_private(&bench.folder, 'b', rfc7515_key(), bench.p256);
    snprintf(list, sizeof list, "%s,%s", bench.edwards, bench.p256);
    if (!keyring_read(&bench.ring, list, "", fault)) {
        fail_msg("%s", fault);
    }
    *state = &bench;
    return 0;
}

static int
tear_down(void **state)
{
    struct bench *bench = *state;
    keyring_clear(&bench->ring);
    folder_remove(&bench->folder);
    return 0;
}

#define PAYLOAD "{\"a\":1}"

/* A JWS of this header and payload with this last part. */
static char *
assemble(const char *header, const char *payload, const unsigned char *signature, size_t size)
{
    char *text = malloc(8192);
    assert_non_null(text);
    size_t at = 0;
    base64url_write(text, (const unsigned char *)header, strlen(header));
    at += base64url_length(strlen(header));
    text[at++] = '.';
    base64url_write(text + at, (const unsigned char *)payload, strlen(payload));
    at += base64url_length(strlen(payload));
    text[at++] = '.';
    base64url_write(text + at, signature, size);
    return text;
}

/* The same, signed by the key whatever the header says. */
static char *
sign(const struct key *key, const char *header, const char *payload)
{
    unsigned char signature[KEY_SIGNATURE_SIZE];
    char *text = assemble(header, payload, NULL, 0);
    assert_true(key_sign(key, text, strlen(text) - 1, signature)); /* without the last point */
    free(text);
    return assemble(header, payload, signature, sizeof signature);
}

static void
assert_verdict(const struct keyring *ring, const char *text, enum jws_verdict wanted)
{
    struct jws_reading reading;
    jws_read(ring, text, strlen(text), &reading);
    if (reading.verdict != wanted) {
        fail_msg("%s: verdict %d (%s), wanted %d", text, (int)reading.verdict, reading.detail, (int)wanted);
    }
    assert_true(reading.detail != NULL && reading.detail[0] != '\0');
    assert_int_equal(reading.payload != NULL, wanted == JWS_GOOD);
    jws_reading_clear(&reading);
}

static void
assert_signed(const struct keyring *ring, const struct key *key, const char *header, enum jws_verdict wanted)
{
    char *text = sign(key, header, PAYLOAD);
    assert_verdict(ring, text, wanted);
    free(text);
}

static void
reads_back_what_it_signs(void **state)
{
    struct bench *bench = *state;
    for (size_t i = 0; i < bench->ring.count; i++) {
        struct buffer text;
        struct jws_reading reading;
        buffer_init(&text);
        buffer_add(&text, "before"); /* what stands there already is none of its business */
        assert_true(jws_sign(&bench->ring.key[i], PAYLOAD, strlen(PAYLOAD), &text));
        jws_read(&bench->ring, text.at + 6, text.length - 6, &reading);
        assert_int_equal(reading.verdict, JWS_GOOD);
        assert_string_equal(reading.payload, PAYLOAD);
        assert_int_equal(reading.payload_length, strlen(PAYLOAD));
        assert_string_equal(reading.key_id, bench->ring.key[i].id);
        jws_reading_clear(&reading);
        buffer_clear(&text);
    }
}

/* Ed25519 signatures have no chance in them: the same record, the same bytes. */
static void
signs_the_same_way_each_time(void **state)
{
    struct bench *bench = *state;
    struct buffer first, second;
    buffer_init(&first);
    buffer_init(&second);
    assert_true(jws_sign(&bench->ring.key[0], PAYLOAD, strlen(PAYLOAD), &first));
    assert_true(jws_sign(&bench->ring.key[0], PAYLOAD, strlen(PAYLOAD), &second));
    assert_string_equal(first.at, second.at);
    buffer_clear(&first);
    buffer_clear(&second);
}

#define HEADER(alg, kid) "{\"alg\":\"" alg "\",\"kid\":\"" kid "\",\"typ\":\"" JWS_TYPE "\"}"

/* Any one character changed, and it is no longer good. */
static void
refuses_every_altered_character(void **state)
{
    struct bench *bench = *state;
    char *text = sign(&bench->ring.key[0], HEADER("EdDSA", RFC8037_THUMBPRINT), PAYLOAD);
    assert_verdict(&bench->ring, text, JWS_GOOD);
    for (size_t i = 0; i < strlen(text); i++) {
        const char kept = text[i];
        struct jws_reading reading;
        text[i] = kept == 'A' ? 'B' : 'A';
        jws_read(&bench->ring, text, strlen(text), &reading);
        if (reading.verdict == JWS_GOOD) {
            fail_msg("character %zu can be %c as well", i, text[i]);
        }
        jws_reading_clear(&reading);
        text[i] = kept;
    }
    free(text);
}

/* RFC 8725 section 2.1: none, another algorithm, the public key as secret. */
static void
takes_the_algorithm_from_the_key(void **state)
{
    struct bench *bench = *state;
    const struct key *edwards = &bench->ring.key[0], *p256 = &bench->ring.key[1];
    char header[256];
    char *text = assemble(HEADER("none", RFC8037_THUMBPRINT), PAYLOAD, NULL, 0);
    assert_verdict(&bench->ring, text, JWS_BAD);
    free(text);
    text = assemble("{\"alg\":\"none\"}", PAYLOAD, NULL, 0);
    assert_verdict(&bench->ring, text, JWS_BAD);
    free(text);
    assert_signed(&bench->ring, edwards, HEADER("ES256", RFC8037_THUMBPRINT), JWS_BAD);
    assert_signed(&bench->ring, edwards, HEADER("Ed25519", RFC8037_THUMBPRINT), JWS_BAD);
    assert_signed(&bench->ring, edwards, HEADER("eddsa", RFC8037_THUMBPRINT), JWS_BAD);
    assert_signed(&bench->ring, p256, HEADER("EdDSA", RFC8037_THUMBPRINT), JWS_BAD);
    snprintf(header, sizeof header, "{\"alg\":\"EdDSA\",\"kid\":\"%s\",\"typ\":\"" JWS_TYPE "\"}", p256->id);
    assert_signed(&bench->ring, edwards, header, JWS_BAD);
    assert_signed(&bench->ring, p256, header, JWS_BAD);
    snprintf(header, sizeof header, "{\"alg\":\"ES256\",\"kid\":\"%s\",\"typ\":\"" JWS_TYPE "\"}", p256->id);
    assert_signed(&bench->ring, p256, header, JWS_GOOD);
}

static void
refuses_the_public_key_as_a_secret(void **state)
{
    struct bench *bench = *state;
    unsigned char public_key[32], mac[EVP_MAX_MD_SIZE];
    unsigned size = 0;
    read_part(RFC8037_X, public_key);
    static const char header[] = HEADER("HS256", RFC8037_THUMBPRINT);
    char *input = assemble(header, PAYLOAD, NULL, 0);
    assert_non_null(HMAC(EVP_sha256(), public_key, sizeof public_key, (const unsigned char *)input, strlen(input) - 1, mac,
                         &size));
    free(input);
    char *text = assemble(header, PAYLOAD, mac, size);
    assert_verdict(&bench->ring, text, JWS_BAD);
    free(text);
}

static void
heeds_the_header(void **state)
{
    struct bench *bench = *state;
    const struct key *key = &bench->ring.key[0];
    const struct keyring *ring = &bench->ring;
    /* RFC 7515 section 4.1.11: what crit names must be understood. */
    assert_signed(ring, key,
                  "{\"alg\":\"EdDSA\",\"kid\":\"" RFC8037_THUMBPRINT "\",\"typ\":\"" JWS_TYPE "\",\"crit\":[\"exp\"],\"exp\":1}",
                  JWS_BAD);
    assert_signed(ring, key, "{\"alg\":\"EdDSA\",\"kid\":\"" RFC8037_THUMBPRINT "\",\"typ\":\"JWT\"}", JWS_BAD);
    assert_signed(ring, key, "{\"alg\":\"EdDSA\",\"kid\":\"" RFC8037_THUMBPRINT "\"}", JWS_BAD);
    assert_signed(ring, key, "{\"alg\":\"EdDSA\",\"typ\":\"" JWS_TYPE "\"}", JWS_UNKNOWN_KEY);
    assert_signed(ring, key, HEADER("EdDSA", "nobody"), JWS_UNKNOWN_KEY);
    assert_signed(ring, key, "{\"kid\":\"" RFC8037_THUMBPRINT "\",\"typ\":\"" JWS_TYPE "\"}", JWS_MALFORMED);
    assert_signed(ring, key, "{\"alg\":7,\"kid\":\"" RFC8037_THUMBPRINT "\",\"typ\":\"" JWS_TYPE "\"}", JWS_MALFORMED);
    assert_signed(ring, key, "{\"alg\":\"EdDSA\",\"alg\":\"none\",\"kid\":\"" RFC8037_THUMBPRINT "\",\"typ\":\"" JWS_TYPE "\"}",
                  JWS_MALFORMED); /* RFC 7515 section 4: no member twice */
    assert_signed(ring, key, "[\"alg\"]", JWS_MALFORMED);
    assert_signed(ring, key, "alg", JWS_MALFORMED);
    /* A key that the header brings along is not looked at. */
    assert_signed(ring, key,
                  "{\"alg\":\"EdDSA\",\"kid\":\"x\",\"typ\":\"" JWS_TYPE "\",\"jwk\":{\"kty\":\"OKP\",\"crv\":\"Ed25519\",\"x\":\"" RFC8037_X
                  "\"}}",
                  JWS_UNKNOWN_KEY);
}

static void
refuses_what_is_no_compact_jws(void **state)
{
    static const char *const texts[] = {
        "",      ".",     "..",        "...",      "a.b",        "a.b.c.d", "a.b.c", "{\"payload\":\"\"}",
        "eyJhbGciOiJFZERTQSJ9.e30=.AA", "eyJhbGciOiJFZERTQSJ9 .e30.AA", "eyJhbGciOiJFZERTQSJ9.e3+0.AA",
        "eyJhbGciOiJFZERTQSJ9.e30.A",
    };
    struct bench *bench = *state;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        struct jws_reading reading;
        jws_read(&bench->ring, texts[i], strlen(texts[i]), &reading);
        if (reading.verdict == JWS_GOOD || reading.payload != NULL) {
            fail_msg("\"%s\" is taken", texts[i]);
        }
        jws_reading_clear(&reading);
    }
    assert_verdict(&bench->ring, "a.b", JWS_MALFORMED);
    assert_verdict(&bench->ring, "eyJhbGciOiJFZERTQSJ9.e30=.AA", JWS_MALFORMED);
    /* A header beyond all measure. */
    char *text = calloc(1, 20000);
    assert_non_null(text);
    memset(text, 'A', 16000);
    memcpy(text + 16000, ".e30.AA", 7);
    assert_verdict(&bench->ring, text, JWS_MALFORMED);
    free(text);
}

/* As a file keeps it: with a line end, and blanks round it. */
static void
passes_over_blanks_round_it(void **state)
{
    struct bench *bench = *state;
    char *text = sign(&bench->ring.key[0], HEADER("EdDSA", RFC8037_THUMBPRINT), PAYLOAD);
    char padded[1024];
    snprintf(padded, sizeof padded, "\r\n %s\n", text);
    assert_verdict(&bench->ring, padded, JWS_GOOD);
    snprintf(padded, sizeof padded, "%.20s\n%s", text, text + 20);
    assert_verdict(&bench->ring, padded, JWS_MALFORMED);
    free(text);
}

/* ---- rotation ---- */

static void
a_retired_key_still_checks(void **state)
{
    struct bench *bench = *state;
    struct keyring later;
    char retired[PATH_BYTES], fault[KEY_FAULT_SIZE] = "";
    char *text = sign(&bench->ring.key[0], HEADER("EdDSA", RFC8037_THUMBPRINT), PAYLOAD);
    write_public(&bench->folder, 'c', rfc8037_key(), retired);
    assert_true(keyring_read(&later, bench->p256, retired, fault));
    assert_int_equal(later.count, 2);
    assert_int_equal(keyring_signer(&later)->kind, KEY_P256);
    assert_verdict(&later, text, JWS_GOOD);
    keyring_clear(&later);
    assert_true(keyring_read(&later, bench->p256, "", fault));
    assert_verdict(&later, text, JWS_UNKNOWN_KEY);
    keyring_clear(&later);
    free(text);
}

static void
the_first_key_signs_and_all_are_published_once(void **state)
{
    struct bench *bench = *state;
    struct keyring ring;
    struct buffer set;
    char list[2 * PATH_BYTES + 1], retired[PATH_BYTES], fault[KEY_FAULT_SIZE] = "";
    snprintf(list, sizeof list, "%s,%s", bench->p256, bench->edwards);
    write_public(&bench->folder, 'c', rfc8037_key(), retired); /* one that signs as well */
    assert_true(keyring_read(&ring, list, retired, fault));
    assert_int_equal(ring.count, 2);
    assert_int_equal(keyring_signer(&ring)->kind, KEY_P256);
    buffer_init(&set);
    assert_true(keyring_write(&ring, &set));
    assert_non_null(strstr(set.at, RFC7515_X));
    assert_non_null(strstr(set.at, RFC8037_X));
    assert_null(strstr(set.at, "\"d\":"));
    buffer_clear(&set);
    keyring_clear(&ring);
    assert_true(keyring_read(&ring, "", "", fault));
    assert_null(keyring_signer(&ring));
    assert_true(keyring_write(&ring, &set));
    assert_string_equal(set.at, "{\"keys\":[]}\n");
    buffer_clear(&set);
    keyring_clear(&ring);
}

static void
one_bad_file_leaves_no_ring(void **state)
{
    struct bench *bench = *state;
    struct keyring ring;
    char list[PATH_BYTES + 32], fault[KEY_FAULT_SIZE] = "";
    snprintf(list, sizeof list, "%s,/nowhere.pem", bench->edwards);
    assert_false(keyring_read(&ring, list, "", fault));
    assert_non_null(strstr(fault, "/nowhere.pem"));
    assert_int_equal(ring.count, 0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(reads_back_what_it_signs, set_up, tear_down),
        cmocka_unit_test_setup_teardown(signs_the_same_way_each_time, set_up, tear_down),
        cmocka_unit_test_setup_teardown(refuses_every_altered_character, set_up, tear_down),
        cmocka_unit_test_setup_teardown(takes_the_algorithm_from_the_key, set_up, tear_down),
        cmocka_unit_test_setup_teardown(refuses_the_public_key_as_a_secret, set_up, tear_down),
        cmocka_unit_test_setup_teardown(heeds_the_header, set_up, tear_down),
        cmocka_unit_test_setup_teardown(refuses_what_is_no_compact_jws, set_up, tear_down),
        cmocka_unit_test_setup_teardown(passes_over_blanks_round_it, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_retired_key_still_checks, set_up, tear_down),
        cmocka_unit_test_setup_teardown(the_first_key_signs_and_all_are_published_once, set_up, tear_down),
        cmocka_unit_test_setup_teardown(one_bad_file_leaves_no_ring, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

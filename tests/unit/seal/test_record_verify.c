/* What the service says of a record that comes back. */

#include "seal/record_verify.h"

#include "keys.h"

#include <jansson.h>

#include "base/version.h"
#include "seal/jws.h"
#include "seal/seal.h"
#include "wire/answer.h"

struct bench {
    struct folder folder;
    struct seal seal;
    struct seal_state *held;
};

static int
set_up(void **state)
{
    static struct bench bench;
    static char path[PATH_BYTES];
    char fault[SEAL_FAULT_SIZE] = "";
    folder_make(&bench.folder);
    write_private(&bench.folder, 'a', rfc8037_key(), path);
    const struct seal_files files = {.signing_keys = path, .verify_keys = "", .tokens = ""};
    assert_true(seal_open(&bench.seal, &files, LOG_MODE_OFF, fault));
    bench.held = seal_hold(&bench.seal);
    *state = &bench;
    return 0;
}

static int
tear_down(void **state)
{
    struct bench *bench = *state;
    seal_let_go(bench->held);
    seal_close(&bench->seal);
    folder_remove(&bench->folder);
    return 0;
}

static json_t *
verify(const struct bench *bench, const char *body, enum record_body form, int status)
{
    struct reply reply;
    record_verify(&bench->held->ring, body, strlen(body), form, "/v1/order/verify", &reply);
    assert_int_equal(reply.status, status);
    json_t *root = json_loadb(reply.body, reply.length, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    reply_clear(&reply);
    assert_true(json_array_size(json_object_get(root, "cautions")) > 0);
    return root;
}

static const char *
text_of(const json_t *root, const char *name)
{
    return json_string_value(json_object_get(root, name));
}

/* A signed record of this job. */
static char *
record_of(const struct bench *bench, const char *job)
{
    struct reply reply;
    const struct notary notary = seal_notary(bench->held);
    const struct answer_request request = {
        .call = CALL_order, .format = ANSWER_JWS, .body = job, .length = strlen(job), .notary = &notary};
    answer_request(&request, &reply, NULL);
    assert_int_equal(reply.status, 200);
    char *jws = strndup(reply.body, reply.length);
    assert_non_null(jws);
    reply_clear(&reply);
    return jws;
}

/* Whatever was signed by our key under the name of a record. */
static char *
signed_payload(const struct bench *bench, const char *payload)
{
    struct buffer jws;
    buffer_init(&jws);
    assert_true(jws_sign(keyring_signer(&bench->held->ring), payload, strlen(payload), &jws));
    return jws.at;
}

static void
knows_a_record_of_its_own(void **state)
{
    const struct bench *bench = *state;
    char *jws = record_of(bench, "{\"label\":\"No. 2\",\"engine\":{\"bore\":\"5 in\"}}");
    json_t *root = verify(bench, jws, RECORD_AS_JWS, 200);
    assert_true(json_is_true(json_object_get(root, "valid")));
    assert_string_equal(text_of(root, "signature"), "good");
    assert_string_equal(text_of(root, "kid"), RFC8037_THUMBPRINT);
    assert_string_equal(text_of(root, "rules_now"), SMALLEND_RULES);
    assert_string_equal(text_of(root, "verdict_now"), "incomplete");
    assert_string_equal(text_of(root, "release_now"), "hold");
    assert_true(json_array_size(json_object_get(root, "reasons_now")) > 0);
    assert_string_equal(text_of(json_object_get(root, "record"), "label"), "No. 2");
    assert_int_equal(strlen(text_of(root, "record_id")), ORDER_ID_LENGTH);
    json_decref(root);

    char *document = malloc(strlen(jws) + 16);
    assert_non_null(document);
    snprintf(document, strlen(jws) + 16, "{\"jws\":\"%s\"}", jws);
    root = verify(bench, document, RECORD_IN_JSON, 200);
    assert_true(json_is_true(json_object_get(root, "valid")));
    json_decref(root);
    free(document);
    free(jws);
}

/* Nobody gets to read, under our name, what we did not sign. */
static void
shows_nothing_that_is_not_signed(void **state)
{
    const struct bench *bench = *state;
    char *jws = record_of(bench, "{}");
    char *dot = strchr(jws, '.');
    assert_non_null(dot);
    dot[2] = dot[2] == 'A' ? 'B' : 'A';
    json_t *root = verify(bench, jws, RECORD_AS_JWS, 200);
    assert_true(json_is_false(json_object_get(root, "valid")));
    assert_string_equal(text_of(root, "signature"), "bad");
    assert_null(json_object_get(root, "record"));
    assert_null(json_object_get(root, "verdict_now"));
    json_decref(root);
    free(jws);
}

static void
a_good_signature_on_no_record_is_not_valid(void **state)
{
    static const char *const payloads[] = {"[]", "{}", "no JSON", "{\"results\":{\"order\":{\"release\":\"release\"}}}",
                                           "{\"results\":{\"order\":{\"release\":1,\"job\":{}}}}",
                                           "{\"results\":{\"order\":7}}"};
    const struct bench *bench = *state;
    for (size_t i = 0; i < sizeof payloads / sizeof payloads[0]; i++) {
        char *jws = signed_payload(bench, payloads[i]);
        json_t *root = verify(bench, jws, RECORD_AS_JWS, 200);
        assert_true(json_is_false(json_object_get(root, "valid")));
        assert_string_equal(text_of(root, "signature"), "good");
        json_decref(root);
        free(jws);
    }
}

/* Signed under older rules, with a verdict that would not be given today, or a
 * job that is no longer read. */
static void
judges_an_old_record_by_the_rules_of_today(void **state)
{
    const struct bench *bench = *state;
    char *jws = signed_payload(bench, "{\"service\":{\"rules\":\"1999-01\"},\"verdict\":\"ok\",\"results\":{\"order\":{"
                                      "\"release\":\"release\",\"job\":{\"engine\":{\"bore\":\"5 in\"}}}}}");
    json_t *root = verify(bench, jws, RECORD_AS_JWS, 200);
    assert_true(json_is_true(json_object_get(root, "valid")));
    assert_string_equal(text_of(json_object_get(root, "record"), "verdict"), "ok");
    assert_string_equal(text_of(root, "verdict_now"), "incomplete");
    assert_string_equal(text_of(root, "release_now"), "hold");
    json_decref(root);
    free(jws);
    jws = signed_payload(bench, "{\"results\":{\"order\":{\"release\":\"hold\",\"job\":{\"engine\":{\"bores\":3}}}}}");
    root = verify(bench, jws, RECORD_AS_JWS, 200);
    assert_true(json_is_true(json_object_get(root, "valid")));
    assert_null(json_object_get(root, "verdict_now"));
    assert_non_null(strstr(text_of(root, "not_judged_now"), "/engine/bores"));
    json_decref(root);
    free(jws);
}

static void
refuses_what_is_no_record_at_all(void **state)
{
    const struct bench *bench = *state;
    static const struct {
        const char *body;
        int status;
        const char *type;
    } rows[] = {
        {"not JSON", 400, "/v1/problems/not-json"},
        {"{\"jws\":\"a.b.c\",\"jws\":\"\"}", 400, "/v1/problems/duplicate-member"},
        {"{}", 422, "/v1/problems/invalid-record"},
        {"[]", 422, "/v1/problems/invalid-record"},
        {"{\"jws\":7}", 422, "/v1/problems/invalid-record"},
        {"{\"jws\":\"a.b\"}", 422, "/v1/problems/invalid-record"},
        {"{\"jws\":\"\",\"key\":\"\"}", 422, "/v1/problems/invalid-record"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        json_t *root = verify(bench, rows[i].body, RECORD_IN_JSON, rows[i].status);
        assert_string_equal(text_of(root, "type"), rows[i].type);
        json_decref(root);
    }
    json_t *root = verify(bench, "neither", RECORD_AS_JWS, 422);
    assert_string_equal(text_of(root, "type"), "/v1/problems/invalid-record");
    json_decref(root);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(knows_a_record_of_its_own, set_up, tear_down),
        cmocka_unit_test_setup_teardown(shows_nothing_that_is_not_signed, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_good_signature_on_no_record_is_not_valid, set_up, tear_down),
        cmocka_unit_test_setup_teardown(judges_an_old_record_by_the_rules_of_today, set_up, tear_down),
        cmocka_unit_test_setup_teardown(refuses_what_is_no_record_at_all, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Content negotiation: RFC 9110 section 12.5.1; ties as accept.h has them. */

#include "http/accept.h"

#include "support/close.h"

static const unsigned all = ACCEPT_BIT(ANSWER_JSON) | ACCEPT_BIT(ANSWER_MD) | ACCEPT_BIT(ANSWER_TXT);

static void
assert_chosen(const char *header, unsigned offered, int wanted)
{
    enum answer_format format = ANSWER_JSON;
    const bool chosen = accept_choose(header, offered, &format);
    const int got = chosen ? (int)format : -1;
    if (got != wanted) {
        fail_msg("Accept: %s gives %d, wanted %d", header != NULL ? header : "(none)", got, wanted);
    }
}

static void
gives_json_to_who_does_not_ask(void **state)
{
    (void)state;
    assert_chosen(NULL, all, ANSWER_JSON);
    assert_chosen("", all, ANSWER_JSON);
    assert_chosen("*/*", all, ANSWER_JSON);
    assert_chosen("application/*", all, ANSWER_JSON);
}

static void
gives_json_to_browsers_that_take_anything(void **state)
{
    (void)state;
    assert_chosen("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", all, ANSWER_JSON);
}

static void
takes_the_type_named(void **state)
{
    (void)state;
    assert_chosen("text/markdown", all, ANSWER_MD);
    assert_chosen("text/plain", all, ANSWER_TXT);
    assert_chosen("TEXT/Plain; charset=utf-8", all, ANSWER_TXT);
    assert_chosen("text/*", all, ANSWER_MD);
}

static void
follows_quality(void **state)
{
    (void)state;
    assert_chosen("application/json;q=0.5, text/markdown;q=0.7", all, ANSWER_MD);
    assert_chosen("application/json;q=0.123 , text/plain ; q=0.124", all, ANSWER_TXT);
    assert_chosen("text/plain;q=1.000, application/json;q=0.999", all, ANSWER_TXT);
}

static void
prefers_the_exact_name_then_the_first(void **state)
{
    (void)state;
    assert_chosen("*/*, text/plain", all, ANSWER_TXT);
    assert_chosen("text/plain, text/markdown, application/json", all, ANSWER_TXT);
}

/* RFC 9110: the most specific range that matches a type speaks for it. */
static void
heeds_an_exact_refusal(void **state)
{
    (void)state;
    assert_chosen("*/*, application/json;q=0", all, ANSWER_MD);
    assert_chosen("text/*, text/markdown;q=0", all, ANSWER_TXT);
    assert_chosen("application/json;q=0", ACCEPT_BIT(ANSWER_JSON), -1);
}

static void
refuses_what_cannot_match(void **state)
{
    (void)state;
    assert_chosen("image/png", all, -1);
    assert_chosen("text/html", all, -1);
    assert_chosen("text/markdown", ACCEPT_BIT(ANSWER_JSON), -1);
}

static void
skips_what_it_cannot_read(void **state)
{
    (void)state;
    assert_chosen(";;;, text/plain", all, ANSWER_TXT);
    assert_chosen("text/plain;q=nan, text/markdown", all, ANSWER_MD);
    assert_chosen("text/plain;q=1.5, text/markdown;q=0.1", all, ANSWER_MD);
    assert_chosen("/, text, */", all, ANSWER_JSON);
}

static void
knows_json_by_its_media_type(void **state)
{
    (void)state;
    assert_true(accept_is_json("application/json"));
    assert_true(accept_is_json("Application/JSON; charset=utf-8"));
    assert_true(accept_is_json("application/vnd.example+json"));
    assert_false(accept_is_json("text/json"));
    assert_false(accept_is_json("application/jsonx"));
    assert_false(accept_is_json("application/+json"));
    assert_false(accept_is_json("application/x-www-form-urlencoded"));
    assert_false(accept_is_json(""));
}

static void
knows_a_signed_record_by_its_media_type(void **state)
{
    (void)state;
    assert_true(accept_is_jose("application/jose"));
    assert_true(accept_is_jose("Application/JOSE; charset=utf-8"));
    assert_false(accept_is_jose("application/jose+json")); /* the other form of RFC 7515 */
    assert_false(accept_is_jose("application/json"));
    assert_false(accept_is_jose(""));
    assert_false(accept_is_json("application/jose"));
    assert_chosen("application/jose", all | ACCEPT_BIT(ANSWER_JWS), ANSWER_JWS);
    assert_chosen("application/*", all | ACCEPT_BIT(ANSWER_JWS), ANSWER_JSON);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gives_json_to_who_does_not_ask),
        cmocka_unit_test(gives_json_to_browsers_that_take_anything),
        cmocka_unit_test(takes_the_type_named),
        cmocka_unit_test(follows_quality),
        cmocka_unit_test(prefers_the_exact_name_then_the_first),
        cmocka_unit_test(heeds_an_exact_refusal),
        cmocka_unit_test(refuses_what_cannot_match),
        cmocka_unit_test(skips_what_it_cannot_read),
        cmocka_unit_test(knows_json_by_its_media_type),
        cmocka_unit_test(knows_a_signed_record_by_its_media_type),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

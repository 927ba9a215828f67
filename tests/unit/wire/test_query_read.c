#include "wire/query_read.h"

#include <stdlib.h>
#include <string.h>

#include "support/close.h"
#include "wire/link_write.h"

/* The document of a query, as compact JSON in the order of its members. */
static void
assert_spells(const char *string, const char *document)
{
    struct query query;
    struct json_text_fault fault = {.detail = ""};
    assert_int_equal(query_open(&query, string), QUERY_READ);
    json_t *root = query_read(&query, &fault);
    if (root == NULL) {
        print_error("%s: %s\n", string, fault.detail);
    }
    assert_non_null(root);
    char *text = json_dumps(root, JSON_COMPACT);
    assert_string_equal(text, document);
    free(text);
    json_decref(root);
    query_close(&query);
}

static void
assert_refused(const char *string, enum problem problem, const char *says)
{
    struct query query;
    struct json_text_fault fault = {.detail = ""};
    assert_int_equal(query_open(&query, string), QUERY_READ);
    assert_null(query_read(&query, &fault));
    assert_int_equal(fault.problem, problem);
    if (strstr(fault.detail, says) == NULL) {
        print_error("%s: %s\n", string, fault.detail);
    }
    assert_non_null(strstr(fault.detail, says));
    query_close(&query);
}

static void
names_spell_members(void **state)
{
    (void)state;
    assert_spells("", "{}");
    assert_spells("units=metric&engine.bore=133+mm&engine.stroke=8",
                  "{\"units\":\"metric\",\"engine\":{\"bore\":\"133 mm\",\"stroke\":\"8\"}}");
    assert_spells("turning.machine_taper.over=3",
                  "{\"turning\":{\"machine_taper\":{\"over\":\"3\"}}}");
    assert_spells("order.accept_marginal=true", "{\"order\":{\"accept_marginal\":true}}");
    assert_spells("order.accept_marginal=maybe", "{\"order\":{\"accept_marginal\":\"maybe\"}}");
}

static void
numbers_spell_entries_of_a_list_in_any_order(void **state)
{
    (void)state;
    assert_spells("find.among.1=b&find.among.0=a", "{\"find\":{\"among\":[\"a\",\"b\"]}}");
    assert_spells("inspection.readings.0.size=1.375&inspection.readings.0.at=0&inspection.readings.1.size=1.374",
                  "{\"inspection\":{\"readings\":[{\"size\":\"1.375\",\"at\":\"0\"},{\"size\":\"1.374\"}]}}");
    assert_refused("find.among.0=a&find.among.2=b", PROBLEM_bad_request, "numbered 0, 1, 2");
    assert_refused("find.among.1=a", PROBLEM_bad_request, "numbered 0, 1, 2");
    assert_spells("find.among.00=a", "{\"find\":{\"among\":{\"00\":\"a\"}}}");
}

/* A form sends the fields left empty too. */
static void
an_empty_value_is_as_good_as_absent(void **state)
{
    (void)state;
    assert_spells("engine.bore=&engine.stroke=8", "{\"engine\":{\"bore\":null,\"stroke\":\"8\"}}");
    assert_spells("inspection.readings.0.size=1&inspection.readings.1.size=&inspection.readings.1.at=",
                  "{\"inspection\":{\"readings\":[{\"size\":\"1\"}]}}");
}

static void
a_member_may_stand_once(void **state)
{
    (void)state;
    assert_refused("engine.bore=5&engine.bore=5", PROBLEM_duplicate_member, "engine.bore");
    assert_refused("engine=5&engine.bore=5", PROBLEM_duplicate_member, "engine.bore");
    assert_refused("engine.bore=5&engine=5", PROBLEM_duplicate_member, "engine");
}

static void
names_without_a_meaning_are_refused(void **state)
{
    (void)state;
    static const char *const wrong[] = {"=1", ".=1", "engine.=1", ".bore=1", "engine..bore=1", "a.b.c.d.e.f.g=1"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        assert_refused(wrong[i], PROBLEM_bad_request, "no name of a member");
    }
    assert_refused("label=%ff", PROBLEM_bad_request, "UTF-8");
}

static void
job_holds_the_whole_document(void **state)
{
    (void)state;
    /* {"pin":{"diameter":1.5}} by the base64 of coreutils. */
    assert_spells("job=eyJwaW4iOnsiZGlhbWV0ZXIiOjEuNX19", "{\"pin\":{\"diameter\":1.5}}");
    assert_refused("job=eyJ", PROBLEM_bad_request, "base64url");
    assert_refused("job=e30&pin.diameter=1", PROBLEM_bad_request, "pin.diameter");
    assert_refused("job=ew", PROBLEM_not_json, "");
}

/* ---- and back ---- */

static void
assert_link(const char *document, const char *wanted)
{
    struct buffer out;
    json_t *root = json_loads(document, 0, NULL);
    assert_non_null(root);
    buffer_init(&out);
    assert_true(link_write(&out, "/v1/check", root));
    assert_string_equal(out.at, wanted);
    buffer_clear(&out);
    json_decref(root);
}

static void
a_document_becomes_a_link(void **state)
{
    (void)state;
    assert_link("{}", "/v1/check");
    assert_link("{\"engine\":{\"bore\":\"5 1/4 in\",\"speed\":190,\"stroke\":8.125}}",
                "/v1/check?engine.bore=5+1/4+in&engine.speed=190&engine.stroke=8.125");
    assert_link("{\"label\":\"a+b=c&d%(e)\",\"pin\":{\"diameter\":null}}",
                "/v1/check?label=a%2Bb%3Dc%26d%25%28e%29");
    assert_link("{\"find\":{\"among\":[\"a\",\"b\"]},\"order\":{\"accept_marginal\":false}}",
                "/v1/check?find.among.0=a&find.among.1=b&order.accept_marginal=false");
}

static void
what_names_cannot_spell_stands_in_job(void **state)
{
    (void)state;
    assert_link("{\"find\":{\"among\":[]}}", "/v1/check?job=eyJmaW5kIjp7ImFtb25nIjpbXX19");
    assert_link("{\"label\":\"\"}", "/v1/check?job=eyJsYWJlbCI6IiJ9");
}

static void
a_link_too_long_is_not_given(void **state)
{
    (void)state;
    struct buffer out;
    char label[LINK_MAX];
    memset(label, 'x', sizeof label - 1);
    label[sizeof label - 1] = '\0';
    json_t *root = json_pack("{s:s}", "label", label);
    buffer_init(&out);
    assert_false(link_write(&out, "/v1/check", root));
    buffer_clear(&out);
    json_decref(root);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_spell_members),
        cmocka_unit_test(numbers_spell_entries_of_a_list_in_any_order),
        cmocka_unit_test(an_empty_value_is_as_good_as_absent),
        cmocka_unit_test(a_member_may_stand_once),
        cmocka_unit_test(names_without_a_meaning_are_refused),
        cmocka_unit_test(job_holds_the_whole_document),
        cmocka_unit_test(a_document_becomes_a_link),
        cmocka_unit_test(what_names_cannot_spell_stands_in_job),
        cmocka_unit_test(a_link_too_long_is_not_given),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

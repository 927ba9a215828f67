#include "http/etag.h"

#include "support/close.h"

/* SHA-256 of "abc": FIPS 180-4's example, from NIST's "SHA256.pdf":
 * ba7816bf 8f01cfea 414140de 5dae2223 ...; the tag is its first 128 bits. */
static void
writes_the_start_of_the_hash(void **state)
{
    (void)state;
    char etag[ETAG_SIZE];
    etag_of("abc", 3, etag);
    assert_string_equal(etag, "\"ba7816bf8f01cfea414140de5dae2223\"");
}

/* RFC 9110 sections 8.8.3 and 13.1.2: weak comparison, lists, and the star. */
static void
finds_its_tag_among_those_named(void **state)
{
    (void)state;
    assert_true(etag_is_named("\"a\"", "\"a\""));
    assert_true(etag_is_named("\"x\", \"a\"", "\"a\""));
    assert_true(etag_is_named("\"x\",W/\"a\"", "\"a\""));
    assert_true(etag_is_named(" *", "\"a\""));
}

static void
finds_no_other(void **state)
{
    (void)state;
    assert_false(etag_is_named(NULL, "\"a\""));
    assert_false(etag_is_named("", "\"a\""));
    assert_false(etag_is_named(",, ,", "\"a\""));
    assert_false(etag_is_named("a", "\"a\""));
    assert_false(etag_is_named("\"ab\", \"\"", "\"a\""));
    assert_false(etag_is_named("\"a\"", ""));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_the_start_of_the_hash),
        cmocka_unit_test(finds_its_tag_among_those_named),
        cmocka_unit_test(finds_no_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

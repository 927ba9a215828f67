#include "http/query.h"

#include <string.h>

#include "support/close.h"

static void
assert_pair(const char **at, const char *name, const char *value)
{
    struct query_pair pair;
    assert_int_equal(query_next(at, &pair), QUERY_PAIR);
    assert_string_equal(pair.name, name);
    assert_string_equal(pair.value, value);
}

static void
assert_outcome(const char *query, enum query_outcome outcome)
{
    struct query_pair pair;
    assert_int_equal(query_next(&query, &pair), outcome);
}

static void
reads_pairs_in_order(void **state)
{
    (void)state;
    struct query_pair pair;
    const char *at = "format=md&trace=72&&bare&empty=";
    assert_pair(&at, "format", "md");
    assert_pair(&at, "trace", "72");
    assert_pair(&at, "bare", "");
    assert_pair(&at, "empty", "");
    assert_int_equal(query_next(&at, &pair), QUERY_END);
}

/* RFC 3986 section 2.1 for percent codes, HTML forms for the plus. */
static void
decodes_percent_codes_and_plus(void **state)
{
    (void)state;
    const char *at = "%66ormat=%6d%44&a+b=c+d%2B&x=y%3Dz=";
    assert_pair(&at, "format", "mD");
    assert_pair(&at, "a b", "c d+");
    assert_pair(&at, "x", "y=z=");
}

static void
ends_where_there_is_nothing(void **state)
{
    (void)state;
    assert_outcome(NULL, QUERY_END);
    assert_outcome("", QUERY_END);
    assert_outcome("&&", QUERY_END);
}

static void
refuses_wrong_percent_codes_and_nul(void **state)
{
    (void)state;
    assert_outcome("a=%", QUERY_MALFORMED);
    assert_outcome("a=%4", QUERY_MALFORMED);
    assert_outcome("a=%4&b=1", QUERY_MALFORMED);
    assert_outcome("a=%g0", QUERY_MALFORMED);
    assert_outcome("a=%00", QUERY_MALFORMED);
    assert_outcome("%00=a", QUERY_MALFORMED);
}

static void
refuses_words_too_long_and_goes_on_behind_them(void **state)
{
    (void)state;
    struct query_pair pair;
    char query[QUERY_VALUE_SIZE + 32] = "value=";
    memset(query + 6, 'v', QUERY_VALUE_SIZE);
    memcpy(query + 6 + QUERY_VALUE_SIZE, "&next=1", 8);
    const char *at = query;
    assert_int_equal(query_next(&at, &pair), QUERY_MALFORMED);
    assert_pair(&at, "next", "1");
    char name[QUERY_NAME_SIZE + 1];
    memset(name, 'n', QUERY_NAME_SIZE);
    name[QUERY_NAME_SIZE] = '\0';
    assert_outcome(name, QUERY_MALFORMED);
    assert_outcome(name + 1, QUERY_PAIR);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_pairs_in_order),
        cmocka_unit_test(decodes_percent_codes_and_plus),
        cmocka_unit_test(ends_where_there_is_nothing),
        cmocka_unit_test(refuses_wrong_percent_codes_and_nul),
        cmocka_unit_test(refuses_words_too_long_and_goes_on_behind_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

#include "wire/query.h"

#include <string.h>

#include "support/close.h"

static void
assert_pair(const struct query *query, size_t index, const char *name, const char *value)
{
    assert_true(index < query->count);
    assert_string_equal(query->pair[index].name, name);
    assert_string_equal(query->pair[index].value, value);
    assert_false(query->pair[index].taken);
}

static void
reads_pairs_in_order(void **state)
{
    (void)state;
    struct query query;
    assert_int_equal(query_open(&query, "format=md&trace=72&&bare&empty="), QUERY_READ);
    assert_int_equal(query.count, 4);
    assert_pair(&query, 0, "format", "md");
    assert_pair(&query, 1, "trace", "72");
    assert_pair(&query, 2, "bare", "");
    assert_pair(&query, 3, "empty", "");
    query_close(&query);
}

/* RFC 3986 section 2.1 for percent codes, HTML forms for the plus. */
static void
decodes_percent_codes_and_plus(void **state)
{
    (void)state;
    struct query query;
    assert_int_equal(query_open(&query, "%66ormat=%6d%44&a+b=c+d%2B&x=y%3Dz=&%26=%3d"), QUERY_READ);
    assert_pair(&query, 0, "format", "mD");
    assert_pair(&query, 1, "a b", "c d+");
    assert_pair(&query, 2, "x", "y=z=");
    assert_pair(&query, 3, "&", "=");
    query_close(&query);
}

static void
is_empty_where_there_is_nothing(void **state)
{
    (void)state;
    static const char *const nothing[] = {NULL, "", "&&"};
    for (size_t i = 0; i < sizeof nothing / sizeof nothing[0]; i++) {
        struct query query;
        assert_int_equal(query_open(&query, nothing[i]), QUERY_READ);
        assert_int_equal(query.count, 0);
        query_close(&query);
    }
}

static void
refuses_wrong_percent_codes_and_nul(void **state)
{
    (void)state;
    static const char *const wrong[] = {"a=%", "a=%4", "a=%zz", "a=%4z", "%=a", "a=1&b=%00", "a%00b=1", "a=%%41"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        struct query query;
        assert_int_equal(query_open(&query, wrong[i]), QUERY_MALFORMED);
        assert_non_null(query.pair[query.count].name);
        query_close(&query);
    }
}

static void
takes_long_values_whole(void **state)
{
    (void)state;
    char text[6000] = "job=";
    struct query query;
    memset(text + 4, 'A', sizeof text - 5);
    text[sizeof text - 1] = '\0';
    assert_int_equal(query_open(&query, text), QUERY_READ);
    assert_int_equal(strlen(query.pair[0].value), sizeof text - 5);
    query_close(&query);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_pairs_in_order),
        cmocka_unit_test(decodes_percent_codes_and_plus),
        cmocka_unit_test(is_empty_where_there_is_nothing),
        cmocka_unit_test(refuses_wrong_percent_codes_and_nul),
        cmocka_unit_test(takes_long_values_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Which origin a page is told: the Fetch standard, "CORS protocol". */

#include "http/head.h"

#include <string.h>

#include "support/close.h"

static void
assert_allowed(const char *origins, const char *origin, const char *wanted)
{
    size_t length = 0;
    const char *allowed = head_allowed_origin(origins, origin, &length);
    if (wanted == NULL) {
        assert_null(allowed);
        return;
    }
    assert_non_null(allowed);
    assert_int_equal(length, strlen(wanted));
    assert_memory_equal(allowed, wanted, length);
}

static void
tells_everybody_where_all_are_welcome(void **state)
{
    (void)state;
    assert_allowed("*", NULL, "*");
    assert_allowed("*", "https://a.example", "*");
}

static void
tells_a_listed_origin_its_own_name(void **state)
{
    (void)state;
    assert_allowed("https://a.example,http://b.example:8080", "https://a.example", "https://a.example");
    assert_allowed("https://a.example,http://b.example:8080", "http://b.example:8080", "http://b.example:8080");
}

static void
tells_nobody_else(void **state)
{
    (void)state;
    assert_allowed("https://a.example", "https://a.example.evil", NULL);
    assert_allowed("https://a.example", "https://a.exampl", NULL);
    assert_allowed("https://a.example", "http://a.example", NULL);
    assert_allowed("https://a.example", "null", NULL);
    assert_allowed("https://a.example", "", NULL);
    assert_allowed("https://a.example", NULL, NULL);
    assert_allowed("", "https://a.example", NULL);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tells_everybody_where_all_are_welcome),
        cmocka_unit_test(tells_a_listed_origin_its_own_name),
        cmocka_unit_test(tells_nobody_else),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

#include "http/route.h"

#include <string.h>

#include "support/close.h"

static struct route_match
find(const char *method, const char *path)
{
    struct route_match match;
    route_find(method, path, false, &match);
    return match;
}

static void
finds_a_path_as_a_whole_only(void **state)
{
    (void)state;
    assert_non_null(find("POST", "/v1/check").route);
    assert_null(find("POST", "/v1/check/").path);
    assert_null(find("POST", "/v1/checkx").path);
    assert_null(find("POST", "/v1/chec").path);
    assert_null(find("POST", "/V1/check").path);
    assert_null(find("POST", "//v1/check").path);
    assert_null(find("GET", "").path);
    assert_non_null(find("GET", "/").route);
}

static void
hands_the_call_to_the_handler(void **state)
{
    (void)state;
    assert_string_equal(find("POST", "/v1/set-screw").word, "set-screw");
    assert_string_equal(find("GET", "/v1/fit-classes").word, "fit-classes");
}

/* An order is no page to look at: no link asks for one. */
static void
orders_come_by_post_alone(void **state)
{
    (void)state;
    assert_non_null(find("POST", "/v1/order").route);
    assert_null(find("GET", "/v1/order").route);
    assert_string_equal(find("GET", "/v1/order").allow, "POST, OPTIONS");
    assert_non_null(find("POST", "/v1/order/verify").route);
    assert_non_null(find("GET", "/.well-known/jwks.json").route);
}

static void
takes_the_id_out_of_the_path(void **state)
{
    (void)state;
    const struct route_match match = find("GET", "/v1/steels/4140-qt");
    assert_non_null(match.route);
    assert_string_equal(match.id, "4140-qt");
    assert_string_equal(match.path, "/v1/steels/{id}");
    assert_string_equal(find("GET", "/v1/steels").id, "");
    assert_null(find("GET", "/v1/steels/").path);
    assert_null(find("GET", "/v1/steels/a/b").path);
}

static void
finds_nothing_under_an_id_too_long(void **state)
{
    (void)state;
    char path[128] = "/v1/steels/";
    const size_t head = strlen(path);
    memset(path + head, 'a', ROUTE_ID_SIZE);
    assert_null(find("GET", path).path);
    path[head + ROUTE_ID_SIZE - 1] = '\0';
    assert_non_null(find("GET", path).route);
}

/* RFC 9110 sections 9.3.2 and 10.2.1. */
static void
lists_the_methods_of_a_path(void **state)
{
    (void)state;
    const struct route_match call = find("DELETE", "/v1/check");
    assert_null(call.route);
    assert_string_equal(call.path, "/v1/check");
    assert_string_equal(call.allow, "GET, HEAD, POST, OPTIONS");
    assert_string_equal(find("OPTIONS", "/v1/units").allow, "GET, HEAD, OPTIONS");
    assert_non_null(find("HEAD", "/v1/units").route);
    assert_null(find("get", "/v1/units").route);
}

static void
shows_only_probes_to_the_admin_listener(void **state)
{
    (void)state;
    struct route_match match;
    route_find("GET", "/readyz", true, &match);
    assert_non_null(match.route);
    assert_true(match.admin);
    route_find("POST", "/v1/check", true, &match);
    assert_null(match.path);
    route_find("GET", "/", true, &match);
    assert_null(match.path);
}

/* By which requests are counted: one row for a path, whatever the method. */
static void
counts_a_path_under_one_row(void **state)
{
    (void)state;
    const size_t row = find("POST", "/v1/check").row;
    assert_true(row < ROUTE_OTHER);
    assert_string_equal(route_path(row), "/v1/check");
    assert_int_equal(find("DELETE", "/v1/check").row, row);
    assert_int_equal(find("GET", "/v1/steels/a").row, find("HEAD", "/v1/steels/b").row);
    assert_int_equal(find("GET", "/nowhere").row, ROUTE_OTHER);
    for (size_t i = 0; i < ROUTE_OTHER; ++i) {
        assert_true(find("GET", route_path(i)).row <= i);
        assert_string_equal(route_path(find("GET", route_path(i)).row), route_path(i));
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_a_path_as_a_whole_only), cmocka_unit_test(hands_the_call_to_the_handler),
        cmocka_unit_test(orders_come_by_post_alone),
        cmocka_unit_test(takes_the_id_out_of_the_path), cmocka_unit_test(finds_nothing_under_an_id_too_long),
        cmocka_unit_test(lists_the_methods_of_a_path),  cmocka_unit_test(shows_only_probes_to_the_admin_listener),
        cmocka_unit_test(counts_a_path_under_one_row),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

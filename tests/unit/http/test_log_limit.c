#include "http/log_limit.h"

#include "support/close.h"

static struct log_limit limit;

static int
begin(void **state)
{
    (void)state;
    return log_limit_init(&limit) ? 0 : -1;
}

static int
end(void **state)
{
    (void)state;
    log_limit_destroy(&limit);
    return 0;
}

/* How many of `count` lines at one time are taken. */
static int
take(int64_t now_ms, int count, unsigned *passed_over)
{
    int taken = 0;
    unsigned told = 0;
    *passed_over = 0;
    for (int i = 0; i < count; ++i) {
        if (log_limit_take(&limit, now_ms, &told)) {
            ++taken;
            *passed_over += told;
        }
    }
    return taken;
}

static void
takes_a_few_lines_in_a_second(void **state)
{
    (void)state;
    unsigned passed_over = 0;
    assert_int_equal(take(5000, 100, &passed_over), LOG_LIMIT_PER_SECOND);
    assert_int_equal(take(5999, 100, &passed_over), 0);
    assert_int_equal(take(6000, 100, &passed_over), LOG_LIMIT_PER_SECOND);
}

static void
tells_with_the_next_line_how_many_it_passed_over(void **state)
{
    (void)state;
    unsigned passed_over = 0;
    take(0, LOG_LIMIT_PER_SECOND + 40, &passed_over);
    assert_int_equal(passed_over, 0);
    take(2000, 2, &passed_over);
    assert_int_equal(passed_over, 40);
    take(4000, 1, &passed_over);
    assert_int_equal(passed_over, 0);
}

static void
tells_the_rest_at_the_end_once(void **state)
{
    (void)state;
    unsigned passed_over = 0;
    take(0, LOG_LIMIT_PER_SECOND + 7, &passed_over);
    assert_int_equal(log_limit_rest(&limit), 7);
    assert_int_equal(log_limit_rest(&limit), 0);
}

static void
takes_the_first_line_whatever_the_clock_says(void **state)
{
    (void)state;
    unsigned passed_over = 0;
    assert_int_equal(take(0, 1, &passed_over), 1);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(takes_a_few_lines_in_a_second, begin, end),
        cmocka_unit_test_setup_teardown(tells_with_the_next_line_how_many_it_passed_over, begin, end),
        cmocka_unit_test_setup_teardown(tells_the_rest_at_the_end_once, begin, end),
        cmocka_unit_test_setup_teardown(takes_the_first_line_whatever_the_clock_says, begin, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* The limit on a thread's waits, on a pair of connected sockets. */

#include "http/deadline.h"

#include <errno.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#include "support/close.h"

enum { SHORT_MS = 60, LONG_MS = 10000, LATE_MS = 5000 };

static int ends[2];

static int
open_ends(void **state)
{
    (void)state;
    return socketpair(AF_UNIX, SOCK_STREAM, 0, ends);
}

static int
close_ends(void **state)
{
    (void)state;
    deadline_clear();
    close(ends[0]);
    close(ends[1]);
    return 0;
}

static int
wait_for(short events, int milliseconds)
{
    struct pollfd wait = {.fd = ends[0], .events = events};
    return smallend_poll(&wait, 1, milliseconds);
}

static void
waits_as_poll_does_without_a_limit(void **state)
{
    (void)state;
    assert_int_equal(wait_for(POLLIN, 1), 0);
    assert_int_equal(write(ends[1], "x", 1), 1);
    assert_int_equal(wait_for(POLLIN, LONG_MS), 1);
    assert_false(deadline_passed());
}

static void
ends_a_wait_to_read(void **state)
{
    (void)state;
    const int64_t start_ms = deadline_now_ms();
    deadline_set(SHORT_MS);
    assert_int_equal(wait_for(POLLIN, LONG_MS), -1);
    assert_int_equal(errno, ETIMEDOUT);
    assert_true(deadline_passed());
    const int64_t took_ms = deadline_now_ms() - start_ms;
    assert_true(took_ms >= SHORT_MS && took_ms < LATE_MS);
}

/* A byte now and then is what CivetWeb alone would wait for without end. */
static void
counts_all_waits_of_a_request_together(void **state)
{
    (void)state;
    char byte;
    const int64_t start_ms = deadline_now_ms();
    deadline_set(SHORT_MS);
    int waits = 0;
    do {
        assert_int_equal(write(ends[1], "x", 1), 1);
        ++waits;
    } while (wait_for(POLLIN, LONG_MS) == 1 && read(ends[0], &byte, 1) == 1 && deadline_now_ms() - start_ms < LATE_MS);
    assert_true(waits > 1);
    assert_true(deadline_passed());
}

static void
leaves_a_shorter_wait_alone(void **state)
{
    (void)state;
    deadline_set(LONG_MS);
    assert_int_equal(wait_for(POLLIN, 1), 0);
    assert_false(deadline_passed());
}

static void
ends_a_wait_to_write_by_closing(void **state)
{
    (void)state;
    char block[4096];
    memset(block, 0, sizeof block);
    while (send(ends[0], block, sizeof block, MSG_DONTWAIT) > 0) {
    }
    deadline_set(SHORT_MS);
    assert_int_equal(wait_for(POLLOUT, LONG_MS), 1);
    assert_true(deadline_passed());
    assert_int_equal(send(ends[0], block, sizeof block, MSG_DONTWAIT | MSG_NOSIGNAL), -1);
    assert_int_equal(errno, EPIPE);
}

/* CivetWeb's own limit may end the reading first, by some microseconds. */
static void
is_past_without_a_wait(void **state)
{
    (void)state;
    deadline_set(LONG_MS);
    assert_false(deadline_passed());
    deadline_set(0);
    assert_true(deadline_passed());
}

static void
forgets_the_limit_when_cleared(void **state)
{
    (void)state;
    deadline_set(0);
    deadline_clear();
    assert_int_equal(wait_for(POLLIN, 1), 0);
}

static void
lingers_until_the_other_end_has_finished(void **state)
{
    (void)state;
    assert_int_equal(wait_for(POLLIN, 0), 0);
    assert_int_equal(write(ends[1], "rest", 4), 4);
    shutdown(ends[1], SHUT_WR);
    const int64_t start_ms = deadline_now_ms();
    deadline_linger(1000, LONG_MS, true);
    assert_true(deadline_now_ms() - start_ms < LATE_MS);
    char byte;
    assert_int_equal(read(ends[0], &byte, 1), 0); /* all was read */
    assert_int_equal(read(ends[1], &byte, 1), 0); /* our side was closed */
}

static void
lingers_no_longer_than_allowed(void **state)
{
    (void)state;
    char bytes[9000];
    memset(bytes, 0, sizeof bytes);
    assert_int_equal(wait_for(POLLIN, 0), 0);
    deadline_linger(1000, 20, false); /* silence: ends by time */
    assert_int_equal(write(ends[1], bytes, sizeof bytes), sizeof bytes);
    deadline_linger(1000, LONG_MS, false); /* ends by number of bytes */
    assert_int_equal(wait_for(POLLIN, 0), 1);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(waits_as_poll_does_without_a_limit, open_ends, close_ends),
        cmocka_unit_test_setup_teardown(ends_a_wait_to_read, open_ends, close_ends),
        cmocka_unit_test_setup_teardown(counts_all_waits_of_a_request_together, open_ends, close_ends),
        cmocka_unit_test_setup_teardown(leaves_a_shorter_wait_alone, open_ends, close_ends),
        cmocka_unit_test_setup_teardown(ends_a_wait_to_write_by_closing, open_ends, close_ends),
        cmocka_unit_test_setup_teardown(is_past_without_a_wait, open_ends, close_ends),
        cmocka_unit_test_setup_teardown(forgets_the_limit_when_cleared, open_ends, close_ends),
        cmocka_unit_test_setup_teardown(lingers_until_the_other_end_has_finished, open_ends, close_ends),
        cmocka_unit_test_setup_teardown(lingers_no_longer_than_allowed, open_ends, close_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

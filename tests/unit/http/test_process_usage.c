/* Against what the system says by other ways. */

#include "http/process_usage.h"

#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

#include "support/close.h"

static void
counts_the_files_that_are_open(void **state)
{
    (void)state;
    struct process_usage before, with_two;
    int ends[2];
    process_usage_read(&before);
    assert_int_equal(pipe(ends), 0);
    process_usage_read(&with_two);
    close(ends[0]);
    close(ends[1]);
    assert_true(before.open_files >= 0);
    assert_int_equal(with_two.open_files, before.open_files + 2);
}

static void
knows_how_many_may_be_open(void **state)
{
    (void)state;
    struct process_usage usage;
    process_usage_read(&usage);
    const long most = sysconf(_SC_OPEN_MAX);
    assert_int_equal(usage.most_files, most);
}

static void
sees_memory_grow_when_it_is_used(void **state)
{
    (void)state;
    enum { SIZE = 64 << 20 };
    struct process_usage before, after;
    process_usage_read(&before);
    char *block = malloc(SIZE);
    assert_non_null(block);
    memset(block, 1, SIZE);
    process_usage_read(&after);
    assert_int_equal(block[SIZE - 1], 1);
    free(block);
    assert_true(after.resident_bytes - before.resident_bytes > SIZE / 2);
    assert_true(after.resident_bytes - before.resident_bytes < 2LL * SIZE);
}

static void
counts_processor_time_as_getrusage_does(void **state)
{
    (void)state;
    struct process_usage usage;
    struct rusage used;
    volatile double sum = 0.0;
    for (int i = 0; i < 30000000; ++i) {
        sum = sum + i;
    }
    process_usage_read(&usage);
    getrusage(RUSAGE_SELF, &used);
    const double seconds = (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
                           1e-6 * (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
    assert_close_or(usage.cpu_s, seconds, 0.2, 0.02);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(counts_the_files_that_are_open),
        cmocka_unit_test(knows_how_many_may_be_open),
        cmocka_unit_test(sees_memory_grow_when_it_is_used),
        cmocka_unit_test(counts_processor_time_as_getrusage_does),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

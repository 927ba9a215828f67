#ifndef SMALLEND_TESTS_CLOSE_H
#define SMALLEND_TESTS_CLOSE_H

/*
 * Comparing floating-point numbers in tests. cmocka 1.1.5 compares floats
 * only, so we bring our own for double: relative to the expected value, or
 * absolute where zero is expected.
 */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

static inline int is_close(double actual, double expected, double relative, double absolute)
{
    return fabs(actual - expected) <= absolute + relative * fabs(expected);
}

#define assert_close_or(actual, expected, relative, absolute)                                                        \
    do {                                                                                                             \
        const double close_actual = (actual), close_expected = (expected);                                           \
        if (!is_close(close_actual, close_expected, (relative), (absolute))) {                                       \
            fail_msg("%s is %.12g, wanted %.12g within %g relative, %g absolute", #actual, close_actual,             \
                     close_expected, (double)(relative), (double)(absolute));                                        \
        }                                                                                                            \
    } while (0)

/* |actual - expected| <= relative x |expected|. */
#define assert_close(actual, expected, relative) assert_close_or(actual, expected, relative, 0.0)

#endif

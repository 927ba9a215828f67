#include "base/numeric.h"

#include <float.h>
#include <math.h>

bool
numeric_is_finite(double x)
{
    return isfinite(x);
}

static bool
is_span(double low, double high)
{
    return isfinite(low) && isfinite(high) && low < high && isfinite(high - low);
}

/* The tolerance asked for, but no finer than doubles of this size can tell
 * apart; one that is no positive number asks for just that. */
static double
attainable(double tolerance, double low, double high)
{
    const double finest = 4.0 * DBL_EPSILON * fmax(fabs(low), fabs(high)) + DBL_MIN;
    return tolerance >= finest ? tolerance : finest;
}

/*
 * The next trial of the ITP method: interpolate, truncate, project.
 * I. F. D. Oliveira, R. H. C. Takahashi, "An Enhancement of the Bisection
 * Method Average Performance Preserving Minmax Optimality", ACM Transactions
 * on Mathematical Software 47 (2020), article 5, algorithm 1 (from memory):
 * the secant's root, moved toward the middle by a truncation of 0.2 w^2 / w0
 * (their k1 = 0.2 / w0, k2 = 2), but never further than `reach` from the
 * middle, which keeps the count of steps that bisection would need.
 */
static double
itp_trial(double low, double high, double f_low, double f_high, double first_width, double reach)
{
    const double width = high - low;
    const double middle = low + 0.5 * width;
    const double secant = low + width * (f_low / (f_low - f_high));
    const double toward = middle - secant;
    const double truncation = 0.2 * width * (width / first_width);
    const double moved = truncation <= fabs(toward) ? secant + copysign(truncation, toward) : middle;

    return fabs(moved - middle) <= reach ? moved : middle - copysign(reach, toward);
}

bool
numeric_root(double (*f)(double x, const void *context), const void *context, double low, double high, double tolerance,
             double *root)
{
    if (!is_span(low, high)) {
        return false;
    }
    double f_low = f(low, context);
    double f_high = f(high, context);
    if (!isfinite(f_low) || !isfinite(f_high)) {
        return false;
    }
    if (f_low == 0.0 || f_high == 0.0) {
        *root = f_low == 0.0 ? low : high;
        return true;
    }
    if ((f_low > 0.0) == (f_high > 0.0)) {
        return false;
    }
    const double half = attainable(tolerance, low, high);
    const double first_width = high - low;
    /* Bisection needs `steps`; the method may spend one more. Half the width
     * it may have left after step j is half x 2^(steps + 1 - j). */
    const int steps = (int)ceil(fmax(0.0, log2(first_width / (2.0 * half)))) + 1;

    for (int j = 0; j <= steps && j < NUMERIC_EVALUATIONS_MAX - 2 && high - low > 2.0 * half; j++) {
        const double reach = fmax(0.0, ldexp(half, steps - j) - 0.5 * (high - low));
        const double x = itp_trial(low, high, f_low, f_high, first_width, reach);
        const double f_x = f(x, context);
        if (!isfinite(f_x)) {
            return false;
        }
        if (f_x == 0.0) {
            *root = x;
            return true;
        }
        if ((f_x > 0.0) == (f_high > 0.0)) {
            high = x;
            f_high = f_x;
        } else {
            low = x;
            f_low = f_x;
        }
    }
    *root = low + 0.5 * (high - low);
    return true;
}

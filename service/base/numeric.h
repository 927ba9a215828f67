#ifndef SMALLEND_BASE_NUMERIC_H
#define SMALLEND_BASE_NUMERIC_H

/*
 * Numerical methods on a function of one variable, f(x, context), that keeps
 * no state. Each call of ours evaluates f a bounded number of times and says
 * whether it succeeded; a value of f that is not finite is a failure, not a
 * number to go on with. On failure the result is left untouched.
 */

#include <stdbool.h>

/* Evaluations of f that one call spends at most. */
enum { NUMERIC_EVALUATIONS_MAX = 100 };

/* Neither infinite nor NaN. */
bool numeric_is_finite(double x);

/*
 * A root of f between `low` and `high`, where f has opposite signs or is zero
 * at one of them: an x within `tolerance` of a change of sign. False if the
 * ends do not bracket one, or are not finite with low < high.
 */
bool numeric_root(double (*f)(double x, const void *context), const void *context, double low, double high,
                  double tolerance, double *root) __attribute__((warn_unused_result));

#endif

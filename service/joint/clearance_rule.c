#include "joint/clearance_rule.h"

#include "joint/printed.h"

/* The unit these rules are stated in. */
static const double thou_m = SI_PER_THOU;

static double
larger(double a, double b)
{
    return a > b ? a : b;
}

struct clearance_rule
clearance_rule_aim(double diameter_m)
{
    const struct clearance_rule rule = {
        .min_m = 0.0005 * diameter_m,
        .max_m = 0.001 * diameter_m,
        .worn_m = larger(0.003 * diameter_m, 3.0 * thou_m),
    };
    return rule;
}

struct clearance_rule
clearance_rule_running(double diameter_m)
{
    const struct clearance_rule rule = {
        .min_m = larger(0.0005 * diameter_m, 0.4 * thou_m),
        .max_m = larger(0.0015 * diameter_m, 1.0 * thou_m),
        .worn_m = larger(0.003 * diameter_m, 3.0 * thou_m),
    };
    return rule;
}

struct clearance_rule
clearance_rule_held(double diameter_m)
{
    const struct clearance_rule rule = {
        .min_m = 0.0,
        .max_m = larger(0.0005 * diameter_m, 0.3 * thou_m),
        .worn_m = larger(0.0015 * diameter_m, 1.0 * thou_m),
    };
    return rule;
}

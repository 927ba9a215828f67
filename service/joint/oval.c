#include "joint/oval.h"

#include <math.h>

#define FACTOR_MIN 1.10

double
oval_textbook_factor(double hollow_ratio)
{
    const double beyond = hollow_ratio - 0.4;

    return 15.0 * (0.1 - beyond * beyond * beyond);
}

void
oval_with_factor(double factor, double force_N, double length_m, double outside_m, double inside_m, double modulus_Pa,
                 struct oval *oval)
{
    const double a = inside_m / outside_m, wall = 1.0 - a;
    const double pressure = factor * force_N / (length_m * outside_m);
    const double ring = (1.0 + a) / (wall * wall);
    const double stiffness = (1.0 + a) / wall;

    oval->factor_ratio = factor;
    oval->growth_m = 0.09 * factor * force_N / (modulus_Pa * length_m) * stiffness * stiffness * stiffness;
    oval->outer_side_Pa = pressure * (0.19 * (2.0 + a) * ring - 1.0 / wall);
    oval->inner_side_Pa = -pressure * (0.19 * (1.0 + 2.0 * a) * ring / a + 1.0 / wall);
    oval->outer_top_Pa = -pressure * (0.174 * (2.0 + a) * ring + 0.636 / wall);
    oval->inner_top_Pa = pressure * (0.174 * (1.0 + 2.0 * a) * ring / a - 0.636 / wall);
    oval->stress_max_Pa = fmax(fmax(fabs(oval->outer_side_Pa), fabs(oval->inner_side_Pa)),
                               fmax(fabs(oval->outer_top_Pa), fabs(oval->inner_top_Pa)));
}

void
oval_of(double force_N, double length_m, double outside_m, double inside_m, double modulus_Pa, struct oval *oval)
{
    const double factor = fmax(oval_textbook_factor(inside_m / outside_m), FACTOR_MIN);

    oval_with_factor(factor, force_N, length_m, outside_m, inside_m, modulus_Pa, oval);
}

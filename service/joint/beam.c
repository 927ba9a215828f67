#include "joint/beam.h"

#include "joint/section.h"

double
beam_moment_uniform_Nm(double force_N, double eye_m, double gap_m, double boss_m)
{
    return force_N * (eye_m + 4.0 * gap_m + 2.0 * boss_m) / 8.0;
}

double
beam_moment_triangular_Nm(double force_N, double eye_m, double gap_m, double boss_m)
{
    return force_N * (3.0 * eye_m + 12.0 * gap_m + 4.0 * boss_m) / 24.0;
}

double
beam_moment_concentrated_Nm(double force_N, double eye_m, double gap_m, double boss_m)
{
    return force_N * (eye_m + 2.0 * gap_m + boss_m) / 4.0;
}

double
beam_shear_max_Pa(double shear_N, double outside_m, double inside_m)
{
    const double o2 = outside_m * outside_m, i2 = inside_m * inside_m;
    const double mean = shear_N / round_area_m2(outside_m, inside_m);

    return 4.0 / 3.0 * mean * (o2 + outside_m * inside_m + i2) / (o2 + i2);
}

/* Cowper, J. Appl. Mech. 33 (1966): shear coefficient of a hollow circle. */
static double
shear_coefficient(double outside_m, double inside_m, double poisson)
{
    const double m = inside_m / outside_m, m2 = m * m;
    const double square = (1.0 + m2) * (1.0 + m2);

    return 6.0 * (1.0 + poisson) * square / ((7.0 + 6.0 * poisson) * square + (20.0 + 12.0 * poisson) * m2);
}

double
beam_deflection_m(double force_N, double span_m, double eye_m, double outside_m, double inside_m, double modulus_Pa,
                  double poisson)
{
    const double s = span_m, w = eye_m;
    const double shear_modulus_Pa = modulus_Pa / (2.0 * (1.0 + poisson));
    const double bending = force_N * (8.0 * s * s * s - 4.0 * s * w * w + w * w * w) /
                           (384.0 * modulus_Pa * round_second_moment_m4(outside_m, inside_m));
    const double shear =
        force_N * (2.0 * s - w) /
        (8.0 * shear_coefficient(outside_m, inside_m, poisson) * shear_modulus_Pa * round_area_m2(outside_m, inside_m));

    return bending + shear;
}

double
beam_edge_slope_rad(double force_N, double span_m, double eye_m, double outside_m, double inside_m, double modulus_Pa)
{
    return force_N * (3.0 * span_m * span_m - eye_m * eye_m) /
           (48.0 * modulus_Pa * round_second_moment_m4(outside_m, inside_m));
}

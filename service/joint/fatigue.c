#include "joint/fatigue.h"

#include <math.h>

#include "joint/printed.h"

#define MPa 1.0e6
#define KPSI_Pa 6894757.293168361 /* 1000 lbf/in2: the unit of the Neuber polynomial */

#define ENDURANCE_SHARE 0.5
#define ENDURANCE_MAX_Pa 700.0e6

double
fatigue_surface_factor(enum fatigue_surface surface, double tensile_Pa)
{
    const double tensile = tensile_Pa / MPa;
    const double factor = surface == SURFACE_GROUND ? 1.58 * pow(tensile, -0.085) : 4.51 * pow(tensile, -0.265);

    return fmin(factor, 1.0);
}

double
fatigue_equivalent_diameter_m(double diameter_m, int turns)
{
    return turns ? diameter_m : 0.37 * diameter_m;
}

double
fatigue_size_factor(double diameter_m)
{
    const double d = fmax(diameter_m * 1000.0, 2.79);

    return d <= 51.0 ? 1.24 * pow(d, -0.107) : 1.51 * pow(d, -0.157);
}

double
fatigue_endurance_Pa(enum fatigue_surface surface, double tensile_Pa, double size_factor)
{
    return fatigue_surface_factor(surface, tensile_Pa) * size_factor *
           fmin(ENDURANCE_SHARE * tensile_Pa, ENDURANCE_MAX_Pa);
}

double
fatigue_notch_sensitivity(double tensile_Pa, double notch_radius_m)
{
    const double s = fmin(fmax(tensile_Pa / KPSI_Pa, 50.0), 250.0);
    const double root_a = 0.246 - 3.08e-3 * s + 1.51e-5 * s * s - 2.67e-8 * s * s * s;

    return 1.0 / (1.0 + root_a / sqrt(notch_radius_m / SI_PER_INCH));
}

double
fatigue_notch_factor(double sensitivity, double notch_factor)
{
    return 1.0 + sensitivity * (notch_factor - 1.0);
}

double
fatigue_goodman(double amplitude_Pa, double mean_Pa, double endurance_Pa, double tensile_Pa)
{
    const double used = amplitude_Pa / endurance_Pa + fmax(mean_Pa, 0.0) / tensile_Pa;

    return used * FATIGUE_FACTOR_MAX > 1.0 ? 1.0 / used : FATIGUE_FACTOR_MAX;
}

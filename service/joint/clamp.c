#include "joint/clamp.h"

#include <math.h>

#include "joint/section.h"

#define PI 3.14159265358979323846

double
clamp_preload_N(double torque_Nm, double nut_factor, double diameter_m)
{
    return torque_Nm / (nut_factor * diameter_m);
}

void
clamp_grip_of(double preload_N, double friction, double bolt_offset_m, double hinge_offset_m, double pin_radius_m,
              struct clamp_grip *grip)
{
    const double normal_N = preload_N * (bolt_offset_m + hinge_offset_m) / hinge_offset_m;

    grip->axial_N = 2.0 * friction * normal_N;
    grip->torque_Nm = grip->axial_N * pin_radius_m;
    grip->axial_high_N = 2.0 * PI * friction * preload_N;
    grip->torque_high_Nm = grip->axial_high_N * pin_radius_m;
}

void
clamp_key_of(double intrusion_m, double pin_radius_m, double bolt_diameter_m, double planes, double bolt_yield_Pa,
             double pin_yield_Pa, struct clamp_key *key)
{
    const double plane_N = round_area_m2(bolt_diameter_m, 0.0) * SHEAR_YIELD_RATIO * bolt_yield_Pa;

    key->segment_area_m2 = segment_area_m2(pin_radius_m, intrusion_m);
    key->half_chord_m = segment_half_chord_m(pin_radius_m, intrusion_m);
    key->shear_axial_N = intrusion_m > 0.0 ? planes * plane_N : 0.0;
    key->flank_axial_N = key->segment_area_m2 * fmin(bolt_yield_Pa, pin_yield_Pa);
    key->shear_torque_Nm = plane_N * key->half_chord_m;
}

double
clamp_factor(double hold, double demand)
{
    return hold < demand * CLAMP_FACTOR_MAX ? hold / demand : CLAMP_FACTOR_MAX;
}

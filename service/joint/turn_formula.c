#include "joint/turn_formula.h"

#include <math.h>

/* Ra of the convention; 18 sqrt(3) = 31.18 would be exact for parabolas. */
static const double roughness_divisor = 32.0;

double
turn_spindle_rad_s(double speed_m_s, double diameter_m)
{
    return 2.0 * speed_m_s / diameter_m;
}

double
turn_roughness_m(double feed_m, double nose_radius_m)
{
    return feed_m * feed_m / (roughness_divisor * nose_radius_m);
}

double
turn_feed_m(double roughness_m, double nose_radius_m)
{
    return sqrt(roughness_divisor * nose_radius_m * roughness_m);
}

double
turn_tailstock_offset_m(double taper_m, double over_m, double between_centres_m)
{
    return taper_m / over_m * between_centres_m / 2.0;
}

double
turn_passes(double total_m, double greatest_m)
{
    /* 1e-9: three passes that just do it are three, whatever rounding says. */
    return total_m > 0.0 ? fmax(1.0, ceil(total_m / greatest_m * (1.0 - 1e-9))) : 0.0;
}

double
turn_ball_diameter_m(double cutter_m, double depth_m)
{
    if (depth_m <= 0.0) {
        return 0.0;
    }
    return depth_m < cutter_m / 2.0 ? 2.0 * sqrt(depth_m * (cutter_m - depth_m)) : cutter_m;
}

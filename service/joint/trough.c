#include "joint/trough.h"

#include <math.h>

double
trough_intrusion_m(double pin_radius_m, double bolt_radius_m, double offset_m)
{
    return pin_radius_m - (offset_m - bolt_radius_m);
}

/* Height of the cutter's axis over the pin's. */
static double
trough_axis_m(double pin_radius_m, double cutter_radius_m, double depth_m)
{
    return pin_radius_m + cutter_radius_m - depth_m;
}

/* Half the width of a circle at a height over its center; 0 beyond it. */
static double
half_width_m(double radius_m, double height_m)
{
    return fabs(height_m) < radius_m ? sqrt(radius_m * radius_m - height_m * height_m) : 0.0;
}

/*
 * The height at which they meet. Below its axis the trough is a circle, above
 * it has straight walls; the metal ends at the pin's surface.
 *  - bolt axis above the trough's: the bolt's widest place meets the straight
 *    wall, or, where it stands clear of the surface, the trough's corner;
 *  - bolt axis at or below the trough's: internal tangency of two circles, if
 *    that point is in the metal, else the corner.
 */
static double
meeting_height_m(double pin_radius_m, double bolt_radius_m, double offset_m, double cutter_radius_m, double axis_m)
{
    double height;

    if (offset_m > axis_m) {
        return fmin(offset_m, pin_radius_m);
    }
    height = axis_m + cutter_radius_m * (offset_m - axis_m) / (cutter_radius_m - bolt_radius_m);
    return fmin(height, pin_radius_m);
}

bool
trough_axial_play_m(double pin_radius_m, double bolt_radius_m, double offset_m, double cutter_radius_m, double depth_m,
                    double *play_m)
{
    const double axis = trough_axis_m(pin_radius_m, cutter_radius_m, depth_m);
    const double intrusion = trough_intrusion_m(pin_radius_m, bolt_radius_m, offset_m);
    double height, wall;

    if (intrusion <= 0.0 || intrusion > depth_m || bolt_radius_m >= cutter_radius_m) {
        return false;
    }
    height = meeting_height_m(pin_radius_m, bolt_radius_m, offset_m, cutter_radius_m, axis);
    wall = height >= axis ? cutter_radius_m : half_width_m(cutter_radius_m, height - axis);
    *play_m = wall - half_width_m(bolt_radius_m, height - offset_m);
    return *play_m >= 0.0;
}

double
trough_rotational_play_rad(double pin_radius_m, double depth_m, double intrusion_m)
{
    return acos(1.0 - depth_m / pin_radius_m) - acos(1.0 - intrusion_m / pin_radius_m);
}

double
trough_mouth_m(double pin_radius_m, double cutter_radius_m, double depth_m)
{
    const double axis = trough_axis_m(pin_radius_m, cutter_radius_m, depth_m);

    return axis <= pin_radius_m ? 2.0 * cutter_radius_m : 2.0 * half_width_m(cutter_radius_m, axis - pin_radius_m);
}

#include "joint/notch.h"

#include <math.h>

double
notch_bending_factor(double depth_m, double radius_m, double diameter_m)
{
    const double reach = 1.0 + 3.46 * depth_m / diameter_m;

    return 1.0 + 2.70 * pow(depth_m / radius_m, 0.70) / (reach * reach);
}

bool
notch_in_range(double depth_m, double radius_m, double diameter_m)
{
    const double r = radius_m / diameter_m, h = depth_m / diameter_m;

    return r >= 0.10 && r <= 0.60 && h >= 0.03 && h <= 0.30;
}

double
notch_published_factor(double depth_m, double radius_m, double diameter_m)
{
    const double t = depth_m / radius_m, x = depth_m / diameter_m;
    double c1, c2, c3, c4, flat_bar;

    if (t <= 2.0) {
        c1 = 1.795 + 1.481 * t - 0.211 * t * t;
        c2 = -3.544 - 3.677 * t + 0.578 * t * t;
        c3 = 5.459 + 3.691 * t - 0.565 * t * t;
        c4 = -2.678 - 1.531 * t + 0.205 * t * t;
    } else {
        c1 = 2.966 + 0.502 * t - 0.009 * t * t;
        c2 = -6.475 - 1.126 * t + 0.019 * t * t;
        c3 = 8.023 + 1.253 * t - 0.020 * t * t;
        c4 = -3.572 - 0.634 * t + 0.010 * t * t;
    }
    flat_bar = fmax(c1 + x * (c2 + x * (c3 + x * c4)), 1.0);
    return t >= 0.5 ? flat_bar : fmin(flat_bar, 1.0 + 2.0 * sqrt(t));
}

double
notch_side_factor(double depth_m, double radius_m, double diameter_m)
{
    return 1.0 + 0.763 * pow(depth_m / radius_m, 0.74) * exp(-1.45 * depth_m / diameter_m);
}

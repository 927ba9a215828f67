#include "joint/section.h"

#include <math.h>

#define PI 3.14159265358979323846

double
round_area_m2(double outside_m, double inside_m)
{
    return PI / 4.0 * (outside_m * outside_m - inside_m * inside_m);
}

double
round_second_moment_m4(double outside_m, double inside_m)
{
    const double o2 = outside_m * outside_m, i2 = inside_m * inside_m;

    return PI / 64.0 * (o2 * o2 - i2 * i2);
}

double
round_modulus_m3(double outside_m, double inside_m)
{
    return round_second_moment_m4(outside_m, inside_m) / (outside_m / 2.0);
}

double
segment_area_m2(double radius_m, double height_m)
{
    double half_angle;

    if (height_m <= 0.0) {
        return 0.0;
    }
    if (height_m >= 2.0 * radius_m) {
        return PI * radius_m * radius_m;
    }
    half_angle = acos((radius_m - height_m) / radius_m);
    return radius_m * radius_m * (half_angle - sin(half_angle) * cos(half_angle));
}

double
segment_half_chord_m(double radius_m, double height_m)
{
    if (height_m <= 0.0 || height_m >= 2.0 * radius_m) {
        return 0.0;
    }
    return sqrt(height_m * (2.0 * radius_m - height_m));
}

/*
 * Area and moments of the part of a circle that lies below the chord y = c,
 * about the circle's center: `first` is the integral of y dA, `second` of
 * y^2 dA, `side` of x^2 dA. The chord misses the circle where |c| >= R.
 * Closed forms with b = acos(c/R), the half angle of the segment cut away:
 *   A = pi R^2 - R^2 (b - sin b cos b)
 *   first = -(2/3) R^3 sin^3 b
 *   second = pi R^4/4 - (R^4/4)(b - sin b cos b + 2 sin^3 b cos b)
 *   side = pi R^4/4 - (R^4/12)(3b - 3 sin b cos b - 2 sin^3 b cos b)
 * Derived for this project and checked by quadrature.
 */
struct below_chord {
    double area, first, second, side;
};

static struct below_chord
below_chord_of(double radius, double chord)
{
    const double r2 = radius * radius;
    struct below_chord part = {0.0, 0.0, 0.0, 0.0};
    double half_angle, s, c;

    if (radius <= 0.0 || chord <= -radius) {
        return part;
    }
    half_angle = chord >= radius ? 0.0 : acos(chord / radius);
    s = sin(half_angle);
    c = cos(half_angle);
    part.area = PI * r2 - r2 * (half_angle - s * c);
    part.first = -(2.0 / 3.0) * r2 * radius * s * s * s;
    part.second = PI * r2 * r2 / 4.0 - r2 * r2 / 4.0 * (half_angle - s * c + 2.0 * s * s * s * c);
    part.side = PI * r2 * r2 / 4.0 - r2 * r2 / 12.0 * (3.0 * half_angle - 3.0 * s * c - 2.0 * s * s * s * c);
    return part;
}

void
cut_section_of(double outside_m, double inside_m, double depth_m, struct cut_section *section)
{
    const double radius = outside_m / 2.0;
    const double floor = radius - depth_m;
    const struct below_chord whole = below_chord_of(radius, floor);
    const struct below_chord bore = below_chord_of(inside_m / 2.0, floor);
    const double area = whole.area - bore.area;
    const double first = whole.first - bore.first;
    const double center = first / area; /* negative: away from the slot */

    section->area_m2 = area;
    section->floor_m = floor;
    section->shift_m = -center;
    section->second_moment_m4 = whole.second - bore.second - area * center * center;
    section->modulus_floor_m3 = section->second_moment_m4 / (floor - center);
    section->modulus_far_m3 = section->second_moment_m4 / (radius + center);
    section->second_moment_side_m4 = whole.side - bore.side;
    section->half_chord_m = segment_half_chord_m(radius, depth_m);
}

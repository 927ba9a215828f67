#include "wire/sketch_axis.h"

#include <math.h>

/* Thinner than this the pin is not to be read, and drawn this thick. */
static const double pin_least = 22.0, pin_thick = 30.0;
/* Half a pin with its eye and bosses shorter than this is drawn longer, at least
 * so long. */
static const double half_least = 30.0, half_long = 50.0;

/* Add a place, the list kept in order outward. */
static void
add_place(struct sketch_axis *axis, double z_m)
{
    size_t place = axis->count;

    if (axis->count > SKETCH_STRETCH_MAX || !(z_m > 0.0)) {
        return;
    }
    while (place > 1 && axis->z_m[place - 1] > z_m) {
        axis->z_m[place] = axis->z_m[place - 1];
        place--;
    }
    axis->z_m[place] = z_m;
    axis->count++;
}

static void
add_places(struct sketch_axis *axis, const struct sketch_joint *joint)
{
    const double inner_m = joint->eye_width.m / 2.0 + joint->gap.m;

    axis->count = 1;
    axis->z_m[0] = 0.0;
    if (joint->has_slot || joint->has_bolt) {
        const double slot_m = joint->has_slot ? sketch_slot_half_m(joint, joint->diameter.m / 2.0) : 0.0;

        add_place(axis, fmax(slot_m, joint->has_bolt ? joint->bolt_m / 2.0 : 0.0));
    }
    add_place(axis, joint->eye_width.m / 2.0);
    if (joint->gap.m > 0.0) {
        add_place(axis, inner_m);
    }
    if (joint->has_screws) {
        add_place(axis, inner_m + (joint->boss_length.m - joint->screw_m) / 2.0);
        add_place(axis, inner_m + (joint->boss_length.m + joint->screw_m) / 2.0);
    }
    add_place(axis, inner_m + joint->boss_length.m);
    add_place(axis, joint->length.m / 2.0);
    add_place(axis, joint->bore.m / 2.0);
}

/* What stands up highest over the axis. */
static double
height_m(const struct sketch_joint *joint)
{
    const double bolt_m = joint->has_bolt ? joint->bolt_offset_m + joint->bolt_m / 2.0 : 0.0;

    return fmax(fmax(joint->eye_drawn_m, joint->boss_outside_m) / 2.0, bolt_m);
}

/* 2, 5, 10, 20, 50 ...: the first that is at least `wanted`, up to 10,000. */
static double
whole_factor(double wanted)
{
    double factor = 1.0;

    for (int i = 0; i < 12 && factor < wanted; i++) {
        factor *= i % 3 == 1 ? 2.5 : 2.0;
    }
    return factor;
}

/*
 * Break the longest stretches until all fit: each keeps its length up to a
 * common bound, found by sharing out what the shorter ones leave.
 */
static void
shorten(struct sketch_axis *axis, double half_width)
{
    bool taken[SKETCH_STRETCH_MAX + 1] = {false};
    double left = half_width;
    size_t open = axis->count - 1;
    double bound = left / (double)open;

    for (size_t round = 0; round < SKETCH_STRETCH_MAX && open > 0; round++) {
        bool more = false;

        bound = left / (double)open;
        for (size_t i = 1; i < axis->count; i++) {
            const double length = axis->scale * axis->lengthened * (axis->z_m[i] - axis->z_m[i - 1]);

            if (!taken[i] && length <= bound) {
                taken[i] = more = true;
                left -= length;
                open--;
            }
        }
        if (!more) {
            break;
        }
    }
    for (size_t i = 1; i < axis->count; i++) {
        const double length = axis->scale * axis->lengthened * (axis->z_m[i] - axis->z_m[i - 1]);

        axis->broken[i] = !taken[i];
        axis->shortened |= !taken[i];
        axis->out[i] = axis->out[i - 1] + (taken[i] ? length : bound);
    }
}

void
sketch_axis_fit(struct sketch_axis *axis, const struct sketch_joint *joint, double half_width, double height)
{
    const double boss_end_m = joint->eye_width.m / 2.0 + joint->gap.m + joint->boss_length.m;
    const double parts_m = fmax(boss_end_m, joint->length.m / 2.0), pin_m = joint->diameter.m;

    *axis = (struct sketch_axis){.lengthened = 1.0};
    add_places(axis, joint);
    const double half_m = axis->z_m[axis->count - 1];

    axis->scale = fmin(half_width / half_m, height / height_m(joint));
    if (axis->scale * pin_m < pin_least) {
        axis->scale = fmin(pin_thick / pin_m, height / height_m(joint));
    }
    if (axis->scale * parts_m < half_least) {
        axis->lengthened = whole_factor(half_long / (axis->scale * parts_m));
    }
    for (size_t i = 1; i < axis->count; i++) {
        axis->out[i] = axis->scale * axis->lengthened * axis->z_m[i];
    }
    if (axis->out[axis->count - 1] > half_width * 1.0001) { /* rounding is no reason to break */
        shorten(axis, half_width);
    }
}

double
sketch_axis_x(const struct sketch_axis *axis, double z_m)
{
    const double z = fabs(z_m);
    double off = axis->out[axis->count - 1];

    for (size_t i = 1; i < axis->count; i++) {
        if (z <= axis->z_m[i]) {
            const double length_m = axis->z_m[i] - axis->z_m[i - 1];
            const double share = length_m > 0.0 ? (z - axis->z_m[i - 1]) / length_m : 0.0;

            off = axis->out[i - 1] + share * (axis->out[i] - axis->out[i - 1]);
            break;
        }
    }
    return axis->x + (z_m < 0.0 ? -off : off);
}

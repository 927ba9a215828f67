#include "wire/sketch_part.h"

#include <string.h>

#include "base/text.h"
#include "wire/text_part.h"

/* Where each check looks at the joint. One that is not named here is marked in
 * the middle of the pin. */

enum place {
    PLACE_MIDDLE,   /* of the pin, mid-length */
    PLACE_BOSS,     /* bearing surface in a boss */
    PLACE_EDGE,     /* its inner edge */
    PLACE_GAP,      /* pin between boss and eye */
    PLACE_EYE,      /* bearing surface in the eye */
    PLACE_FLOOR,    /* of the slot */
    PLACE_BOLT,
    PLACE_SCREW,
    PLACE_END,      /* of the pin, toward the wall */
    PLACE_RUNNING,  /* the surface that moves */
    PLACE_HELD,     /* the surface that does not */
    PLACE_BUSHING
};

static const struct {
    const char *id;
    enum place place;
} places[] = {
    {"boss_pressure", PLACE_BOSS},
    {"boss_pv", PLACE_BOSS},
    {"eye_pressure", PLACE_EYE},
    {"eye_pv", PLACE_EYE},
    {"load_reverses", PLACE_EYE},
    {"shear", PLACE_GAP},
    {"edge_slope", PLACE_EDGE},
    {"slot_clears_bolt", PLACE_FLOOR},
    {"cutter_clears_bolt", PLACE_BOLT},
    {"slot_bending", PLACE_FLOOR},
    {"slot_fatigue", PLACE_FLOOR},
    {"hold_axial", PLACE_BOLT},
    {"hold_torque", PLACE_BOLT},
    {"bolt_shear", PLACE_BOLT},
    {"flank_pressure", PLACE_BOLT},
    {"grip_axial", PLACE_HELD},
    {"grip_torque", PLACE_HELD},
    {"held_clearance", PLACE_HELD},
    {"wall_clearance", PLACE_END},
    {"screw_axial", PLACE_SCREW},
    {"screw_torque", PLACE_SCREW},
    {"clearance_cold", PLACE_RUNNING},
    {"clearance_hot", PLACE_RUNNING},
    {"press", PLACE_BUSHING},
    {"press_hot", PLACE_BUSHING},
    {"bushing_wall", PLACE_BUSHING},
    {"bushing_stress", PLACE_BUSHING},
};

size_t
sketch_worst(const struct report *report)
{
    size_t worst;

    if (text_part_worst(report, &worst, 1) == 0) {
        return FINDING_MAX;
    }
    /* Words alone that are all right are no place to look at. */
    return report->finding[worst].has_utilization || report->finding[worst].verdict != VERDICT_OK ? worst : FINDING_MAX;
}

static enum place
place_of(const struct sketch *sketch, const struct check *check)
{
    const bool in_eye = sketch->job->running_fit.at == CHOICE_surface_EYE;
    enum place place = PLACE_MIDDLE;

    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        if (strcmp(places[i].id, check->id) == 0) {
            place = places[i].place;
        }
    }
    switch (place) {
    case PLACE_RUNNING:
    case PLACE_BUSHING:
        return in_eye ? PLACE_EYE : PLACE_BOSS;
    case PLACE_HELD:
        return sketch->joint.held_in == CHOICE_held_in_PISTON ? PLACE_BOSS : PLACE_EYE;
    case PLACE_FLOOR:
        return sketch->joint.has_slot ? PLACE_FLOOR : PLACE_MIDDLE;
    case PLACE_BOLT:
        return sketch->joint.has_bolt ? PLACE_BOLT : sketch->joint.has_slot ? PLACE_FLOOR : PLACE_MIDDLE;
    case PLACE_SCREW:
        return sketch->joint.has_screws ? PLACE_SCREW : PLACE_BOSS;
    default:
        return place;
    }
}

struct svg_point
sketch_place_of(const struct sketch *sketch, const struct check *check)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_axis *axis = &sketch->axis;
    const double skin = -axis->scale * joint->diameter.m / 2.0, middle_m = sketch_screw_z_m(joint);

    switch (place_of(sketch, check)) {
    case PLACE_BOSS:
        return (struct svg_point){sketch_axis_x(axis, middle_m), skin};
    case PLACE_EDGE:
        return (struct svg_point){sketch_boss_x(sketch), skin};
    case PLACE_GAP:
        return (struct svg_point){(sketch_axis_x(axis, joint->eye_width.m / 2.0) + sketch_boss_x(sketch)) / 2.0, 0.0};
    case PLACE_EYE: /* peak load bears on the side toward the crank */
        return (struct svg_point){sketch_axis_x(axis, 0.3 * joint->eye_width.m), -skin};
    case PLACE_FLOOR:
        return (struct svg_point){axis->x, skin + axis->scale * joint->slot_depth_m};
    case PLACE_BOLT:
        return (struct svg_point){axis->x, -axis->scale * joint->bolt_offset_m};
    case PLACE_SCREW:
        return (struct svg_point){sketch_axis_x(axis, -middle_m), skin};
    case PLACE_END:
        return (struct svg_point){sketch_axis_x(axis, joint->length.m / 2.0), 0.0};
    default:
        return (struct svg_point){axis->x, 0.0};
    }
}

void
sketch_worst_text(char *buffer, size_t capacity, const struct sketch *sketch)
{
    const struct finding *finding = &sketch->report->finding[sketch->worst];
    char share[TEXT_PART_SIZE];
    struct text text;

    text_init(&text, buffer, capacity);
    text_part_share(share, sizeof share, finding);
    text_add(&text, check_row(sketch->worst)->name);
    if (share[0] != '\0') {
        text_format(&text, ", %s", share);
    }
    text_format(&text, ": %s%s", verdict_text(finding->verdict), finding->assumed_geometry ? "*" : "");
}

void
sketch_mark_draw(struct buffer *out, const struct sketch *sketch)
{
    static const double ring = 6.5;

    if (sketch->worst != FINDING_MAX) {
        const struct svg_point at = sketch_place_of(sketch, check_row(sketch->worst));

        svg_ellipse(out, at.x, sketch->axis.y + at.y, ring, ring, SVG_INK_MARK, SVG_FILL_NONE);
        svg_ellipse(out, at.x, sketch->axis.y + at.y, 1.8, 1.8, SVG_INK_NONE, SVG_FILL_MARK);
    }
}

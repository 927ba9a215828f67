#include "joint/order_part.h"

#include <math.h>

#include "joint/printed.h"
#include "joint/turning.h"

/* What to buy and make. */

/*
 * Length: ISO 2768-1 class m, from memory (0.3 mm over 30 up to 120 mm, 0.5 mm
 * beyond), and the 0.010 in that a dimension of two places carries on inch
 * drawings (common practice). Slot, chamfer and edges: judgement. Roughness: 16
 * and 32 uin are what grinding and careful turning with file and cloth leave
 * (common practice).
 */
const struct order_practice *
order_practice(enum unit_system units)
{
    static const struct order_practice inch = {
        .length_m = 10.0 * SI_PER_THOU,
        .long_m = 20.0 * SI_PER_THOU,
        .long_from_m = 6.0 * SI_PER_INCH,
        .slot_depth_m = 4.0 * SI_PER_THOU,
        .slot_place_m = 10.0 * SI_PER_THOU,
        .chamfer_m = SI_PER_INCH / 32.0,
        .edge_m = 10.0 * SI_PER_THOU,
        .ground_m = 16e-6 * SI_PER_INCH,
        .turned_m = 32e-6 * SI_PER_INCH,
    };
    static const struct order_practice metric = {
        .length_m = 0.3 * SI_PER_MM,
        .long_m = 0.5 * SI_PER_MM,
        .long_from_m = 120.0 * SI_PER_MM,
        .slot_depth_m = 0.1 * SI_PER_MM,
        .slot_place_m = 0.25 * SI_PER_MM,
        .chamfer_m = 0.8 * SI_PER_MM,
        .edge_m = 0.25 * SI_PER_MM,
        .ground_m = 0.4 * SI_PER_UM,
        .turned_m = 0.8 * SI_PER_UM,
    };

    return units == UNITS_METRIC ? &metric : &inch;
}

const struct limits *
order_limits(const struct job *job)
{
    const struct limits *fit = &job->running_fit.pin, *own = &job->pin.diameter;
    const bool fit_known = job_known(job, FIELD_running_fit_pin);

    return fit_known && (fit->max_m > fit->min_m || !job_known(job, FIELD_pin_diameter)) ? fit : own;
}

/* ---- surface ---- */

/* The surface that a hardened pin must have: asked for, else what its steel
 * has; of a case-hardened steel the Brinell figure is the core's. */
static void
put_hardness(const struct job *job, struct order_part *part)
{
    const struct steel *steel = part->steel;
    struct order_hardness *hardness = &part->hardness;

    if (job_known(job, FIELD_pin_hardness) && job_known(job, FIELD_pin_hardness_scale)) {
        *hardness = (struct order_hardness){.known = true,
                                            .asked = true,
                                            .min = job->pin.hardness_number,
                                            .scale = (enum choice_hardness_scale)job->pin.hardness_scale};
    } else if (steel != NULL && steel->hardness_hrc.given) {
        *hardness = (struct order_hardness){.known = true,
                                            .min = steel->hardness_hrc.si,
                                            .max = steel->hardness_hrc.si_high,
                                            .scale = CHOICE_hardness_scale_HRC};
    } else if (steel != NULL && !steel->case_hardened && steel->hardness_hb.given) {
        *hardness = (struct order_hardness){.known = true,
                                            .min = steel->hardness_hb.si,
                                            .max = steel->hardness_hb.si_high,
                                            .scale = CHOICE_hardness_scale_HB};
    }
    if (hardness->max <= hardness->min) {
        hardness->max = 0.0; /* one figure of a table is a least one */
    }
}

/*
 * Least depth of the case by wall, limit hardness 550 HV, outside: ISO 18669-1
 * as reprinted. A solid pin's wall is its radius.
 */
static void
put_case(struct order_part *part)
{
    static const struct {
        double wall_m, depth_m;
    } rows[] = {
        {15.0 * SI_PER_MM, 0.8 * SI_PER_MM},
        {5.0 * SI_PER_MM, 0.6 * SI_PER_MM},
        {3.0 * SI_PER_MM, 0.4 * SI_PER_MM},
        {2.0 * SI_PER_MM, 0.3 * SI_PER_MM},
    };
    const double wall_m = (part->diameter.min_m - part->inside_m) / 2.0;

    if (part->steel == NULL || !part->steel->case_hardened) {
        return;
    }
    for (size_t i = 0; i < sizeof rows / sizeof rows[0] && !part->case_known; i++) {
        if (wall_m > rows[i].wall_m) {
            part->case_known = true;
            part->case_depth_m = rows[i].depth_m;
        }
    }
}

/* A pin that is hardened after turning is ground, whatever it was called. */
static void
put_surface(const struct job *job, struct order_part *part)
{
    const struct order_practice *practice = order_practice(job->units);
    const bool ground = turning_to_grind(job);

    part->finish = ground ? CHOICE_finish_GROUND : (enum choice_finish)job->pin.finish;
    part->roughness_m = ground ? practice->ground_m : practice->turned_m;
    if (job_known(job, FIELD_pin_roughness)) {
        part->roughness_m = job->pin.roughness_m;
    }
    put_hardness(job, part);
    put_case(part);
}

/* ---- form ---- */

/* Form may take half of what size may, unless the document says otherwise
 * (judgement, as in inspection). */
static void
put_form(const struct job *job, struct order_part *part)
{
    enum { FEWEST = 3, MOST = 9 };
    const double half_m = (part->diameter.max_m - part->diameter.min_m) / 2.0;
    const bool told = job->inspection.part == CHOICE_part_PIN;

    part->taper_m = told && job_given(job, FIELD_inspection_accept_taper) ? job->inspection.accept_taper_m : half_m;
    part->out_of_round_m =
        told && job_given(job, FIELD_inspection_accept_out_of_round) ? job->inspection.accept_out_of_round_m : half_m;
    /* A station an inch, both ends among them (judgement). */
    part->stations = FEWEST;
    if (part->length_known) {
        part->stations = fmin(fmax(ceil(part->length.max_m / SI_PER_INCH) + 1.0, FEWEST), MOST);
    }
}

static void
put_blank(const struct derived *derived, struct order_part *part)
{
    const struct turning *turning = &derived->turning;

    part->blank_known = turning->known && turning->stock_known;
    part->blank_length_known = part->blank_known && turning->length_known;
    part->as_drawn = turning->at_size;
    part->blank_diameter_m = part->blank_known ? turning->blank_diameter_m : 0.0;
    part->blank_length_m = part->blank_length_known ? turning->blank_length_m : 0.0;
}

/* ---- lock ---- */

static const char *
grade_word(const struct job *job)
{
    size_t count;

    return job_known(job, FIELD_clamp_bolt_grade)
               ? choice_table(CHOICE_SET_bolt_grade, &count)[job->clamp_bolt.grade].text
               : NULL;
}

static void
put_slot(const struct job *job, const struct derived *derived, struct order_part *part)
{
    const struct slot *slot = &derived->slot;
    struct order_fastening *bolt = &part->fastening;

    if (job->pin.held_in != CHOICE_held_in_ROD) {
        return;
    }
    if (slot->geometry_known) {
        part->slot.cutter_diameter_m = job->slot.cutter_diameter_m;
        part->slot.mouth_known = !slot->cut_through;
        part->slot.mouth_m = slot->mouth_m;
        part->slot.chord_m = slot->chord_m;
    }
    if (job_known(job, FIELD_clamp_bolt_thread)) {
        bolt->kind = "clamp_bolt";
        bolt->thread = job->clamp_bolt.thread.designation;
        bolt->grade = grade_word(job);
        bolt->count = 1.0;
        bolt->torque_known = job_known(job, FIELD_clamp_bolt_torque);
        bolt->torque_Nm = job->clamp_bolt.torque_Nm;
    }
}

static void
put_flats(const struct job *job, const struct derived *derived, struct order_part *part)
{
    struct order_fastening *screw = &part->fastening;

    if (job->pin.held_in != CHOICE_held_in_PISTON) {
        return;
    }
    if (job_known(job, FIELD_set_screw_flat_depth) && job->set_screw.flat_depth_m > 0.0) {
        part->flats =
            (struct order_flats){.known = true,
                                 .count = job->set_screw.count_count,
                                 .depth_m = job->set_screw.flat_depth_m,
                                 .width_m = derived->set_screw.flat_known ? derived->set_screw.flat_width_m : 0.0};
    }
    if (job_known(job, FIELD_set_screw_thread)) {
        screw->kind = "set_screw";
        screw->thread = job->set_screw.thread.designation;
        screw->count = job->set_screw.count_count;
        screw->torque_known = job_known(job, FIELD_set_screw_torque);
        screw->torque_Nm = job->set_screw.torque_Nm;
    }
}

void
order_part(const struct job *job, const struct derived *derived, struct order_part *part)
{
    const bool own = job_known(job, FIELD_pin_steel) && job->pin.steel.row == NULL;

    part->steel = job_steel(job);
    part->certificate = own ? job->pin.steel.basis : NULL;
    part->inside_m = job->pin.inside_diameter_m;
    put_surface(job, part);
    put_form(job, part);
    put_blank(derived, part);
    put_slot(job, derived, part);
    put_flats(job, derived, part);
    order_notes(job, part);
}

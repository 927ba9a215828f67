#include "joint/turning.h"

#include <math.h>

#include "joint/turn_formula.h"

/* Less is no cut: the tool rubs, or nothing is left to take. */
static const double least_cut_m = 1e-9;

/* A finishing cut may be this much deeper than usual, if that saves a roughing
 * cut or lets the dial stand on its lines (judgement). */
#define FINISH_STRETCH 1.5

double
turning_spindle_rad_s(const struct job *job, double wanted_rad_s, bool *too_fast)
{
    const struct job_turning *machine = &job->turning;
    double best_rad_s = 0.0, slowest_rad_s = 0.0;

    if (!job_known(job, FIELD_turning_spindle_speeds) || machine->spindle_speeds_count == 0) {
        return wanted_rad_s;
    }
    for (size_t i = 0; i < machine->spindle_speeds_count; i++) {
        const double speed_rad_s = machine->spindle_speeds_rad_s[i];

        if (speed_rad_s <= wanted_rad_s * (1.0 + 1e-9)) {
            best_rad_s = fmax(best_rad_s, speed_rad_s);
        }
        slowest_rad_s = i == 0 ? speed_rad_s : fmin(slowest_rad_s, speed_rad_s);
    }
    *too_fast = *too_fast || best_rad_s <= 0.0;
    return best_rad_s > 0.0 ? best_rad_s : slowest_rad_s;
}

/* ---- on the lathe ---- */

/* How the radius to take off is shared out: roughing cuts and two finishing
 * cuts. */
struct shares {
    double rough_count;       /* a whole number */
    double rough_m, finish_m; /* depth of each, on the radius */
};

enum { FINISH_COUNT = 2 };

/* The depth, on the radius, that the dial shows as whole lines. */
static double
whole_lines_m(const struct job *job, double depth_m)
{
    const double line_m = turning_practice(job->units)->dial_line_m;
    const double step_m = job->turning.dial == CHOICE_dial_DIAMETER ? line_m / 2.0 : line_m;

    return floor(depth_m / step_m + 1e-6) * step_m;
}

static struct shares
share_out(const struct job *job, double radius_m)
{
    const double limit_m = job->turning.depth_of_cut_m;
    const double usual_m = fmin(turning_practice(job->units)->finish_depth_m, limit_m);
    const double greatest_m = fmin(FINISH_STRETCH * usual_m, limit_m);
    struct shares shares = {.finish_m = usual_m};

    if (radius_m <= FINISH_COUNT * greatest_m) {
        shares.finish_m = radius_m / FINISH_COUNT;
        return shares;
    }
    shares.rough_count = turn_passes(radius_m - FINISH_COUNT * usual_m, limit_m);
    shares.rough_m = (radius_m - FINISH_COUNT * usual_m) / shares.rough_count;
    const double even_m = whole_lines_m(job, shares.rough_m);
    const double rest_m = (radius_m - shares.rough_count * even_m) / FINISH_COUNT;
    if (even_m > 0.0 && rest_m <= greatest_m) {
        shares.rough_m = even_m;
        shares.finish_m = rest_m;
    }
    return shares;
}

static void
add_pass(const struct job *job, const char *purpose, double depth_m, double feed_m, struct turning *turning)
{
    const bool first = turning->pass_count == 0;
    struct turning_pass *pass = &turning->pass[turning->pass_count];

    pass->purpose = purpose;
    pass->before_m = first ? turning->blank_diameter_m : turning->pass[turning->pass_count - 1].after_m;
    pass->after_m = pass->before_m - 2.0 * depth_m;
    pass->depth_m = depth_m;
    pass->feed_m = feed_m;
    pass->dial_m = job->turning.dial == CHOICE_dial_DIAMETER ? 2.0 * depth_m : depth_m;
    if (turning->speed_known) {
        pass->spindle_rad_s = turning_spindle_rad_s(job, turn_spindle_rad_s(turning->cutting_speed_m_s, pass->before_m),
                                                    &turning->too_fast);
    }
    turning->pass_count++;
}

void
turning_plan(const struct job *job, struct turning *turning)
{
    const double radius_m = (turning->blank_diameter_m - turning->turn_to_m) / 2.0;

    if (radius_m <= least_cut_m) {
        return;
    }
    const struct shares shares = share_out(job, radius_m);
    turning->rough_passes = shares.rough_count;
    if (shares.rough_count + FINISH_COUNT > PASS_MAX) {
        return;
    }
    for (size_t i = 0; i < (size_t)shares.rough_count; i++) {
        add_pass(job, "rough", shares.rough_m, turning->feed_m, turning);
    }
    add_pass(job, "semi-finish", shares.finish_m, turning->finish_feed_m, turning);
    add_pass(job, "finish", shares.finish_m, turning->finish_feed_m, turning);
    turning->pass[turning->pass_count - 1].after_m = turning->turn_to_m; /* rid of rounding */
    turning->passes_known = true;
}

/* ---- on the mill ---- */

/* Speeds of the slot's cutter: high-speed steel whatever turns the pin. None
 * for a cut so shallow that its width rounds to nothing. */
static double
slot_spindle_rad_s(const struct turning *turning, double speed_m_s, double diameter_m)
{
    return turning->slot_speed_row != NULL && diameter_m > 0.0 ? turn_spindle_rad_s(speed_m_s, diameter_m) : 0.0;
}

void
turning_plan_slot(const struct job *job, struct turning *turning)
{
    /* Ground later, the surface that the depth counts from still stands proud. */
    const bool proud = turning->to_grind && !turning->at_size;
    const double depth_m = job->slot.depth_m + (proud ? turning->finishing_allowance_m / 2.0 : 0.0);
    const double cutter_m = job->slot.cutter_diameter_m;
    struct machining machining = {0};
    double speed_m_s = 0.0;

    turning->slot_known = true;
    turning->slot_depth_m = depth_m;
    turning->slot_passes = turn_passes(depth_m, turning_practice(job->units)->slot_step_m);
    if (job_steel(job) != NULL && machining_find(job_steel(job), CHOICE_tool_HSS, 0.0, &machining)) {
        turning->slot_speed_row = machining.row;
        speed_m_s = TURNING_LIGHT_SHARE * machining.speed_m_s;
    }
    turning->slot_spindle_rad_s = slot_spindle_rad_s(turning, speed_m_s, turn_ball_diameter_m(cutter_m, depth_m));
    turning->slot_pass_count = turning->slot_passes <= PASS_MAX ? (size_t)turning->slot_passes : 0;
    for (size_t i = 0; i < turning->slot_pass_count; i++) {
        struct slot_pass *pass = &turning->slot_pass[i];

        pass->step_m = depth_m / turning->slot_passes;
        pass->depth_m = pass->step_m * (double)(i + 1);
        pass->effective_diameter_m = turn_ball_diameter_m(cutter_m, pass->depth_m);
        pass->spindle_rad_s = slot_spindle_rad_s(turning, speed_m_s, pass->effective_diameter_m);
    }
}

#include "joint/derived.h"

#include <math.h>

#include "joint/lock_demand.h"
#include "joint/report.h"
#include "joint/thread.h"

/* Torque this much over the published one is rounding, not over-tightening. */
static const double torque_slack_ratio = 1.001;

/*
 * Holding power of the screws, tangential at the pin's surface as well as
 * axial: the published power counts for both ways [Shigley, table of set screw
 * holding power; makers' tables of torsional power are the axial one times the
 * radius of the shaft]. It falls in proportion to the seating torque and is not
 * raised by a torque above the published one. What a flat adds in torsion
 * (about 6 % in makers' tests) is left out.
 */
static void
derive_hold(const struct job *job, const struct strength *strength, struct screw_lock *lock)
{
    if (!job_known(job, FIELD_set_screw_thread)) {
        return;
    }
    const struct screw_hold *row = screw_hold_find(job->set_screw.thread.diameter_m);
    lock->below_table = row == NULL;
    if (row == NULL || !job_known(job, FIELD_set_screw_torque) || !strength->diameter_known ||
        !(row->seating_torque_Nm > 0.0)) {
        return;
    }
    size_t points = 0;
    const struct choice_row *point = choice_table(CHOICE_SET_point, &points);
    const size_t word = job_known(job, FIELD_set_screw_point) ? (size_t)job->set_screw.point : CHOICE_point_CUP;
    const double count = job_known(job, FIELD_set_screw_count) ? job->set_screw.count_count : 1.0;
    const double ratio = job->set_screw.torque_Nm / row->seating_torque_Nm;

    lock->over_torque = ratio > torque_slack_ratio;
    lock->seating_ratio = fmin(ratio, 1.0);
    lock->hold_axial_N = count * row->axial_N * lock->seating_ratio * screw_point_factor(point[word].text);
    lock->hold_torque_Nm = lock->hold_axial_N * 0.5 * strength->d_m;
    lock->hold_known = true;
}

/* The pin's section where a flat is filed or milled: in the bosses, where
 * bending is small. One flat to a section. */
static void
derive_flat(const struct job *job, const struct strength *strength, struct screw_lock *lock)
{
    const double depth_m = job->set_screw.flat_depth_m, d_m = strength->d_m;
    if (!job_known(job, FIELD_set_screw_flat_depth) || !strength->diameter_known || !(depth_m < d_m)) {
        return;
    }
    struct cut_section section;
    cut_section_of(d_m, strength->inside_m, depth_m, &section);
    lock->flat_width_m = 2.0 * sqrt(depth_m * (d_m - depth_m));
    lock->net_section_modulus_m3 = fmin(section.modulus_floor_m3, section.modulus_far_m3);
    lock->flat_known = true;
}

void
set_screw_derive(const struct job *job, struct derived *derived)
{
    struct screw_lock *lock = &derived->set_screw;
    *lock = (struct screw_lock){0};
    if (!job_group_given(job, GROUP_set_screw)) {
        return;
    }
    derive_hold(job, &derived->strength, lock);
    derive_flat(job, &derived->strength, lock);
    lock->axial_demand_known = lock_axial_demand_N(job, derived, &lock->axial_demand_N);
    lock->torque_demand_known = lock_torque_demand_Nm(job, derived, &lock->torque_demand_Nm);
}

void
set_screw_report(const struct derived *derived, struct report *report)
{
    const struct screw_lock *lock = &derived->set_screw;
    if (lock->hold_known) {
        report_put(report, RESULT_set_screw_hold_axial, lock->hold_axial_N);
        report_put(report, RESULT_set_screw_hold_torque, lock->hold_torque_Nm);
    }
    if (lock->axial_demand_known) {
        report_put(report, RESULT_set_screw_axial_demand, lock->axial_demand_N);
    }
    if (lock->torque_demand_known) {
        report_put(report, RESULT_set_screw_torque_demand, lock->torque_demand_Nm);
    }
    if (lock->flat_known) {
        report_put(report, RESULT_set_screw_flat_width, lock->flat_width_m);
        report_put(report, RESULT_set_screw_net_section_modulus, lock->net_section_modulus_m3);
    }
}

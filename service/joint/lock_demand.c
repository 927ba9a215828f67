#include "joint/lock_demand.h"

static const double axial_share = 0.05;
static const double rubbing_friction = 0.15;

bool
lock_axial_demand_N(const struct job *job, const struct derived *derived, double *demand_N)
{
    if (job_known(job, FIELD_demand_axial)) {
        *demand_N = job->demand.axial_N;
        return true;
    }
    if (!derived->load.known) {
        return false;
    }
    *demand_N = axial_share * derived->load.force_N;
    return true;
}

bool
lock_torque_demand_Nm(const struct job *job, const struct derived *derived, double *demand_Nm)
{
    if (job_known(job, FIELD_demand_torque)) {
        *demand_Nm = job->demand.torque_Nm;
        return true;
    }
    if (!derived->load.known || !derived->strength.diameter_known) {
        return false;
    }
    *demand_Nm = rubbing_friction * derived->load.force_N * 0.5 * derived->strength.d_m;
    return true;
}

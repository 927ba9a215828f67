#include "joint/press.h"

#include "joint/derived.h"

static const double pi = 3.14159265358979323846;

/* Contact at both ends of the interference: what pressing does to the parts. */
static void
derive_contact(const struct job *job, const struct press_parts *parts, struct press *press)
{
    struct lame_press loose, tight;
    if (!lame_press(&parts->rings, press->interference_min_m, &loose) ||
        !lame_press(&parts->rings, press->interference_max_m, &tight)) {
        return;
    }
    press->known = true;
    press->pressure_min_Pa = loose.pressure_Pa;
    press->pressure_max_Pa = tight.pressure_Pa;
    press->closure_min_m = loose.bore_closure_m;
    press->closure_max_m = tight.bore_closure_m;
    press->bore_after_min_m = parts->rings.bore_m - tight.bore_closure_m;
    press->bore_after_max_m = parts->rings.bore_m - loose.bore_closure_m;
    press->bushing_stress_max_Pa = -tight.bushing_bore_hoop_Pa;
    press->bushing_yield_Pa = parts->bushing_yield_Pa;
    press->housing_stress_max_Pa = tight.housing_bore_hoop_Pa;

    /* Force = pi d L p mu; pressing in and holding with the same friction. */
    press->force_known = job_known(job, FIELD_press_fit_length) && job_known(job, FIELD_press_fit_friction);
    if (press->force_known) {
        const double grip_m2 = pi * parts->rings.interface_m * job->press_fit.length_m * job->press_fit.friction_ratio;
        press->force_max_N = grip_m2 * tight.pressure_Pa;
        press->hold_min_N = grip_m2 * loose.pressure_Pa;
    }
}

/*
 * What to hone the bore to once the bushing is in: the finished hole as given,
 * else what gives the wanted clearance with any pin within its limits. Where
 * the pin varies more than the clearance may, the middle is all there is.
 */
static void
derive_hone(const struct job *job, const struct running *running, struct press *press)
{
    if (job_known(job, FIELD_running_fit_hole)) {
        press->hone_min_m = job->running_fit.hole.min_m;
        press->hone_max_m = job->running_fit.hole.max_m;
    } else if (running->wanted_known) {
        press->hone_min_m = running->pin_max_m + running->wanted_min_m;
        press->hone_max_m = running->pin_min_m + running->wanted_max_m;
        if (press->hone_min_m > press->hone_max_m) {
            const double middle_m = 0.5 * (press->hone_min_m + press->hone_max_m);
            press->hone_min_m = middle_m;
            press->hone_max_m = middle_m;
        }
    } else {
        return;
    }
    press->hone_known = true;
}

void
press_derive(const struct job *job, struct derived *derived)
{
    struct press *press = &derived->press;
    struct press_parts parts;
    *press = (struct press){0};
    press_parts_of(job, &parts);
    if (!parts.housing_known) {
        return;
    }
    press->interference_known = true;
    press->interface_m = parts.rings.interface_m;
    press->outside_wanted = !parts.bushing_given;
    if (press->outside_wanted) {
        press->outside_wanted_min_m = parts.wanted_min_m;
        press->outside_wanted_max_m = parts.wanted_max_m;
    }
    press->interference_min_m = parts.bushing_min_m - parts.housing_max_m;
    press->interference_max_m = parts.bushing_max_m - parts.housing_min_m;
    press->wall_known = parts.rings.bore_m > 0.0;
    if (press->wall_known) {
        press->wall_m = 0.5 * (parts.bushing_min_m - parts.rings.bore_m);
    }
    if (parts.rings_known) {
        derive_contact(job, &parts, press);
        derive_hone(job, &derived->running, press);
    }
    press->hot_known = parts.expansion_known && job_known(job, FIELD_press_fit_temperature);
    if (press->hot_known) {
        press->interference_hot_min_m =
            press_hot_interference_m(&parts, press->interference_min_m, job->press_fit.temperature_degC);
    }
}

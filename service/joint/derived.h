#ifndef SMALLEND_JOINT_DERIVED_H
#define SMALLEND_JOINT_DERIVED_H

/*
 * What is worked out of the job once and then read by every check. Each part
 * has `known`, or a flag per group of values that need more of the job; a
 * value whose flag is false is zero and must not be used. All SI.
 */

#include <stdbool.h>

#include "joint/cycle.h"
#include "joint/job.h"
#include "joint/machining.h"
#include "joint/report.h"
#include "joint/section.h"

/* load.c: what the engine does to the pin. */
struct load {
    bool known;            /* bore, stroke and a pressure are there */
    bool kinematics_known; /* bore, stroke, rod: independent of pressure */
    bool inertia_known;    /* the speed is known as well */
    bool peak_estimated;   /* from compression, not given */
    struct cycle cycle;
    struct cycle_extremes extremes; /* of the cycle */
    double piston_area_m2;
    double peak_pressure_Pa;  /* gauge */
    double gas_force_peak_N;
    double inertia_tdc_N, inertia_bdc_N;
    double pin_load_max_N, pin_load_min_N;
    double pin_load_mean_N;   /* mean over the cycle of the magnitude */
    double force_N;           /* the one strength uses: larger magnitude, or gas alone */
    double load_ratio;        /* min over max; 0 where the speed is absent */
    bool reverses;            /* a four-stroke without speed is taken to reverse */
    double rod_angle_max_rad;
    double side_thrust_max_N;
    double rubbing_speed_m_s; /* 0 unless pin.diameter and speed are known */
    bool rubbing_known;
};

/* strength.c: the pin as a beam, its pressures and its fatigue. */
struct strength {
    bool diameter_known;   /* thinnest pin d_m */
    bool layout_known;     /* eye, gap, boss, span */
    bool stress_known;     /* load, diameter and layout: moments and stresses */
    bool steel_known;      /* tensile and yield */
    bool fatigue_known;    /* stress and steel */
    double d_m, inside_m;  /* the thinnest pin, its bore */
    double eye_m, gap_m, boss_m, span_m; /* boss: bearing length of one */
    double boss_pressure_Pa, eye_pressure_Pa;
    bool boss_pressure_known, eye_pressure_known;
    double boss_pv_Pa_m_s, eye_pv_Pa_m_s;
    bool boss_pv_known, eye_pv_known;
    double moment_Nm, moment_low_Nm, moment_high_Nm;
    double modulus_m3;
    double bending_stress_Pa, shear_stress_Pa;
    bool oval_known;       /* hollow, load and length known */
    double ovalization_m, oval_stress_Pa;
    double deflection_m, edge_slope_rad;
    double stress_mean_Pa, stress_amplitude_Pa;
    double size_factor;    /* of fatigue, with the diameter */
    double tensile_Pa, yield_Pa;
    double endurance_Pa, fatigue_factor, yield_factor;
    bool mass_known;
    double mass_kg;
    double surface_HB;     /* hardness of the running surface, 0 unknown */
};

/* slot.c: the locking slot, the clamp bolt as key, and grip. */
struct slot {
    bool geometry_known;   /* pin diameter, depth, cutter */
    bool bolt_known;       /* bolt diameter and offset */
    bool fit_known;        /* geometry and bolt: intrusion, play */
    bool cut_through;      /* the slot leaves less than a hundredth of the pin: no section to speak of */
    bool section_known;    /* net section (geometry), not cut through */
    bool stress_known;     /* section and bending moment */
    bool fatigue_known;    /* and steel */
    bool intrusion_known;  /* pin diameter and bolt */
    bool hold_known;       /* fit, bolt grade and pin steel */
    bool hold_torque_known; /* fit and bolt grade */
    bool grip_known, wall_known, held_known;
    bool axial_demand_known, torque_demand_known;
    bool axial_play_known; /* the bolt reaches the slot's walls */
    double depth_m, cutter_radius_m, bolt_diameter_m, bolt_offset_m;
    double d_min_m, d_max_m, inside_m; /* pin */
    double intrusion_m, bottom_clearance_m, axial_play_m, rotational_play_rad;
    double mouth_m, chord_m;
    struct cut_section section;
    double wall_left_m;    /* from the slot's floor to the bore of a hollow pin */
    double notch_factor, notch_factor_published, notch_factor_side, fatigue_notch_factor;
    bool notch_in_range;   /* inside the range of the finite-element fit */
    double nominal_stress_Pa, notch_stress_Pa;
    double size_factor;    /* of fatigue, with the section */
    double notch_endurance_Pa, notch_fatigue_factor;
    double bolt_yield_Pa, bolt_proof_Pa, bolt_area_m2, bolt_stress_area_m2, bolt_preload_N;
    bool preload_known;
    double segment_area_m2;
    double hold_axial_N, hold_torque_Nm;
    double bolt_shear_factor, flank_factor;
    double grip_axial_N, grip_torque_Nm, grip_axial_high_N, grip_torque_high_Nm;
    double axial_demand_N, torque_demand_Nm;
    double wall_clearance_m;
    double held_clearance_max_m;
};

/* set_screw.c: flats and set screws in the bosses. */
struct screw_lock {
    bool hold_known, flat_known;
    bool axial_demand_known, torque_demand_known;
    bool below_table;      /* screw smaller than the published table */
    bool over_torque;      /* torque above the published seating torque */
    double seating_ratio;  /* torque over the published seating torque, at most 1 used */
    double hold_axial_N, hold_torque_Nm;
    double axial_demand_N, torque_demand_Nm;
    double flat_width_m, net_section_modulus_m3;
};

/* running.c: the running fit. */
struct running {
    bool cold_known;       /* pin and hole */
    bool hot_known;        /* and temperatures */
    bool wanted_known;     /* pin: its limits, mean and expansion, what is wanted */
    bool bushing_restrained; /* hot bore by Lame of the pressed bushing */
    double pin_min_m, pin_max_m, hole_min_m, hole_max_m;
    double clearance_min_m, clearance_max_m;
    double hot_clearance_min_m, hot_clearance_max_m;
    double wanted_min_m, wanted_max_m; /* ok inside */
    double worn_max_m;                 /* marginal up to this */
    double pin_mean_m;
    double pin_expansion_per_K, hole_expansion_per_K;
};

/* press.c: a bushing pressed into its housing. */
struct press {
    bool known;            /* housing bore, bushing bore and outside, housing outside, metals */
    bool outside_wanted;   /* bushing_outside absent: what to make is worked out */
    bool interference_known; /* housing bore; with the bushing as given, or as wanted */
    bool hot_known, force_known, hone_known, wall_known;
    double interface_m;    /* mean housing bore */
    double interference_min_m, interference_max_m, interference_hot_min_m;
    double pressure_min_Pa, pressure_max_Pa;
    double force_max_N, hold_min_N;
    double closure_min_m, closure_max_m; /* of the bore, on the diameter */
    double bore_after_min_m, bore_after_max_m;
    double hone_min_m, hone_max_m;
    double outside_wanted_min_m, outside_wanted_max_m;
    double wall_m;
    double bushing_stress_max_Pa, bushing_yield_Pa;
    double housing_stress_max_Pa;
};

/* inspection.c: the part as measured. */
struct inspection {
    bool known;            /* at least one reading */
    bool accept_known, form_known, taper_known, round_known, clearance_known;
    size_t station_count;
    struct station station[STATION_MAX];
    double size_min_m, size_max_m, size_mean_m;
    double taper_m;        /* least squares over the span, + growing with `at` */
    double out_of_round_m; /* largest of the stations */
    const char *form;
    double correction_m;
    double accept_min_m, accept_max_m;
    bool taper_limited, round_limited; /* a limit is known */
    double taper_limit_m, round_limit_m;
    double uncertainty_m;  /* expanded, k = 2: the guard band */
    const char *decision;
    bool coarse;           /* the guard bands leave no room between the limits */
    bool true_up;          /* a station has to be made round */
    double to_remove_m;
    double clearance_min_m, clearance_max_m;
};

/* turning.c: from bar to pin. Lengths on the diameter unless said otherwise. */
struct turning {
    bool known;            /* pin diameter */
    bool speed_known, stock_known, passes_known, taper_known, tailstock_known, slot_known, length_known;
    bool at_size;          /* the stock is within the pin's limits: nothing to turn */
    bool to_grind;         /* ground after turning, else polished in the lathe */
    bool before_hardening; /* the steel is hardened after turning */
    bool too_fast;         /* the machine's slowest speed is above the one wanted */
    double finish_m;       /* diameter to finish to */
    double turn_to_m;      /* with the finishing allowance left on */
    double table_speed_m_s, cutting_speed_m_s; /* as printed; for a light lathe */
    const struct machining_row *speed_row, *slot_speed_row;
    double spindle_rad_s, feed_m; /* roughing; feed per revolution */
    double finish_feed_m;
    double rough_passes;   /* whole number; passes_known false where there are more than are listed */
    size_t pass_count;
    struct turning_pass pass[PASS_MAX];
    double finishing_allowance_m;
    double roughness_m;
    double taper_per_length; /* change of diameter by length, + larger at the tailstock */
    double taper_correction_m, tailstock_offset_m;
    double dial_correction_m; /* over the pin's length, as the dial shows it */
    size_t slot_pass_count;
    struct slot_pass slot_pass[PASS_MAX];
    double slot_depth_m;   /* from the surface as turned: deeper where that is ground later */
    double slot_passes;    /* as rough_passes */
    double slot_spindle_rad_s;
    double blank_diameter_m, blank_length_m;
    double stock_allowance_m; /* stock diameter less finish */
    double stock_allowance_wanted_m;
    double stock_allowance_least_m; /* truing up, finishing cuts, finishing allowance */
    double length_least_m; /* of the blank: the pin and facing its ends */
};

struct derived {
    struct load load;
    struct strength strength;
    struct slot slot;
    struct screw_lock set_screw;
    struct running running;
    struct press press;
    struct inspection inspection;
    struct turning turning;
};

/* Each reads the job and what stands before it in struct derived, and writes
 * its own part whole. */

/* *derived holds the load of another job, or one not known: the extremes are
 * taken over if that runs through the same cycle. */
void load_derive(const struct job *job, struct derived *derived);
/* What of the load is known, and no figure: for those who rest on none. */
void load_derive_known(const struct job *job, struct derived *derived);
void strength_derive(const struct job *job, struct derived *derived);
void slot_derive(const struct job *job, struct derived *derived);
/* Again what another steel of the pin moves of the two, and of no other part. */
void strength_derive_steel(const struct job *job, struct derived *derived);
void slot_derive_steel(const struct job *job, struct derived *derived);
void set_screw_derive(const struct job *job, struct derived *derived);
void running_derive(const struct job *job, struct derived *derived);
void press_derive(const struct job *job, struct derived *derived);
void inspection_derive(const struct job *job, struct derived *derived);
void turning_derive(const struct job *job, struct derived *derived);

/* All of them that these sections rest on, in that order; of the others nothing
 * is known, save of the load that it is. */
void derive(const struct job *job, section_set sections, struct derived *derived);
/* The same for a trial: *derived is zeroed, or of another job for the same
 * sections. */
void derive_again(const struct job *job, section_set sections, struct derived *derived);

/* Put what is known into the report, one function per section. */
void load_report(const struct derived *derived, struct report *report);
void strength_report(const struct derived *derived, struct report *report);
void slot_report(const struct derived *derived, struct report *report);
void set_screw_report(const struct derived *derived, struct report *report);
void fit_report(const struct derived *derived, struct report *report);
void inspection_report(const struct derived *derived, struct report *report);
void turning_report(const struct derived *derived, struct report *report);

#endif

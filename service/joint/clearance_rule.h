#ifndef SMALLEND_JOINT_CLEARANCE_RULE_H
#define SMALLEND_JOINT_CLEARANCE_RULE_H

/*
 * The trade's rules for play between pin and hole, all on the diameter. They
 * are stated per inch of diameter with a floor in inches.
 */

/* A window of clearance, and the play beyond which the joint is worn out. */
struct clearance_rule {
    double min_m, max_m; /* wanted */
    double worn_m;
};

/* What to aim at: 0.0005 to 0.001 in per inch (common practice, no source). */
struct clearance_rule clearance_rule_aim(double diameter_m);

/*
 * What a running fit is judged by: from the larger of 0.0005 d and 0.0004 in
 * to the larger of 0.0015 d and 0.0010 in, worn beyond the larger of 0.003 d
 * and 0.003 in. Covers the fits printed in the engine manuals collected for
 * this table (0.0004 to 0.0015 per inch, wear limits of 0.003 to 0.004 in).
 */
struct clearance_rule clearance_rule_running(double diameter_m);

/*
 * How far a split eye may have to close before it grips its pin: max_m is
 * advised (larger of 0.0005 d and 0.0003 in), worn_m the limit (larger of
 * 0.0015 d and 0.0010 in); judgement.
 */
struct clearance_rule clearance_rule_held(double diameter_m);

#endif

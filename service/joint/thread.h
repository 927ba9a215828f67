#ifndef SMALLEND_JOINT_THREAD_H
#define SMALLEND_JOINT_THREAD_H

/* Screw threads: designation to diameter and pitch, stress area. */

#include <stdbool.h>
#include <stddef.h>

enum { THREAD_TEXT_SIZE = 32 };

struct thread {
    char designation[THREAD_TEXT_SIZE]; /* as recognised, "3/8-16 UNC" */
    double diameter_m;                  /* nominal (major) diameter */
    double pitch_m;
    bool metric;
};

/*
 * Read a designation: "3/8-16 UNC", "3/8-16", "3/8 UNC", "#10-24", "M10x1.5",
 * "M10" (coarse pitch), letters in either case, spaces optional. False if it
 * is none or not in a sensible range (1 to 100 mm); *thread is then untouched.
 */
bool thread_read(const char *text, struct thread *thread) __attribute__((warn_unused_result));

/* The coarse thread (UNC, or ISO coarse) whose diameter is nearest; used for a
 * bolt given by its shank alone. */
void thread_coarse_near(double diameter_m, bool metric, struct thread *thread);

/*
 * Tensile stress area, m2. Inch: pi/4 (D - 0.9743/n)^2 [ASME B1.1]; metric:
 * pi/4 (d - 0.9382 P)^2 [ISO 898-1].
 */
double thread_stress_area_m2(const struct thread *thread);

/*
 * Holding power of one socket set screw with a cup point, seated at its
 * published torque on a shaft hardened to 15 HRC; it needs a shaft at least 10
 * HRC softer than the screw, and loses up to 15 % on a harder one. A typical
 * breaking-loose load: the makers ask for a factor of 1.5 to 2 where the load
 * is steady and 4 to 8 where it changes. The same force holds along the shaft
 * and, at the shaft's radius, against turning it.
 */
struct screw_hold {
    const char *size;      /* "#10", "1/4", "3/8" ... */
    double diameter_m;
    double seating_torque_Nm;
    double axial_N;        /* published axial holding power at that torque */
    const char *source;
    const char *note;
};
const struct screw_hold *screw_hold_table(size_t *count);

/* The row of this nominal diameter, or of the next smaller size (safe side);
 * NULL below the smallest. */
const struct screw_hold *screw_hold_find(double diameter_m);

/* Holding power of a kind of point against the cup point's. */
struct screw_point {
    const char *point; /* "cup", as in choice.def */
    double factor;
    const char *source;
};
const struct screw_point *screw_point_table(size_t *count);

/* The factor of a kind of point, 0 for a word that names none. */
double screw_point_factor(const char *point);

#endif

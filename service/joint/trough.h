#ifndef SMALLEND_JOINT_TROUGH_H
#define SMALLEND_JOINT_TROUGH_H

/*
 * How slot and clamp bolt fit together: exact geometry of a bolt of radius rb
 * whose axis stands `offset` from the pin's, and a trough of depth h cut by a
 * cutter of radius rc in a pin of radius R. Derived for this project, checked
 * by an overlap test of sampled solids.
 */

#include <stdbool.h>

/* R - (e - rb): how far the bolt reaches into the pin's circle; <= 0 misses. */
double trough_intrusion_m(double pin_radius_m, double bolt_radius_m, double offset_m);

/*
 * Travel along the pin each way before bolt and trough meet: the least, over
 * every height at which both are there, of the trough's half width less the
 * bolt's. False where they cannot meet (the bolt misses the pin) or overlap
 * already (the trough does not clear the bolt).
 */
bool trough_axial_play_m(double pin_radius_m, double bolt_radius_m, double offset_m, double cutter_radius_m,
                         double depth_m, double *play_m);

/* Rotation each way: acos(1 - h/R) - acos(1 - intrusion/R). */
double trough_rotational_play_rad(double pin_radius_m, double depth_m, double intrusion_m);

/* Width of the trough along the pin at its surface. */
double trough_mouth_m(double pin_radius_m, double cutter_radius_m, double depth_m);

#endif

#ifndef SMALLEND_JOINT_THERMAL_H
#define SMALLEND_JOINT_THERMAL_H

/* Size at a temperature. Sizes of parts hold at 20 degC (68 degF) [ISO 1]. */

#define THERMAL_REFERENCE_degC 20.0

/* Size of a part at a temperature, from its size at 20 degC. */
double thermal_size_m(double size_m, double expansion_per_K, double temperature_degC);

/*
 * Size at 20 degC of a warm part, read with an instrument that is warm too:
 * reading x (1 + instrument's growth) / (1 + part's growth).
 */
double thermal_size_from_reading_m(double reading_m, double part_expansion_per_K, double part_degC,
                                   double instrument_expansion_per_K, double instrument_degC);

#endif

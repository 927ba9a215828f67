#include "joint/thermal.h"

static double
growth_ratio(double expansion_per_K, double temperature_degC)
{
    return 1.0 + expansion_per_K * (temperature_degC - THERMAL_REFERENCE_degC);
}

double
thermal_size_m(double size_m, double expansion_per_K, double temperature_degC)
{
    return size_m * growth_ratio(expansion_per_K, temperature_degC);
}

double
thermal_size_from_reading_m(double reading_m, double part_expansion_per_K, double part_degC,
                            double instrument_expansion_per_K, double instrument_degC)
{
    return reading_m * growth_ratio(instrument_expansion_per_K, instrument_degC) /
           growth_ratio(part_expansion_per_K, part_degC);
}

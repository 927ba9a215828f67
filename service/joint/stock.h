#ifndef SMALLEND_JOINT_STOCK_H
#define SMALLEND_JOINT_STOCK_H

/* Diameters that bar is sold in: stock.def. */

#include "quantity/unit.h"

/* The smallest bar of at least this diameter. */
double stock_next_m(double least_m, enum unit_system units);

/* The largest bar of at most this diameter; 0 where no bar is so thin. */
double stock_below_m(double most_m, enum unit_system units);

#endif

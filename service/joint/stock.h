#ifndef SMALLEND_JOINT_STOCK_H
#define SMALLEND_JOINT_STOCK_H

/* Diameters that bar is sold in: stock.def. */

#include "quantity/unit.h"

/* The smallest bar of at least this diameter. */
double stock_next_m(double least_m, enum unit_system units);

#endif

#ifndef SMALLEND_WIRE_SCHEMA_ORDER_H
#define SMALLEND_WIRE_SCHEMA_ORDER_H

/* The release record of an order. */

#include "wire/schema_part.h"

/* Definitions: OrderResults and all that it is made of. */
void schema_order(struct writer *writer);

#endif

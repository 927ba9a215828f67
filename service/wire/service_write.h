#ifndef SMALLEND_WIRE_SERVICE_WRITE_H
#define SMALLEND_WIRE_SERVICE_WRITE_H

/* Which service, of which version, by which edition of the rules. */

#include "wire/writer.h"

/* The member "service" of an answer. */
void service_write(struct writer *writer);

/* The document at "/": the service, its calls, its tables. */
void service_write_index(struct buffer *out);

#endif

#ifndef SMALLEND_JOINT_MESSAGE_H
#define SMALLEND_JOINT_MESSAGE_H

#include "quantity/unit.h"

/*
 * A sentence with values. In the text "{0}" to "{3}" stand for quantities,
 * "{0%}" for a ratio as whole percent, "{0^}" for a quantity rounded up to what
 * a shop works to and "{0_}" for one rounded down, "{0.}" for a size as a
 * micrometer shows it, "{01.}" for two of them, written once where they read
 * alike, "{01:}" for two limits to work to, rounded inward, "{a}" and "{b}" for
 * words; the carriage writes the quantities in the asker's units.
 */
struct message {
    const char *text; /* NULL = none */
    struct { double si; enum dimension dimension; } value[4];
    const char *word[2];
};

/* Set a value or a word of it. */
static inline void
message_value(struct message *message, size_t place, double si, enum dimension dimension)
{
    message->value[place].si = si;
    message->value[place].dimension = dimension;
}

#endif

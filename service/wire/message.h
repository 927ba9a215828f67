#ifndef SMALLEND_WIRE_MESSAGE_H
#define SMALLEND_WIRE_MESSAGE_H

/* The core's sentences with their values written in the asker's units. */

#include "base/text.h"
#include "joint/report.h"

/* Longest sentence, its values filled in. */
enum { MESSAGE_SIZE = 1024 };

/* Append the message to `text`; nothing if it has no text. */
void message_write(struct text *text, const struct message *message, enum unit_system system);

/* The same into a buffer of its own. */
struct message_text {
    char at[MESSAGE_SIZE];
};
void message_render(struct message_text *rendered, const struct message *message, enum unit_system system);

/* A finding's advice; where it fails on assumed dimensions, it says so. */
void message_render_finding(struct message_text *rendered, const struct finding *finding, enum unit_system system);

#endif

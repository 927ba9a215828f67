#ifndef SMALLEND_JOINT_PIN_READS_H
#define SMALLEND_JOINT_PIN_READS_H

/* Members that the pin's bending rests on, for the reads of checks. */

#define READS_LAYOUT FIELD_pin_length, FIELD_eye_width, FIELD_boss_gap, FIELD_boss_length
#define READS_BENDING READS_FORCE, FIELD_pin_held_in, FIELD_pin_diameter, FIELD_pin_inside_diameter, READS_LAYOUT

#endif

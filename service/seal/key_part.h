#ifndef SMALLEND_SEAL_KEY_PART_H
#define SMALLEND_SEAL_KEY_PART_H

#include "seal/key.h"

/* Between key.c and key_read.c: give a key its id, once pkey and kind are set. */
bool key_part_name(struct key *key);

#endif

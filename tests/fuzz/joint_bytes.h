#ifndef SMALLEND_TESTS_FUZZ_JOINT_BYTES_H
#define SMALLEND_TESTS_FUZZ_JOINT_BYTES_H

/*
 * A job made of bytes: any that the reader of documents could hand over, and no
 * other. Each member of job.def has its place in the bytes, of a length that
 * does not depend on what stands there, so that a change of one byte changes
 * one member; what is missing at the end reads as zero, and zero as absent.
 */

#include <stddef.h>
#include <stdint.h>

#include "joint/job.h"

struct bytes {
    const uint8_t *at;
    size_t left;
};

uint8_t bytes_take(struct bytes *bytes);

/* Not completed. */
void job_from_bytes(struct bytes *bytes, struct job *job);

#endif

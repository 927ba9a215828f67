#include "joint/derived.h"

static void
derive_rest(const struct job *job, struct derived *derived)
{
    strength_derive(job, derived);
    slot_derive(job, derived);
    set_screw_derive(job, derived);
    running_derive(job, derived);
    press_derive(job, derived);
    inspection_derive(job, derived);
    turning_derive(job, derived);
}

void
derive(const struct job *job, struct derived *derived)
{
    load_derive(job, derived);
    derive_rest(job, derived);
}

void
derive_again(const struct job *job, struct derived *derived)
{
    load_derive_again(job, derived);
    derive_rest(job, derived);
}

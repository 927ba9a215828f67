#include "joint/derived.h"

void
derive(const struct job *job, struct derived *derived)
{
    load_derive(job, derived);
    strength_derive(job, derived);
    slot_derive(job, derived);
    set_screw_derive(job, derived);
    running_derive(job, derived);
    press_derive(job, derived);
    inspection_derive(job, derived);
    turning_derive(job, derived);
}

#include "joint/derived.h"

/* Sections whose results, checks or conclusions read a part. One that comes to
 * read another part has to be named with it: else nothing of it is known there. */

/* The force on the pin, and what it does; this takes most of the time. */
#define REST_ON_FORCE                                                                                                  \
    (SECTION_BIT(load) | SECTION_BIT(strength) | SECTION_BIT(slot) | SECTION_BIT(set_screw) | SECTION_BIT(material) |  \
     SECTION_BIT(order))
/* An order is for a part that is made from stock. */
#define REST_ON_TURNING (SECTION_BIT(turning) | SECTION_BIT(order))

void
derive(const struct job *job, section_set sections, struct derived *derived)
{
    *derived = (struct derived){0};
    derive_again(job, sections, derived);
}

void
derive_again(const struct job *job, section_set sections, struct derived *derived)
{
    if ((sections & REST_ON_FORCE) != 0) {
        load_derive(job, derived);
        strength_derive(job, derived);
        slot_derive(job, derived);
        set_screw_derive(job, derived);
    } else {
        load_derive_known(job, derived);
    }
    running_derive(job, derived);
    press_derive(job, derived);
    if ((sections & SECTION_BIT(inspection)) != 0) {
        inspection_derive(job, derived);
    }
    if ((sections & REST_ON_TURNING) != 0) {
        turning_derive(job, derived);
    }
}

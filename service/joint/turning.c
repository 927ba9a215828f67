#include "joint/derived.h"

void
turning_derive(const struct job *job, struct derived *derived)
{
    (void)job;
    derived->turning = (struct turning){0};
}

void
turning_report(const struct derived *derived, struct report *report)
{
    (void)derived;
    (void)report;
}

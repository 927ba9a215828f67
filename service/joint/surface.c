#include "joint/surface.h"

bool
surface_rubs(const struct job *job, enum surface surface)
{
    return job->pin.held_in != (surface == SURFACE_BOSS ? CHOICE_held_in_PISTON : CHOICE_held_in_ROD);
}

enum job_field
surface_bushing_field(enum surface surface)
{
    return surface == SURFACE_BOSS ? FIELD_boss_bushing : FIELD_eye_bushing;
}

const struct metal *
surface_metal(const struct job *job, enum surface surface)
{
    const struct metal *bushing = job_metal(job, surface_bushing_field(surface));
    const enum choice_set set = surface == SURFACE_BOSS ? CHOICE_SET_boss_metal : CHOICE_SET_eye_metal;
    const int word = surface == SURFACE_BOSS ? job->boss.metal : job->eye.metal;
    size_t count;

    return bushing != NULL ? bushing : metal_with_id(choice_table(set, &count)[word].text);
}

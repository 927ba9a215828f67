#include "wire/material_spell.h"

#include <string.h>

#include "wire/material_read.h"
#include "wire/own_material.h"
#include "wire/quantity_spell.h"

/* A figure of a steel or a metal that the client gave; others are assumed. */
static const struct figure *
given_figure(const void *row, const struct own_member *member)
{
    const struct figure *figure = (const void *)((const char *)row + member->offset);
    const bool own = figure->given && figure->source != NULL && strcmp(figure->source, OWN_MATERIAL_ID) == 0;
    return own ? figure : NULL;
}

static void
spell_figure(struct writer *writer, const struct job *job, const struct own_member *member, const void *row)
{
    const struct figure *figure = given_figure(row, member);
    if (figure != NULL) {
        const struct spelling how = spelling_of_job(job, member->dimension);
        spell_quantity(writer, &how, member->name, 0.0, figure->si);
    }
}

void
spell_steel(struct writer *writer, const struct job *job, const char *key, const struct steel_choice *choice)
{
    if (choice->row != NULL) {
        writer_text(writer, key, choice->by_grade ? steel_grade_name(choice->row) : choice->row->id);
        return;
    }
    const struct steel *own = &choice->own;
    const bool rockwell = own->hardness_hrc.given;
    const bool hardness = rockwell || own->hardness_hb.given;
    size_t count = 0;
    const struct own_member *member = own_steel_members(&count);
    writer_object(writer, key);
    for (size_t i = 0; i < count; i++) {
        if (member[i].kind == OWN_FIGURE) {
            spell_figure(writer, job, &member[i], own);
        } else if (member[i].kind == OWN_NUMBER && hardness) {
            writer_exact(writer, member[i].name, rockwell ? own->hardness_hrc.si : own->hardness_hb.si);
        } else if (member[i].kind == OWN_SCALE && hardness) {
            writer_text(writer, member[i].name, rockwell ? "HRC" : "HB");
        } else if (member[i].kind == OWN_BASIS) {
            writer_text(writer, member[i].name, choice->basis);
        }
    }
    writer_object_end(writer);
}

void
spell_metal(struct writer *writer, const struct job *job, const char *key, const struct metal_choice *choice)
{
    if (choice->row != NULL) {
        writer_text(writer, key, choice->row->id);
        return;
    }
    size_t count = 0;
    const struct own_member *member = own_metal_members(&count);
    writer_object(writer, key);
    for (size_t i = 0; i < count; i++) {
        if (member[i].kind == OWN_FIGURE) {
            spell_figure(writer, job, &member[i], &choice->own);
        } else if (member[i].kind == OWN_KIND) {
            writer_text(writer, member[i].name, metal_kind_text(choice->own.kind));
        } else if (member[i].kind == OWN_BASIS) {
            writer_text(writer, member[i].name, choice->basis);
        }
    }
    writer_object_end(writer);
}

#include "joint/material.h"

#include <stddef.h>

const char *
provenance_text(enum provenance provenance)
{
    switch (provenance) {
    case PROVENANCE_READ:
        return "read";
    case PROVENANCE_MEMORY:
        return "from memory";
    case PROVENANCE_DERIVED:
        return "derived";
    case PROVENANCE_JUDGEMENT:
        return "judgement";
    }
    return "";
}

const char *
strength_basis_text(enum strength_basis basis)
{
    switch (basis) {
    case BASIS_SPECIFICATION:
        return "specification";
    case BASIS_ESTIMATED_MINIMUM:
        return "estimated minimum";
    case BASIS_TYPICAL:
        return "typical";
    case BASIS_CERTIFICATE:
        return "certificate";
    }
    return "";
}

const char *
metal_kind_text(enum metal_kind kind)
{
    switch (kind) {
    case METAL_BRONZE:
        return "bronze";
    case METAL_BABBITT:
        return "babbitt";
    case METAL_GREY_IRON:
        return "iron";
    case METAL_ALUMINIUM:
        return "aluminium";
    case METAL_STEEL:
        return "steel";
    case METAL_BRASS:
        return "brass";
    }
    return "";
}

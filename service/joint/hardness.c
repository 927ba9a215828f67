#include "joint/material.h"

/*
 * Brinell number (10 mm tungsten carbide ball, 3,000 kgf) for each whole
 * number of Rockwell C from 20 to 65: ASTM E140, Table 1, non-austenitic
 * steels. 35 HRC and up read in two copies of it; 20 to 34 HRC from
 * memory. E140 brackets the numbers above 58 HRC as outside the range meant
 * for Brinell tests.
 */
enum { HRC_FIRST = 20, HRC_LAST = 65 };

static const short brinell[HRC_LAST - HRC_FIRST + 1] = {
    /* 20 */ 226, 231, 237, 243, 247, 253, 258, 264, 271, 279,
    /* 30 */ 286, 294, 301, 311, 319, 327, 336, 344, 353, 362,
    /* 40 */ 371, 381, 390, 400, 409, 421, 432, 443, 455, 469,
    /* 50 */ 481, 496, 512, 525, 543, 560, 577, 595, 615, 634,
    /* 60 */ 654, 670, 688, 705, 722, 739};

double
hardness_HB_from_HRC(double hrc)
{
    int whole;

    if (!(hrc > HRC_FIRST)) {
        return brinell[0];
    }
    if (hrc >= HRC_LAST) {
        return brinell[HRC_LAST - HRC_FIRST];
    }
    whole = (int)hrc - HRC_FIRST;
    return brinell[whole] + (brinell[whole + 1] - brinell[whole]) * (hrc - (int)hrc);
}

#ifndef SMALLEND_JOINT_OVAL_H
#define SMALLEND_JOINT_OVAL_H

/*
 * Ovalization of a hollow pin under a cosine pressure, after the automotive
 * textbook formula (Kolchin and Demidov, from memory; its constants 0.19,
 * 0.174, 0.636 and 0.09 confirmed by the energy solution of a ring). The
 * empirical K = 15 [0.1 - (a - 0.4)^3] is used as max(K, 1.10): with K = 1 the
 * formula is 2 to 9 % low on the governing stress against finite elements.
 * Made for 0.4 <= a <= 0.8, a = inside / outside.
 */
struct oval {
    double factor_ratio; /* K used */
    double growth_m;     /* across the load, on the diameter */
    double outer_side_Pa, inner_side_Pa, outer_top_Pa, inner_top_Pa;
    double stress_max_Pa; /* largest magnitude of the four */
};

/* The textbook's K, before the floor of 1.10. */
double oval_textbook_factor(double hollow_ratio);

/* With a given K: the textbook's own worked figures can be reproduced. */
void oval_with_factor(double factor, double force_N, double length_m, double outside_m, double inside_m,
                      double modulus_Pa, struct oval *oval);
void oval_of(double force_N, double length_m, double outside_m, double inside_m, double modulus_Pa, struct oval *oval);

#endif

/* check.h - a comparison that shows its figures; include cmocka.h first. */
#ifndef TESTS_GEOMETRY_CHECK_H
#define TESTS_GEOMETRY_CHECK_H

#include <math.h>

static inline void close_to(double got, double wanted, double within)
{
	if (!(fabs(got - wanted) <= within))
		fail_msg("%.15g is not %.15g within %g", got, wanted, within);
}

#endif

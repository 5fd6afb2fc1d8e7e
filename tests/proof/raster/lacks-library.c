/* lacks-library.c - a module whose library is missing. */
#include "raster/raster.h"

int gone(void);

static int draw(const struct raster_order *order, char *fault, size_t size)
{
	(void)order;
	(void)fault;
	(void)size;
	return gone();
}

const struct raster cutlint_raster = {
	.abi = RASTER_ABI, .size = sizeof(struct raster), .draw = draw};

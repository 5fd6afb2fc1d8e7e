/* crashes.c - a module that begins a picture and crashes. */
#include <stdlib.h>

#include "raster/raster.h"

static int draw(const struct raster_order *order, char *fault, size_t size)
{
	(void)fault;
	(void)size;
	order->write(order->user, order->svg, 8);
	abort();
}

const struct raster cutlint_raster = {
	.abi = RASTER_ABI, .size = sizeof(struct raster), .draw = draw};

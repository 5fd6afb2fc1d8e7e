/* breaks-off.c - a module that begins a picture and then gives a reason to stop. */
#include <stdio.h>

#include "raster/raster.h"

static int draw(const struct raster_order *order, char *fault, size_t size)
{
	order->write(order->user, order->svg, 8);
	snprintf(fault, size, "the ink ran out");
	return -1;
}

const struct raster cutlint_raster = {
	.abi = RASTER_ABI, .size = sizeof(struct raster), .draw = draw};

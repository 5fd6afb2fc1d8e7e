/* other-abi.c - a module of a later cutlint. */
#include "raster/raster.h"

const struct raster cutlint_raster = {.abi = RASTER_ABI + 1, .size = sizeof(struct raster)};

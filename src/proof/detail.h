/* detail.h - one finding seen closely: the sheet round its place, many times its size. */
#ifndef PROOF_DETAIL_H
#define PROOF_DETAIL_H

#include "proof/scene.h"

/* Details are drawn of so many findings, and of none in drawings that are written coarsely. */
#define DETAIL_MOST 60u

/* Whether findings have a detail at all. */
bool detail_wanted(const struct scene *scene, const struct finding *finding, uint32_t number);

/* Writes it as a picture of its own, and returns how many times its true size it has. */
double detail_scale(const struct finding *finding);
void detail_write(const struct scene *scene, struct writer *writer, const struct finding *finding,
		  uint32_t number);

#endif

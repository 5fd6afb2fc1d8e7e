#include "job/job.h"

/*
 * Card of 250 g/m² is common for greeting cards, 0.34 mm its caliper as uncoated card, 0.15 mm a
 * usual kerf of a small diode laser; all three common practice, no standard.
 */
const char job_default_text[] = "[stock]\n"
				"name = card\n"
				"thickness = 0.34 mm\n"
				"grammage = 250 g/m2\n"
				"\n"
				"[burn]\n"
				"kerf = 0.15 mm\n"
				"cut-from = front\n"
				"\n"
				"[card]\n"
				"spine = left\n"
				"\n"
				"[drawing]\n"
				"flatness = 0.005 mm\n"
				"join = 0.05 mm\n"
				"scan = 3 mm\n"
				"\n"
				"[roles]\n"
				"default-words = yes\n";

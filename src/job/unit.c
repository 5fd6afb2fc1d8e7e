/*
 * Absolute lengths: CSS Values and Units Level 4, section 6.2 (1 in = 25.4 mm = 72 pt = 96 px).
 * Grammage: ISO 536 states it in g/m²; "gsm" is the trade's word for the same unit. A pound of
 * cover is the weight of 500 sheets of 20 in x 26 in (printers' basis weight tables).
 */
#include "job/unit.h"

#define DEGREES_PER_HALF_TURN 180.0
#define HALF_TURN             3.14159265358979323846
#define GRAMS_PER_POUND       453.59237
#define REAM_M2               (500 * 20 * 26 * 0.00064516)

static const struct units UNITS[] = {
	[VALUE_LENGTH] = {"a length",
			  {{"mm", 1, 1},
			   {"cm", 10, 1},
			   {"in", 25.4, 1},
			   {"pt", 25.4, 72},
			   {"px", 25.4, 96},
			   {"um", 1, 1000}},
			  {"mm", "cm", "in", "pt", "px", "um"},
			  6},
	[VALUE_AREA] = {"an area",
			{{"mm2", 1, 1}, {"cm2", 100, 1}, {"in2", 645.16, 1}},
			{"mm2", "cm2", "in2"},
			3},
	[VALUE_ANGLE] = {"an angle",
			 {{"deg", HALF_TURN, DEGREES_PER_HALF_TURN}, {"rad", 1, 1}},
			 {"deg", "rad"},
			 2},
	[VALUE_SHARE] = {"a share", {{"%", 1, 100}}, {"%"}, 1},
	[VALUE_SPEED] =
		{"a speed",
		 {{"mm/s", 1, 1}, {"mm/min", 1, 60}, {"in/min", 25.4, 60}, {"in/s", 25.4, 1}},
		 {"mm/s", "mm/min", "in/min", "in/s"},
		 4},
	[VALUE_POWER] = {"a power", {{"W", 1, 1}, {"mW", 1, 1000}}, {"W", "mW"}, 2},
	[VALUE_GRAMMAGE] = {"a grammage",
			    {{"g/m2", 1, 1}, {"gsm", 1, 1}, {"lb cover", GRAMS_PER_POUND, REAM_M2}},
			    {"g/m2", "gsm", "lb cover"},
			    3},
	[VALUE_NUMBER] = {.noun = "a number"},
	[VALUE_COUNT] = {.noun = "a whole number"},
	[VALUE_FLAG] = {.noun = "yes or no"},
};

const struct units *unit_list(enum value_kind kind)
{
	return &UNITS[kind];
}

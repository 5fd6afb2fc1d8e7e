#include "cutlint/command.h"

int main(int argc, char **argv)
{
	return cutlint_command(argc, argv);
}

#define _GNU_SOURCE /* link.h: the ELF types of this machine */
#include "engine/shared_object.h"

#include <errno.h>
#include <fcntl.h>
#include <link.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define NOT_SHARED "it is not a shared object"
#define CUT_SHORT  "it is cut short"

/* Program headers that are read at once: more than a module has. */
#define AT_ONCE 16u

static bool read_at(int file, void *out, size_t size, ElfW(Off) offset)
{
	return pread(file, out, size, (off_t)offset) == (ssize_t)size;
}

/* System V ABI, chapter 4 (ELF header) and 5 (program header). */
static const char *fault_of(int file, ElfW(Off) length)
{
	ElfW(Ehdr) header;
	if (!read_at(file, &header, sizeof(header), 0) ||
	    memcmp(header.e_ident, ELFMAG, SELFMAG) != 0 || header.e_type != ET_DYN ||
	    header.e_phentsize != sizeof(ElfW(Phdr)))
		return NOT_SHARED;

	for (unsigned first = 0; first < header.e_phnum; first += AT_ONCE) {
		ElfW(Phdr) segments[AT_ONCE];
		unsigned left = header.e_phnum - first, count = left < AT_ONCE ? left : AT_ONCE;
		if (!read_at(file, segments, count * sizeof(*segments),
			     header.e_phoff + first * sizeof(*segments)))
			return CUT_SHORT;
		for (unsigned i = 0; i < count; i++) {
			const ElfW(Phdr) *segment = &segments[i];
			if (segment->p_filesz > length ||
			    segment->p_offset > length - segment->p_filesz)
				return CUT_SHORT;
		}
	}
	return NULL;
}

const char *shared_object_fault(const char *path)
{
	/* O_NONBLOCK: opening a FIFO must not wait for its writer. */
	int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
	if (file < 0)
		return strerror(errno);
	struct stat status;
	const char *fault;
	if (fstat(file, &status) < 0)
		fault = strerror(errno);
	else if (!S_ISREG(status.st_mode))
		fault = "it is not a regular file";
	else
		fault = fault_of(file, (ElfW(Off))status.st_size);
	close(file);
	return fault;
}

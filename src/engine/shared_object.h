/*
 * shared_object.h - a look at a shared object's bytes before the dynamic linker maps them, which
 * ends the process where the file is cut short.
 */
#ifndef ENGINE_SHARED_OBJECT_H
#define ENGINE_SHARED_OBJECT_H

/* NULL if the file looks whole, else why it can't be loaded: a constant, or strerror's. */
const char *shared_object_fault(const char *path);

#endif

/* Lets the n-th thing that a program does to the files of one folder fail: a write, a truncation, a sync, a file made.
 * FAIL_FOLDER names the folder. Told from inside the program: fail_at(n, error, 1 to go on failing); 0 tells it to stop.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static int left, with, goes_on;

void fail_at(int n, int error, int on) { left = n; with = error; goes_on = on; }
int still_waiting(void) { return left; }

static int ours(const char *path)
{
    const char *folder = getenv("FAIL_FOLDER");
    return folder && !strncmp(path, folder, strlen(folder)) && !strstr(path, "write.lock");
}

static int due(void)
{
    if (!left) return 0;
    if (left > 1) { left--; return 0; }
    if (!goes_on) left = 0;
    errno = with;
    return 1;
}

static int fails(int file)
{
    char link[40], path[PATH_MAX];
    if (!left) return 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", file);
    ssize_t length = readlink(link, path, sizeof path - 1);
    if (length < 0) return 0;
    path[length] = 0;
    return ours(path) && due();
}

#define REAL(name) static __typeof__(&name) real; if (!real) real = (__typeof__(&name))dlsym(RTLD_NEXT, #name)

ssize_t write(int f, const void *d, size_t n) { REAL(write); return fails(f) ? -1 : real(f, d, n); }
ssize_t pwrite(int f, const void *d, size_t n, off_t o) { REAL(pwrite); return fails(f) ? -1 : real(f, d, n, o); }
ssize_t pwrite64(int f, const void *d, size_t n, off64_t o) { REAL(pwrite64); return fails(f) ? -1 : real(f, d, n, o); }
int ftruncate(int f, off_t n) { REAL(ftruncate); return fails(f) ? -1 : real(f, n); }
int ftruncate64(int f, off64_t n) { REAL(ftruncate64); return fails(f) ? -1 : real(f, n); }
int fsync(int f) { REAL(fsync); return fails(f) ? -1 : real(f); }
int fdatasync(int f) { REAL(fdatasync); return fails(f) ? -1 : real(f); }

#define MODE(flags) int mode = 0; if (flags & O_CREAT) { va_list more; va_start(more, flags); \
    mode = va_arg(more, int); va_end(more); }

int open(const char *path, int flags, ...)
{
    REAL(open);
    MODE(flags);
    return (flags & O_CREAT) && ours(path) && due() ? -1 : real(path, flags, mode);
}

int open64(const char *path, int flags, ...)
{
    REAL(open64);
    MODE(flags);
    return (flags & O_CREAT) && ours(path) && due() ? -1 : real(path, flags, mode);
}

/* Records what a program does to the files of one folder: every write, truncation, creation, removal, renaming and
 * sync, in order, into a trace from which the disk at any moment can be made again.
 *
 *     CUTS_FOLDER   the folder, absolute, without a slash at its end
 *     CUTS_TRACE    the trace, elsewhere
 *
 * Loaded into the program with LD_PRELOAD. One record: kind, length of the path, offset, length of the data; then
 * path and data. What a program maps into memory is not seen: SQLite so keeps only its index of the log, which is
 * made anew after a power cut.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/uio.h>
#include <unistd.h>

enum { WRITE = 1, TRUNCATE, UNLINK, SYNC, CREATE, RENAME };

struct head { uint32_t kind, path_length; int64_t offset, length; };

static const char *folder;
static size_t folder_length;
static int trace = -1;

__attribute__((constructor)) static void begin(void)
{
    const char *name = getenv("CUTS_TRACE");
    folder = getenv("CUTS_FOLDER");
    if (!name || !folder) return;
    folder_length = strlen(folder);
    int opened = syscall(SYS_openat, AT_FDCWD, name, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
    trace = fcntl(opened, F_DUPFD_CLOEXEC, 700);
    close(opened);
}

static int ours(const char *path)
{
    return trace >= 0 && !strncmp(path, folder, folder_length)
        && (path[folder_length] == '/' || !path[folder_length]);
}

static int path_of(int file, char *path)
{
    char link[40];
    snprintf(link, sizeof link, "/proc/self/fd/%d", file);
    ssize_t length = readlink(link, path, PATH_MAX - 1);
    if (length < 0) return 0;
    path[length] = 0;
    return ours(path) && !strstr(path, " (deleted)");
}

static void note(uint32_t kind, const char *path, int64_t offset, const void *data, int64_t length, int64_t said)
{
    struct head head = { kind, (uint32_t)strlen(path), offset, said };
    struct iovec parts[3] = { { &head, sizeof head }, { (void *)path, head.path_length }, { (void *)data, length } };
    if (syscall(SYS_writev, trace, parts, data ? 3 : 2) < 0) abort();
}

#define REAL(name) static __typeof__(&name) real; if (!real) real = (__typeof__(&name))dlsym(RTLD_NEXT, #name)

ssize_t write(int file, const void *data, size_t length)
{
    REAL(write);
    char path[PATH_MAX];
    int seen = trace >= 0 && path_of(file, path);
    ssize_t done = real(file, data, length);
    if (seen && done > 0) note(WRITE, path, lseek(file, 0, SEEK_CUR) - done, data, done, done);
    return done;
}

static void note_at(int file, const void *data, ssize_t done, int64_t offset)
{
    char path[PATH_MAX];
    if (trace >= 0 && done > 0 && path_of(file, path)) note(WRITE, path, offset, data, done, done);
}

ssize_t pwrite(int file, const void *data, size_t length, off_t offset)
{
    REAL(pwrite);
    ssize_t done = real(file, data, length, offset);
    note_at(file, data, done, offset);
    return done;
}

ssize_t pwrite64(int file, const void *data, size_t length, off64_t offset)
{
    REAL(pwrite64);
    ssize_t done = real(file, data, length, offset);
    note_at(file, data, done, offset);
    return done;
}

static int truncated(int file, int64_t length, int done)
{
    char path[PATH_MAX];
    if (trace >= 0 && !done && path_of(file, path)) note(TRUNCATE, path, 0, NULL, 0, length);
    return done;
}

int ftruncate(int file, off_t length) { REAL(ftruncate); return truncated(file, length, real(file, length)); }
int ftruncate64(int file, off64_t length) { REAL(ftruncate64); return truncated(file, length, real(file, length)); }

static int synced(int file, int done)
{
    char path[PATH_MAX];
    if (trace >= 0 && !done && path_of(file, path)) note(SYNC, path, 0, NULL, 0, 0);
    return done;
}

int fsync(int file) { REAL(fsync); return synced(file, real(file)); }
int fdatasync(int file) { REAL(fdatasync); return synced(file, real(file)); }

int unlink(const char *path)
{
    REAL(unlink);
    int done = real(path);
    if (!done && ours(path)) note(UNLINK, path, 0, NULL, 0, 0);
    return done;
}

int rename(const char *from, const char *to)
{
    REAL(rename);
    int done = real(from, to);
    if (!done && ours(to)) note(RENAME, from, 0, to, strlen(to), strlen(to));
    return done;
}

static int opened(const char *path, int flags, int was_there, int file)
{
    if (file >= 0 && ours(path)) {
        if ((flags & O_CREAT) && !was_there) note(CREATE, path, 0, NULL, 0, 0);
        else if (flags & O_TRUNC) note(TRUNCATE, path, 0, NULL, 0, 0);
    }
    return file;
}

#define MODE(flags) int mode = 0; if (flags & O_CREAT) { va_list more; va_start(more, flags); \
    mode = va_arg(more, int); va_end(more); }
#define THERE(path) (syscall(SYS_faccessat, AT_FDCWD, path, F_OK) == 0)

int open(const char *path, int flags, ...)
{
    REAL(open);
    MODE(flags);
    int was_there = THERE(path);
    return opened(path, flags, was_there, real(path, flags, mode));
}

int open64(const char *path, int flags, ...)
{
    REAL(open64);
    MODE(flags);
    int was_there = THERE(path);
    return opened(path, flags, was_there, real(path, flags, mode));
}

int openat(int at, const char *path, int flags, ...)
{
    REAL(openat);
    MODE(flags);
    int was_there = THERE(path);
    return opened(path, flags, was_there, real(at, path, flags, mode));
}

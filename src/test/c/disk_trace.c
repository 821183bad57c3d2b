/*
 * A disk that remembers: loaded before the C library (LD_PRELOAD), it writes down every change that
 * a program makes to the files of one folder, and every byte that it says on its standard output
 * and on its serial line, in the order in which they happen. On order it fails one of them.
 *
 * Environment:
 *   DISK_TRACE_FOLDER  the folder watched
 *   DISK_TRACE_FILE    where the trace goes; not in that folder. Without it nothing is recorded.
 *   DISK_TRACE_FAIL    number of the operation that fails, from 1; 0 or absent: none
 *   DISK_TRACE_EVER    1: every operation from then on fails
 *   DISK_TRACE_ERRNO   the error it fails with, a number
 *   DISK_TRACE_KILL    number of the change of the disk after which the program kills itself outright;
 *                      0 or absent: none
 *   DISK_TRACE_KILL_LINE  the same of what is said on the serial line
 *   DISK_TRACE_SIGNAL  the signal it sends itself then, a number; absent: SIGKILL
 *
 * A record of the trace, all numbers little-endian as this machine writes them:
 *   int32 kind, int32 name length, int64 offset or size, int32 data length, name, data
 * Kinds: 1 create, 2 write, 3 truncate, 4 sync file, 5 sync folder, 6 unlink, 7 said on standard
 * output, 8 said on the serial line, 9 failed as ordered.
 *
 * A file that is only mapped (the shared memory of SQLite's log) is not seen; SQLite makes it anew.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

enum kind { CREATE = 1, WRITE, TRUNCATE, SYNC_FILE, SYNC_FOLDER, UNLINK, SAID_OUT, SAID_LINE, FAILED };

#define FILES_MAX 4096

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static char folder[PATH_MAX];
static size_t folder_length;
static int trace_fd = -1;
static int64_t fail_at, operations, kill_at, changes, kill_at_line, lines;
static int fail_for_ever, fail_with = EIO, kill_with = SIGKILL;
static pid_t watched_process; /* one that is forked from it is another, until it becomes a program */
static char names[FILES_MAX][NAME_MAX + 1]; /* of the open files, by descriptor */
static char is_folder[FILES_MAX], is_line[FILES_MAX];

static int (*real_open)(const char *, int, ...);
static int (*real_close)(int);
static ssize_t (*real_write)(int, const void *, size_t);
static ssize_t (*real_pwrite)(int, const void *, size_t, off64_t);
static int (*real_ftruncate)(int, off64_t);
static int (*real_fsync)(int);
static int (*real_fdatasync)(int);
static int (*real_unlink)(const char *);

static int64_t number(const char *name, int64_t otherwise) {
    const char *text = getenv(name);
    return text ? strtoll(text, NULL, 10) : otherwise;
}

__attribute__((constructor)) static void begin(void) {
    real_open = (int (*)(const char *, int, ...))dlsym(RTLD_NEXT, "open64");
    real_close = (int (*)(int))dlsym(RTLD_NEXT, "close");
    real_write = (ssize_t(*)(int, const void *, size_t))dlsym(RTLD_NEXT, "write");
    real_pwrite = (ssize_t(*)(int, const void *, size_t, off64_t))dlsym(RTLD_NEXT, "pwrite64");
    real_ftruncate = (int (*)(int, off64_t))dlsym(RTLD_NEXT, "ftruncate64");
    real_fsync = (int (*)(int))dlsym(RTLD_NEXT, "fsync");
    real_fdatasync = (int (*)(int))dlsym(RTLD_NEXT, "fdatasync");
    real_unlink = (int (*)(const char *))dlsym(RTLD_NEXT, "unlink");
    watched_process = getpid();
    const char *where = getenv("DISK_TRACE_FOLDER");
    if (!where || !realpath(where, folder)) {
        return;
    }
    folder_length = strlen(folder);
    const char *trace = getenv("DISK_TRACE_FILE");
    if (trace) {
        trace_fd = real_open(trace, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
    }
    fail_at = number("DISK_TRACE_FAIL", 0);
    fail_for_ever = (int)number("DISK_TRACE_EVER", 0);
    fail_with = (int)number("DISK_TRACE_ERRNO", EIO);
    kill_at = number("DISK_TRACE_KILL", 0);
    kill_at_line = number("DISK_TRACE_KILL_LINE", 0);
    kill_with = (int)number("DISK_TRACE_SIGNAL", SIGKILL);
    /* What the program starts is not the program. */
    unsetenv("LD_PRELOAD");
    unsetenv("DISK_TRACE_FOLDER");
    unsetenv("DISK_TRACE_FILE");
    unsetenv("DISK_TRACE_FAIL");
    unsetenv("DISK_TRACE_KILL");
    unsetenv("DISK_TRACE_KILL_LINE");
    unsetenv("DISK_TRACE_SIGNAL");
}

static void put(enum kind kind, const char *name, int64_t at, const void *data, size_t length) {
    if (trace_fd < 0 || getpid() != watched_process) {
        return;
    }
    struct __attribute__((packed)) {
        int32_t kind, name_length;
        int64_t at;
        int32_t data_length;
    } head = {(int32_t)kind, (int32_t)strlen(name), at, (int32_t)length};
    struct iovec parts[3] = {
        {&head, sizeof head}, {(void *)(uintptr_t)name, strlen(name)}, {(void *)(uintptr_t)data, length}};
    if (writev(trace_fd, parts, 3) != (ssize_t)(sizeof head + strlen(name) + length)) {
        abort(); /* a trace with a hole proves nothing */
    }
    if ((kind < SAID_OUT && ++changes == kill_at) || (kind == SAID_LINE && ++lines == kill_at_line)) {
        kill(getpid(), kill_with);
    }
}

/* Whether this operation is the one that fails; counts it. Called with the lock held. */
static int fails(void) {
    operations++;
    if (fail_at == 0 || operations < fail_at || (operations > fail_at && !fail_for_ever)) {
        return 0;
    }
    put(FAILED, "", operations, "", 0);
    errno = fail_with;
    return 1;
}

/* The name of a path inside the folder, NULL of any other. */
static const char *inside(const char *path, char *buffer) {
    if (folder_length == 0) {
        return NULL;
    }
    if (strncmp(path, folder, folder_length) == 0 && path[folder_length] == '/') {
        const char *name = path + folder_length + 1;
        size_t length = strlen(name);
        if (length == 0 || length > NAME_MAX || strchr(name, '/')) {
            return NULL;
        }
        return strcpy(buffer, name);
    }
    return NULL;
}

static int watched(int fd) { return fd >= 0 && fd < FILES_MAX && names[fd][0] != 0; }

/* The shared memory of the log is made anew after a crash and proves nothing. */
static int counted(const char *name) {
    size_t length = strlen(name);
    return length < 4 || strcmp(name + length - 4, "-shm") != 0;
}

static int open_any(const char *path, int flags, mode_t mode) {
    char buffer[NAME_MAX + 1];
    const char *name = inside(path, buffer);
    int own_folder = folder_length > 0 && strcmp(path, folder) == 0;
    pthread_mutex_lock(&lock);
    int creates = name && counted(name) && (flags & O_CREAT) && access(path, F_OK) != 0;
    if (creates && fails()) {
        pthread_mutex_unlock(&lock);
        return -1;
    }
    int fd = real_open(path, flags, mode);
    if (fd >= 0 && fd < FILES_MAX) {
        names[fd][0] = 0;
        is_folder[fd] = (char)own_folder;
        is_line[fd] = (char)(strncmp(path, "/dev/", 5) == 0 || !name) && isatty(fd) && fd > 2;
        if (name && counted(name)) {
            strcpy(names[fd], name);
            if (creates) {
                put(CREATE, name, 0, "", 0);
            }
            if ((flags & O_TRUNC) && !creates) {
                put(TRUNCATE, name, 0, "", 0);
            }
        }
    }
    pthread_mutex_unlock(&lock);
    return fd;
}

int open64(const char *path, int flags, ...) {
    va_list rest;
    va_start(rest, flags);
    mode_t mode = (flags & O_CREAT) ? (mode_t)va_arg(rest, int) : 0;
    va_end(rest);
    return open_any(path, flags, mode);
}

int open(const char *path, int flags, ...) {
    va_list rest;
    va_start(rest, flags);
    mode_t mode = (flags & O_CREAT) ? (mode_t)va_arg(rest, int) : 0;
    va_end(rest);
    return open_any(path, flags | O_LARGEFILE, mode);
}

int close(int fd) {
    pthread_mutex_lock(&lock);
    if (fd >= 0 && fd < FILES_MAX) {
        names[fd][0] = 0;
        is_folder[fd] = 0;
        is_line[fd] = 0;
    }
    int result = real_close(fd);
    pthread_mutex_unlock(&lock);
    return result;
}

static ssize_t write_at(int fd, const void *data, size_t length, off64_t at, int positioned) {
    pthread_mutex_lock(&lock);
    off64_t where = positioned ? at : (watched(fd) ? lseek64(fd, 0, SEEK_CUR) : 0);
    if (watched(fd) && fails()) {
        pthread_mutex_unlock(&lock);
        return -1;
    }
    ssize_t result = positioned ? real_pwrite(fd, data, length, at) : real_write(fd, data, length);
    if (result > 0) {
        if (watched(fd)) {
            put(WRITE, names[fd], where, data, (size_t)result);
        } else if (fd == 1) {
            put(SAID_OUT, "", 0, data, (size_t)result);
        } else if (fd >= 0 && fd < FILES_MAX && is_line[fd]) {
            put(SAID_LINE, "", 0, data, (size_t)result);
        }
    }
    pthread_mutex_unlock(&lock);
    return result;
}

ssize_t write(int fd, const void *data, size_t length) { return write_at(fd, data, length, 0, 0); }

ssize_t pwrite64(int fd, const void *data, size_t length, off64_t at) {
    return write_at(fd, data, length, at, 1);
}

ssize_t pwrite(int fd, const void *data, size_t length, off_t at) {
    return write_at(fd, data, length, at, 1);
}

int ftruncate64(int fd, off64_t size) {
    pthread_mutex_lock(&lock);
    int result = watched(fd) && fails() ? -1 : real_ftruncate(fd, size);
    if (result == 0 && watched(fd)) {
        put(TRUNCATE, names[fd], size, "", 0);
    }
    pthread_mutex_unlock(&lock);
    return result;
}

int ftruncate(int fd, off_t size) { return ftruncate64(fd, size); }

static int sync_any(int fd, int (*real)(int)) {
    pthread_mutex_lock(&lock);
    int ours = watched(fd) || (fd >= 0 && fd < FILES_MAX && is_folder[fd]);
    int result = ours && fails() ? -1 : real(fd);
    if (result == 0 && watched(fd)) {
        put(SYNC_FILE, names[fd], 0, "", 0);
    } else if (result == 0 && ours) {
        put(SYNC_FOLDER, "", 0, "", 0);
    }
    pthread_mutex_unlock(&lock);
    return result;
}

int fsync(int fd) { return sync_any(fd, real_fsync); }

int fdatasync(int fd) { return sync_any(fd, real_fdatasync); }

int unlink(const char *path) {
    char buffer[NAME_MAX + 1];
    const char *name = inside(path, buffer);
    pthread_mutex_lock(&lock);
    int ours = name && counted(name);
    int result = ours && fails() ? -1 : real_unlink(path);
    if (result == 0 && ours) {
        put(UNLINK, name, 0, "", 0);
    }
    pthread_mutex_unlock(&lock);
    return result;
}

/* Stands between a process and the file system below one folder: counts its calls, and at the one
   asked for kills the process, fails, or writes half first; can log all that reaches the disk, and
   set the clock. Loaded by LD_PRELOAD, asked for through ctypes (shim.py). Linux, 64 bits. */

#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <sys/uio.h>
#include <time.h>
#include <unistd.h>

/* What kind of call; shim.py names the same bits. */
enum { READS = 1, GROWS = 2, SYNCS = 4, NAMES = 8, CLOSES = 16, OPENS = 32 };
/* What happens at the call. */
enum { COUNT, KILL, TEAR, FAIL_ONCE, FAIL_ON, TEAR_FAIL_ON };

enum { FDS = 65536 };
static char folder[PATH_MAX];
static size_t folder_length;
static unsigned char watched[FDS];
static int how = COUNT, failure;
static unsigned mask;
static long at = -1, calls;
static int log_fd = -1;
static long long clock_ahead;
static pthread_mutex_t turn = PTHREAD_MUTEX_INITIALIZER;

void shim_watch(const char *path) {
    folder_length = strlen(path);
    memcpy(folder, path, folder_length + 1);
}
void shim_arm(int how_, long at_, int failure_, unsigned mask_) {
    how = how_, at = at_, failure = failure_, mask = mask_, calls = 0;
}
long shim_calls(void) { return calls; }
void shim_log(int fd) { log_fd = fd; }
void shim_clock(long long seconds_ahead) { clock_ahead = seconds_ahead; }

#define REAL(name) ((__typeof__(&name))real(#name))
static void *real(const char *name) { return dlsym(RTLD_NEXT, name); }

static void die(void) {
    syscall(SYS_kill, (int)syscall(SYS_getpid), SIGKILL);
    for (;;) syscall(SYS_pause);
}

/* The absolute path, in `out`; whether it lies below the folder. */
static int below(int dir, const char *path, char *out) {
    size_t used = 0;
    if (!folder_length || !path) return 0;
    if (path[0] != '/') {
        char link[64];
        ssize_t got;
        if (dir == AT_FDCWD) snprintf(link, sizeof link, "/proc/self/cwd");
        else snprintf(link, sizeof link, "/proc/self/fd/%d", dir);
        got = syscall(SYS_readlink, link, out, PATH_MAX - 2);
        if (got < 0) return 0;
        used = (size_t)got;
        out[used++] = '/';
    }
    snprintf(out + used, PATH_MAX - used, "%s", path);
    return !strncmp(out, folder, folder_length) && (out[folder_length] == '/' || !out[folder_length]);
}

/* What is to become of this call: 0 go on, 1 fail with errno, 2 do half of it and fail. */
static int judge(unsigned kind) {
    if (!(kind & mask)) return 0;
    calls++;
    if (how == COUNT || at < 0) return 0;
    if (calls == at) {
        if (how == KILL) die();
        if (how == TEAR) return 2;
        if (how == TEAR_FAIL_ON) return 2;
        errno = failure;
        return 1;
    }
    if (calls > at && (how == FAIL_ON || how == TEAR_FAIL_ON)) {
        errno = failure;
        return 1;
    }
    return 0;
}
static int refused(unsigned kind) {
    int fate = judge(kind);
    if (fate == 2 && how == TEAR) die();
    if (fate == 2) errno = failure;
    return fate;
}

/* One record: what (1), descriptor (4), flag (4), offset (8), lengths of two parts (4, 4), parts. */
static void record(char what, int fd, int flag, long long offset, const void *one, size_t n,
                   const void *two, size_t m) {
    unsigned char head[25];
    int32_t fd_ = fd, flag_ = flag;
    int64_t offset_ = offset;
    uint32_t n_ = (uint32_t)n, m_ = (uint32_t)m;
    struct iovec parts[3];
    if (log_fd < 0) return;
    head[0] = (unsigned char)what;
    memcpy(head + 1, &fd_, 4), memcpy(head + 5, &flag_, 4), memcpy(head + 9, &offset_, 8);
    memcpy(head + 17, &n_, 4), memcpy(head + 21, &m_, 4);
    parts[0].iov_base = head, parts[0].iov_len = sizeof head;
    parts[1].iov_base = (void *)one, parts[1].iov_len = n;
    parts[2].iov_base = (void *)two, parts[2].iov_len = m;
    syscall(SYS_writev, log_fd, parts, 3);
}
#define RECORD_PATH(what, fd, flag, path) record(what, fd, flag, 0, path, strlen(path), "", 0)

static int is_watched(int fd) { return fd >= 0 && fd < FDS && watched[fd]; }

/* ---- open and close ---- */

static int opened(int dir, const char *path, int flags, mode_t mode, const char *name) {
    char full[PATH_MAX];
    int ours = below(dir, path, full), fd;
    unsigned kind = OPENS | (flags & O_CREAT || flags & O_TRUNC ? GROWS : 0);
    if (!ours) return REAL(openat)(dir, path, flags, mode);
    (void)name;
    pthread_mutex_lock(&turn);
    if (refused(kind)) {
        pthread_mutex_unlock(&turn);
        return -1;
    }
    fd = REAL(openat)(dir, path, flags, mode);
    if (fd >= 0 && fd < FDS) {
        watched[fd] = 1;
        RECORD_PATH('O', fd, flags, full);
    }
    pthread_mutex_unlock(&turn);
    return fd;
}
#define MODE_OF(flags)                                   \
    mode_t mode = 0;                                     \
    if ((flags) & (O_CREAT | O_TMPFILE)) {               \
        va_list rest;                                    \
        va_start(rest, flags);                           \
        mode = (mode_t)va_arg(rest, int);                \
        va_end(rest);                                    \
    }
int open(const char *path, int flags, ...) { MODE_OF(flags) return opened(AT_FDCWD, path, flags, mode, "open"); }
int open64(const char *path, int flags, ...) { MODE_OF(flags) return opened(AT_FDCWD, path, flags, mode, "open64"); }
int openat(int dir, const char *path, int flags, ...) { MODE_OF(flags) return opened(dir, path, flags, mode, "openat"); }
int openat64(int dir, const char *path, int flags, ...) { MODE_OF(flags) return opened(dir, path, flags, mode, "openat64"); }

int close(int fd) {
    int fate = 0, done;
    if (!is_watched(fd)) return REAL(close)(fd);
    pthread_mutex_lock(&turn);
    fate = refused(CLOSES);
    watched[fd] = 0;
    done = REAL(close)(fd); /* the descriptor is gone whatever close says */
    record('C', fd, 0, 0, "", 0, "", 0);
    if (fate) errno = failure;
    pthread_mutex_unlock(&turn);
    return fate ? -1 : done;
}

/* ---- read and write ---- */

static ssize_t wrote(int fd, const void *data, size_t length, off_t offset, int here) {
    ssize_t done;
    int fate;
    struct stat now;
    pthread_mutex_lock(&turn);
    fate = judge(GROWS);
    if (fate == 1) {
        pthread_mutex_unlock(&turn);
        return -1;
    }
    if (fate == 2) length /= 2;
    if (here) {
        offset = lseek(fd, 0, SEEK_CUR);
        if (fcntl(fd, F_GETFL) & O_APPEND && !fstat(fd, &now)) offset = now.st_size;
        done = length || !fate ? REAL(write)(fd, data, length) : 0;
    } else {
        done = length || !fate ? REAL(pwrite)(fd, data, length, offset) : 0;
    }
    if (done > 0) record('W', fd, 0, offset, data, (size_t)done, "", 0);
    if (fate == 2) {
        if (how == TEAR) die();
        errno = failure; /* half of it is there, and the call failed: as at a broken disk */
        done = -1;
    }
    pthread_mutex_unlock(&turn);
    return done;
}
ssize_t write(int fd, const void *data, size_t length) {
    if (fd == 1 && log_fd >= 0) record('A', 1, 0, 0, data, length, "", 0);
    if (!is_watched(fd)) return REAL(write)(fd, data, length);
    return wrote(fd, data, length, 0, 1);
}
ssize_t pwrite(int fd, const void *data, size_t length, off_t offset) {
    if (!is_watched(fd)) return REAL(pwrite)(fd, data, length, offset);
    return wrote(fd, data, length, offset, 0);
}
ssize_t pwrite64(int fd, const void *data, size_t length, off_t offset) {
    return pwrite(fd, data, length, offset);
}
ssize_t writev(int fd, const struct iovec *parts, int count) {
    size_t length = 0;
    char *all;
    ssize_t done;
    if (!is_watched(fd)) return REAL(writev)(fd, parts, count);
    for (int i = 0; i < count; i++) length += parts[i].iov_len;
    all = malloc(length + 1);
    length = 0;
    for (int i = 0; i < count; i++) {
        memcpy(all + length, parts[i].iov_base, parts[i].iov_len);
        length += parts[i].iov_len;
    }
    done = wrote(fd, all, length, 0, 1);
    free(all);
    return done;
}
ssize_t read(int fd, void *data, size_t length) {
    if (is_watched(fd) && refused(READS)) return -1;
    return REAL(read)(fd, data, length);
}
ssize_t pread(int fd, void *data, size_t length, off_t offset) {
    if (is_watched(fd) && refused(READS)) return -1;
    return REAL(pread)(fd, data, length, offset);
}
ssize_t pread64(int fd, void *data, size_t length, off_t offset) {
    return pread(fd, data, length, offset);
}

/* ---- sizes and syncs ---- */

#define OF_FD(fd, kind, call, rec)              \
    int done;                                   \
    if (!is_watched(fd)) return call;           \
    pthread_mutex_lock(&turn);                  \
    if (refused(kind)) {                        \
        pthread_mutex_unlock(&turn);            \
        return -1;                              \
    }                                           \
    done = call;                                \
    if (!done) rec;                             \
    pthread_mutex_unlock(&turn);                \
    return done;

int fsync(int fd) { OF_FD(fd, SYNCS, REAL(fsync)(fd), record('S', fd, 0, 0, "", 0, "", 0)) }
int fdatasync(int fd) { OF_FD(fd, SYNCS, REAL(fdatasync)(fd), record('S', fd, 0, 0, "", 0, "", 0)) }
int ftruncate(int fd, off_t size) {
    OF_FD(fd, GROWS, REAL(ftruncate)(fd, size), record('T', fd, 0, size, "", 0, "", 0))
}
int ftruncate64(int fd, off_t size) { return ftruncate(fd, size); }
int fallocate(int fd, int mode, off_t offset, off_t length) {
    int64_t n = length;
    OF_FD(fd, GROWS, REAL(fallocate)(fd, mode, offset, length),
          record('F', fd, mode, offset, &n, sizeof n, "", 0))
}
int fallocate64(int fd, int mode, off_t offset, off_t length) {
    return fallocate(fd, mode, offset, length);
}

/* ---- names ---- */

#define OF_PATH(dir, path, kind, call, what)    \
    char full[PATH_MAX];                        \
    int done;                                   \
    if (!below(dir, path, full)) return call;   \
    pthread_mutex_lock(&turn);                  \
    if (refused(kind)) {                        \
        pthread_mutex_unlock(&turn);            \
        return -1;                              \
    }                                           \
    done = call;                                \
    if (!done) RECORD_PATH(what, -1, 0, full);  \
    pthread_mutex_unlock(&turn);                \
    return done;

int unlink(const char *path) { OF_PATH(AT_FDCWD, path, NAMES, REAL(unlink)(path), 'U') }
int unlinkat(int dir, const char *path, int flags) {
    OF_PATH(dir, path, NAMES, REAL(unlinkat)(dir, path, flags), (flags & AT_REMOVEDIR) ? 'D' : 'U')
}
int rmdir(const char *path) { OF_PATH(AT_FDCWD, path, NAMES, REAL(rmdir)(path), 'D') }
int mkdir(const char *path, mode_t mode) {
    OF_PATH(AT_FDCWD, path, NAMES | GROWS, REAL(mkdir)(path, mode), 'M')
}
int mkdirat(int dir, const char *path, mode_t mode) {
    OF_PATH(dir, path, NAMES | GROWS, REAL(mkdirat)(dir, path, mode), 'M')
}

static int named(int dir, const char *from, int dir_to, const char *to, unsigned flags, char what) {
    char one[PATH_MAX], two[PATH_MAX];
    int ours = below(dir, from, one), theirs = below(dir_to, to, two), done;
    if (ours || theirs) {
        pthread_mutex_lock(&turn);
        if (refused(NAMES | GROWS)) {
            pthread_mutex_unlock(&turn);
            return -1;
        }
    }
    if (what == 'L') done = REAL(linkat)(dir, from, dir_to, to, (int)flags);
    else done = REAL(renameat2)(dir, from, dir_to, to, flags);
    if (ours || theirs) {
        if (!done) record(what, -1, (int)flags, 0, one, strlen(one), two, strlen(two));
        pthread_mutex_unlock(&turn);
    }
    return done;
}
int rename(const char *from, const char *to) { return named(AT_FDCWD, from, AT_FDCWD, to, 0, 'R'); }
int renameat(int dir, const char *from, int dir_to, const char *to) {
    return named(dir, from, dir_to, to, 0, 'R');
}
int renameat2(int dir, const char *from, int dir_to, const char *to, unsigned flags) {
    return named(dir, from, dir_to, to, flags, 'R');
}
int link(const char *from, const char *to) { return named(AT_FDCWD, from, AT_FDCWD, to, 0, 'L'); }
int linkat(int dir, const char *from, int dir_to, const char *to, int flags) {
    return named(dir, from, dir_to, to, (unsigned)flags, 'L');
}

/* ---- the clock ---- */

int clock_gettime(clockid_t which, struct timespec *now) {
    int done = (int)syscall(SYS_clock_gettime, which, now);
    if (!done && which == CLOCK_REALTIME) now->tv_sec += clock_ahead;
    return done;
}
time_t time(time_t *out) {
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    if (out) *out = now.tv_sec;
    return now.tv_sec;
}
int gettimeofday(struct timeval *now, void *zone) {
    struct timespec exact;
    (void)zone;
    clock_gettime(CLOCK_REALTIME, &exact);
    now->tv_sec = exact.tv_sec, now->tv_usec = exact.tv_nsec / 1000;
    return 0;
}

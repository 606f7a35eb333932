/* The safe write: whatever fails, the file that was there is still there, whole. */
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/xattr.h>
#include <unistd.h>

#include "shop/alloc.h"
#include "shop/shop.h"

#define LINKS_MOST 40
#define NAMES_TRIED 100

typedef struct saving {
    const char *bytes;
    size_t length;
    char *target; /* the file itself, symbolic links followed */
    char *folder; /* where it lies, with a slash at its end */
    char *fresh;  /* the new file beside it */
    bool exists;
    struct stat before;
    shop_problems *problems;
} saving;

/* errno as it was stays for the caller. */
static shop_status failed(const saving *s, shop_status status, const char *what) {
    int error = errno;
    shop_problem_add(s->problems, false, 0, 0, "cannot %s: %s", what, strerror(error));
    errno = error;
    return status;
}

static char *join(const char *folder, size_t length, const char *name) {
    shop_buffer path = {0};
    shop_buffer_add(&path, folder, length);
    shop_buffer_text(&path, name);
    return shop_buffer_take(&path, NULL);
}

static size_t folder_length(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? (size_t)(slash - path) + 1 : 0;
}

/* Follows symbolic links to a file that need not be there. NULL with errno. */
static char *follow(const char *file) {
    char *at = shop_copy(file, strlen(file));
    for (int i = 0; at; i++) {
        char to[PATH_MAX];
        ssize_t length = readlink(at, to, sizeof to - 1);
        if (length < 0 && (errno == EINVAL || errno == ENOENT))
            return at; /* no link: a file, or nothing */
        if (length < 0) {
            int error = errno; /* a link it may be: it must not be replaced by a file */
            free(at);
            errno = error;
            return NULL;
        }
        to[length] = '\0';
        char *next = i >= LINKS_MOST ? NULL : join(at, *to == '/' ? 0 : folder_length(at), to);
        int error = i >= LINKS_MOST ? ELOOP : ENOMEM;
        free(at);
        at = next;
        if (!at)
            errno = error;
    }
    if (!at && errno == 0)
        errno = ENOMEM;
    return at;
}

static int write_all(int descriptor, const char *bytes, size_t length) {
    for (size_t done = 0; done < length;) {
        ssize_t wrote = write(descriptor, bytes + done, length - done);
        if (wrote < 0 && errno == EINTR)
            continue;
        if (wrote <= 0) {
            if (wrote == 0)
                errno = EIO;
            return -1;
        }
        done += (size_t)wrote;
    }
    return 0;
}

/* 0 if the file holds just these bytes; -1 with errno. */
static int holds(const char *file, const char *bytes, size_t length) {
    int descriptor = open(file, O_RDONLY | O_CLOEXEC);
    if (descriptor < 0)
        return -1;
    char part[65536];
    size_t at = 0;
    int error = 0;
    for (;;) {
        ssize_t got = read(descriptor, part, sizeof part);
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0) {
            if (got < 0)
                error = errno;
            break;
        }
        if (at + (size_t)got > length || memcmp(part, bytes + at, (size_t)got) != 0) {
            error = EIO;
            break;
        }
        at += (size_t)got;
    }
    close(descriptor);
    if (!error && at != length)
        error = EIO;
    errno = error;
    return error ? -1 : 0;
}

/* Access lists and the like; what the file system does not take is left. */
static void keep_attributes(const char *from, int to) {
    char names[4096], value[4096];
    ssize_t length = listxattr(from, names, sizeof names);
    for (ssize_t at = 0; at < length; at += (ssize_t)strlen(names + at) + 1) {
        ssize_t size = getxattr(from, names + at, value, sizeof value);
        if (size >= 0)
            (void)!fsetxattr(to, names + at, value, (size_t)size, 0);
    }
}

static void keep_owner_and_mode(const saving *s, int descriptor) {
    struct stat now;
    if (fstat(descriptor, &now) < 0)
        return;
    if (now.st_uid != s->before.st_uid || now.st_gid != s->before.st_gid)
        if (fchown(descriptor, s->before.st_uid, s->before.st_gid) < 0)
            (void)!fchown(descriptor, (uid_t)-1, s->before.st_gid); /* the group at least */
    keep_attributes(s->target, descriptor);
}

/* A file beside the target that was not there before; its mode is what a new file gets. */
static int create_fresh(saving *s) {
    for (int i = 0; i < NAMES_TRIED; i++) {
        char name[64];
        snprintf(name, sizeof name, ".bandwright-%ld-%d.new", (long)getpid(), i);
        free(s->fresh);
        s->fresh = join(s->folder, strlen(s->folder), name);
        if (!s->fresh) {
            errno = ENOMEM;
            return -1;
        }
        int descriptor = open(s->fresh, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (descriptor >= 0 || errno != EEXIST)
            return descriptor;
    }
    return -1;
}

/* Fills the new file and proves that the disk holds it. */
static shop_status write_fresh(saving *s) {
    int descriptor = create_fresh(s);
    if (descriptor < 0) {
        free(s->fresh);
        s->fresh = NULL;
        return failed(s, SHOP_CANNOT_MAKE, "make a new file beside it");
    }
    shop_status status = SHOP_OK;
    if (s->exists)
        keep_owner_and_mode(s, descriptor);
    if (s->exists && fchmod(descriptor, s->before.st_mode & 07777) < 0)
        status = failed(s, SHOP_CANNOT_WRITE, "give the new file the mode of the old one");
    else if (write_all(descriptor, s->bytes, s->length) < 0)
        status = failed(s, SHOP_CANNOT_WRITE, "write the new file");
    else if (fsync(descriptor) < 0)
        status = failed(s, SHOP_CANNOT_WRITE, "bring the new file to the disk");
    if (close(descriptor) < 0 && status == SHOP_OK)
        status = failed(s, SHOP_CANNOT_WRITE, "close the new file");
    if (status == SHOP_OK && holds(s->fresh, s->bytes, s->length) < 0)
        status = failed(s, SHOP_CANNOT_WRITE, "read back what was written");
    return status;
}

static shop_status sync_folder(const saving *s) {
    int descriptor = open(*s->folder ? s->folder : ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0)
        return errno == EACCES ? SHOP_OK : failed(s, SHOP_CANNOT_WRITE, "open the folder after saving");
    shop_status status = SHOP_OK;
    if (fsync(descriptor) < 0 && errno != EINVAL && errno != EROFS) /* some file systems cannot */
        status = failed(s, SHOP_CANNOT_WRITE, "bring the folder to the disk; the file itself is written");
    close(descriptor);
    return status;
}

/* A name without replacing what may have come there meanwhile. */
static int rename_new(const char *from, const char *to) {
    if (renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0)
        return 0;
    if (errno != EINVAL && errno != ENOSYS)
        return -1;
    if (link(from, to) < 0)
        return -1;
    return unlink(from);
}

/* A file with several names would lose the others if it were replaced: its bytes are written over instead. The new
 * file stays beside it until that is done, so that nothing is lost if it fails halfway. */
static shop_status write_over(saving *s) {
    int descriptor = open(s->target, O_WRONLY | O_CLOEXEC);
    if (descriptor < 0)
        return failed(s, SHOP_CANNOT_WRITE, "open it for writing");
    bool good = write_all(descriptor, s->bytes, s->length) == 0 && ftruncate(descriptor, (off_t)s->length) == 0 &&
                fsync(descriptor) == 0;
    int error = errno;
    if (close(descriptor) < 0 && good) {
        error = errno;
        good = false;
    }
    if (good && holds(s->target, s->bytes, s->length) == 0) {
        unlink(s->fresh);
        return SHOP_OK;
    }
    if (good)
        error = errno;
    shop_problem_add(s->problems, false, 0, 0, "cannot write over it (it has several names): %s; the new text is in %s",
                     strerror(error), s->fresh);
    free(s->fresh);
    s->fresh = NULL; /* it stays */
    errno = error;
    return SHOP_CANNOT_WRITE;
}

static shop_status put_in_place(saving *s, bool must_not_exist) {
    if (s->exists && s->before.st_nlink > 1)
        return write_over(s);
    bool keep = must_not_exist || !s->exists;
    if ((keep ? rename_new(s->fresh, s->target) : rename(s->fresh, s->target)) < 0)
        return failed(s, keep ? SHOP_CANNOT_MAKE : SHOP_CANNOT_WRITE, "put the new file in its place");
    return SHOP_OK;
}

/* What stands there now, and whether it may be replaced. */
static shop_status look(saving *s, const char *file, bool must_not_exist) {
    errno = 0;
    s->target = follow(file);
    if (!s->target)
        return failed(s, errno == ENOMEM ? SHOP_NO_MEMORY : SHOP_CANNOT_MAKE, "follow its symbolic links");
    s->folder = join(s->target, folder_length(s->target), "");
    if (!s->folder)
        return failed(s, SHOP_NO_MEMORY, "save it");
    s->exists = stat(s->target, &s->before) == 0;
    if (!s->exists && errno != ENOENT)
        return failed(s, SHOP_CANNOT_MAKE, "save it there");
    if (!s->exists)
        return SHOP_OK;
    errno = S_ISDIR(s->before.st_mode) ? EISDIR : must_not_exist ? EEXIST : 0;
    if (errno)
        return failed(s, SHOP_CANNOT_MAKE, "make it");
    errno = EINVAL;
    if (!S_ISREG(s->before.st_mode))
        return failed(s, SHOP_CANNOT_WRITE, "write to something that is no plain file");
    if (faccessat(AT_FDCWD, s->target, W_OK, AT_EACCESS) < 0)
        return failed(s, SHOP_CANNOT_WRITE, "write to it");
    return SHOP_OK;
}

shop_status shop_save(const char *file, const char *bytes, size_t length, bool must_not_exist,
                      shop_problems *problems) {
    saving s = {.bytes = bytes, .length = length, .problems = problems};
    shop_status status = look(&s, file, must_not_exist);
    if (status == SHOP_OK)
        status = write_fresh(&s);
    if (status == SHOP_OK)
        status = put_in_place(&s, must_not_exist);
    int error = errno;
    if (status != SHOP_OK && s.fresh)
        unlink(s.fresh);
    errno = error;
    if (status == SHOP_OK)
        status = sync_folder(&s);
    error = errno;
    free(s.target);
    free(s.folder);
    free(s.fresh);
    errno = error;
    return status;
}

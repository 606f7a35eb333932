/* Reading a whole file. */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "shop/text.h"

static shop_status cannot_read(shop_problems *problems, int error) {
    shop_problem_add(problems, false, 0, 0, "cannot be read: %s", strerror(error));
    errno = error;
    return SHOP_NO_FILE;
}

/* As much as there is, up to one byte over the limit. 0, or the errno. */
static int read_all(int descriptor, shop_buffer *to) {
    char part[65536];
    while (!to->failed && to->length <= SHOP_TEXT_BYTES_MOST) {
        ssize_t got = read(descriptor, part, sizeof part);
        if (got == 0)
            break;
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return errno;
        shop_buffer_add(to, part, (size_t)got);
    }
    return 0;
}

shop_status shop_read(const char *file, char **bytes, size_t *length, shop_problems *problems) {
    *bytes = NULL;
    *length = 0;
    int descriptor = open(file, O_RDONLY | O_CLOEXEC);
    if (descriptor < 0)
        return cannot_read(problems, errno);
    struct stat about;
    int error = fstat(descriptor, &about) < 0 ? errno : S_ISDIR(about.st_mode) ? EISDIR : 0;
    shop_buffer content = {0};
    if (!error)
        error = read_all(descriptor, &content);
    close(descriptor);
    bool too_long = content.length > SHOP_TEXT_BYTES_MOST;
    char *all = shop_buffer_take(&content, length);
    if (!error && all && !too_long) {
        *bytes = all;
        return SHOP_OK;
    }
    free(all);
    *length = 0;
    if (error)
        return cannot_read(problems, error);
    shop_problem_add(problems, false, 0, 0, too_long ? "over 16 MiB; no project is that large" : "out of memory");
    return too_long ? SHOP_BAD_FILE : SHOP_NO_MEMORY;
}

bool shop_folder_make(const char *folder) {
    char *path = shop_copy(folder, strlen(folder));
    bool fine = path != NULL;
    errno = fine ? errno : ENOMEM;
    for (char *at = path; fine && *at; at++)
        if (*at == '/' && at != path) {
            *at = '\0';
            fine = mkdir(path, 0700) == 0 || errno == EEXIST;
            *at = '/';
        }
    fine = fine && (mkdir(path, 0700) == 0 || errno == EEXIST);
    int error = errno;
    free(path);
    errno = error;
    return fine;
}

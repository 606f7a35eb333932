/* main.c - the locale and the standard streams made safe, then the verb that the arguments name. */
#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "verbs/verbs.h"

/* A stream that was closed before we started would have its number taken by the first file opened, and results would be
 * written into that file. Opened for reading, it fails every write instead. */
static void keep_numbers(void) {
    for (int number = 0; number <= 2; number++) {
        if (fcntl(number, F_GETFD) == -1 && errno == EBADF) {
            (void)open("/dev/null", O_RDONLY);
        }
    }
}

int main(int argc, char **argv) {
    keep_numbers();
    setlocale(LC_ALL, "");
    setlocale(LC_NUMERIC, "C"); /* files have points, whatever the locale */
    signal(SIGPIPE, SIG_IGN);   /* a closed pipe is a write error like any other */

    int status = verb_main(argc, argv);
    errno = 0;
    if (fflush(stdout) != 0 || ferror(stdout) || fclose(stdout) != 0) {
        if (status != SHOP_CANNOT_WRITE) {
            verb_complain_of_output(errno, "standard output");
        }
        return SHOP_CANNOT_WRITE;
    }
    return status;
}

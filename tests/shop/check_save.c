/* check_save.c - the safe write: what is there afterwards is the new file or the old one, whole, and nothing beside it.
 */
#include <check.h>
#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/xattr.h>
#include <unistd.h>

#include "paper.h"

Suite *shop_save_suite(void);

static char folder[64];

static void make_folder(void) {
    strcpy(folder, "/tmp/shop-save-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
}

static void remove_folder(void) {
    chmod(folder, 0700);
    DIR *all = opendir(folder);
    for (struct dirent *entry; all && (entry = readdir(all));) {
        char path[400];
        snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        if (entry->d_name[0] != '.' || strlen(entry->d_name) > 2)
            remove(path);
    }
    if (all)
        closedir(all);
    rmdir(folder);
}

static const char *in_folder(const char *name) {
    static char paths[4][128];
    static int next;
    char *path = paths[next++ % 4];
    snprintf(path, sizeof paths[0], "%s/%s", folder, name);
    return path;
}

static void write_plainly(const char *file, const char *text, mode_t mode) {
    FILE *to = fopen(file, "w");
    ck_assert_ptr_nonnull(to);
    fputs(text, to);
    ck_assert_int_eq(fclose(to), 0);
    ck_assert_int_eq(chmod(file, mode), 0);
}

static void must_hold(const char *file, const char *text) {
    char bytes[256] = "";
    FILE *from = fopen(file, "r");
    ck_assert_msg(from != NULL, "%s is gone", file);
    size_t length = fread(bytes, 1, sizeof bytes - 1, from);
    fclose(from);
    ck_assert_uint_eq(length, strlen(text));
    ck_assert_str_eq(bytes, text);
}

static int files_there(void) {
    int count = 0;
    DIR *all = opendir(folder);
    ck_assert_ptr_nonnull(all);
    while (readdir(all))
        count++;
    closedir(all);
    return count - 2;
}

/* Saves, and checks that a failure names errno and a success says nothing. */
static shop_status save(const char *file, const char *text, bool must_not_exist) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    errno = 0;
    shop_status status = shop_save(file, text, strlen(text), must_not_exist, &problems);
    int error = errno;
    ck_assert_int_eq(status != SHOP_OK, problems.errors > 0);
    if (status != SHOP_OK) {
        ck_assert_int_ne(error, 0);
        ck_assert_msg(strstr(problems.list[0].text, strerror(error)) != NULL, "%s", problems.list[0].text);
    }
    shop_problems_free(&problems);
    errno = error;
    return status;
}

START_TEST(a_new_file_gets_the_usual_mode) {
    umask(027);
    ck_assert_int_eq(save(in_folder("lid.yaml"), "new\n", true), SHOP_OK);
    must_hold(in_folder("lid.yaml"), "new\n");
    struct stat about;
    ck_assert_int_eq(stat(in_folder("lid.yaml"), &about), 0);
    ck_assert_int_eq((int)(about.st_mode & 07777), 0640);
    ck_assert_int_eq(files_there(), 1);
    ck_assert_int_eq(save(in_folder("lid.yaml"), "newer\n", true), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(errno, EEXIST);
    must_hold(in_folder("lid.yaml"), "new\n");
    ck_assert_int_eq(save(in_folder("empty.yaml"), "", false), SHOP_OK);
    must_hold(in_folder("empty.yaml"), "");
    ck_assert_int_eq(files_there(), 2);
}
END_TEST

START_TEST(mode_owner_and_attributes_stay) {
    static const mode_t modes[] = {0600, 0644, 0664, 0755, 04711};
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        const char *file = in_folder("lid.yaml");
        write_plainly(file, "old\n", modes[i]);
        bool attributes = setxattr(file, "user.shelf", "3", 1, 0) == 0; /* not every file system has them */
        struct stat before, after;
        ck_assert_int_eq(stat(file, &before), 0);
        ck_assert_int_eq(save(file, "new and longer\n", false), SHOP_OK);
        must_hold(file, "new and longer\n");
        ck_assert_int_eq(stat(file, &after), 0);
        ck_assert_int_eq((int)after.st_mode, (int)before.st_mode);
        ck_assert(after.st_uid == before.st_uid && after.st_gid == before.st_gid);
        ck_assert_msg(after.st_ino != before.st_ino, "it must be a new file, not the old one written over");
        char value[4];
        if (attributes)
            ck_assert_int_eq((int)getxattr(file, "user.shelf", value, sizeof value), 1);
        ck_assert_int_eq(files_there(), 1);
    }
}
END_TEST

START_TEST(symbolic_links_are_followed) {
    write_plainly(in_folder("real.yaml"), "old\n", 0644);
    ck_assert_int_eq(symlink("real.yaml", in_folder("one")), 0);
    ck_assert_int_eq(symlink(in_folder("one"), in_folder("two")), 0);
    ck_assert_int_eq(save(in_folder("two"), "new\n", false), SHOP_OK);
    must_hold(in_folder("real.yaml"), "new\n");
    struct stat about;
    ck_assert_int_eq(lstat(in_folder("one"), &about), 0);
    ck_assert(S_ISLNK(about.st_mode));
    ck_assert_int_eq(lstat(in_folder("two"), &about), 0);
    ck_assert(S_ISLNK(about.st_mode));
    ck_assert_int_eq(symlink("later.yaml", in_folder("ahead")), 0); /* to a file that is not there yet */
    ck_assert_int_eq(save(in_folder("ahead"), "there\n", false), SHOP_OK);
    must_hold(in_folder("later.yaml"), "there\n");
    ck_assert_int_eq(symlink("loop", in_folder("loop")), 0);
    ck_assert_int_eq(save(in_folder("loop"), "x", false), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(errno, ELOOP);
    ck_assert_int_eq(files_there(), 6);
}
END_TEST

START_TEST(a_file_with_several_names_keeps_them) {
    write_plainly(in_folder("a.yaml"), "old and longer\n", 0644);
    ck_assert_int_eq(link(in_folder("a.yaml"), in_folder("b.yaml")), 0);
    ck_assert_int_eq(save(in_folder("a.yaml"), "new\n", false), SHOP_OK);
    must_hold(in_folder("a.yaml"), "new\n");
    must_hold(in_folder("b.yaml"), "new\n");
    ck_assert_int_eq(files_there(), 2);
}
END_TEST

START_TEST(names_without_a_folder_are_saved_here) {
    ck_assert_int_eq(chdir(folder), 0);
    ck_assert_int_eq(save("lid.yaml", "new\n", false), SHOP_OK);
    must_hold("lid.yaml", "new\n");
    ck_assert_int_eq(save("lid.yaml", "newer\n", false), SHOP_OK);
    must_hold(in_folder("lid.yaml"), "newer\n");
    ck_assert_int_eq(files_there(), 1);
    ck_assert_int_eq(chdir("/"), 0);
}
END_TEST

START_TEST(what_cannot_be_replaced_is_left) {
    ck_assert_int_eq(save(folder, "x", false), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(errno, EISDIR);
    ck_assert_int_eq(save(in_folder("none/lid.yaml"), "x", false), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(errno, ENOENT);
    ck_assert_int_eq(save("", "x", false), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(save("/dev/null", "x", false), SHOP_CANNOT_WRITE);
    write_plainly(in_folder("file"), "old\n", 0644);
    ck_assert_int_eq(save(in_folder("file/lid.yaml"), "x", false), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(errno, ENOTDIR);
    must_hold(in_folder("file"), "old\n");
    char name[NAME_MAX + 2];
    memset(name, 'n', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    char path[NAME_MAX + 100];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    ck_assert_int_eq(save(path, "x", false), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(errno, ENAMETOOLONG);
    ck_assert_int_eq(files_there(), 1);
}
END_TEST

/* Rights do not bind root, so they are given up for a while. */
static void become_nobody(void) {
    if (geteuid() != 0)
        return;
    ck_assert_int_eq(chown(folder, 65534, 65534), 0);
    ck_assert_int_eq(chown(in_folder("lid.yaml"), 65534, 65534), 0);
    ck_assert_int_eq(setegid(65534), 0);
    ck_assert_int_eq(seteuid(65534), 0);
}

static void become_oneself(void) {
    if (getuid() != 0)
        return;
    ck_assert_int_eq(seteuid(0), 0);
    ck_assert_int_eq(setegid(getgid()), 0);
}

START_TEST(rights_are_kept_to) {
    write_plainly(in_folder("lid.yaml"), "old\n", 0444);
    become_nobody();
    ck_assert_int_eq(save(in_folder("lid.yaml"), "new\n", false), SHOP_CANNOT_WRITE); /* marked as not to be written */
    ck_assert_int_eq(errno, EACCES);
    must_hold(in_folder("lid.yaml"), "old\n");
    ck_assert_int_eq(chmod(in_folder("lid.yaml"), 0644), 0);
    ck_assert_int_eq(chmod(folder, 0555), 0);
    ck_assert_int_eq(save(in_folder("lid.yaml"), "new\n", false), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(errno, EACCES);
    ck_assert_int_eq(save(in_folder("other.yaml"), "new\n", false), SHOP_CANNOT_MAKE);
    ck_assert_int_eq(chmod(folder, 0755), 0);
    become_oneself();
    must_hold(in_folder("lid.yaml"), "old\n");
    ck_assert_int_eq(files_there(), 1);
}
END_TEST

/* The disk takes only part of the new file: the old one stays, and nothing beside it. */
START_TEST(a_short_write_leaves_the_old_file) {
    write_plainly(in_folder("lid.yaml"), "old\n", 0644);
    signal(SIGXFSZ, SIG_IGN);
    struct rlimit before, limit;
    ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &before), 0);
    limit = before;
    limit.rlim_cur = 4096;
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
    char *large = malloc(10001);
    ck_assert_ptr_nonnull(large);
    memset(large, '#', 10000);
    large[10000] = '\0';
    shop_status status = save(in_folder("lid.yaml"), large, false), made = save(in_folder("new.yaml"), large, true);
    ck_assert_int_eq(link(in_folder("lid.yaml"), in_folder("also.yaml")), 0);
    shop_status over = save(in_folder("lid.yaml"), large, false);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &before), 0);
    ck_assert_int_eq(status, SHOP_CANNOT_WRITE);
    ck_assert_int_eq(made, SHOP_CANNOT_WRITE);
    ck_assert_int_eq(over, SHOP_CANNOT_WRITE);
    must_hold(in_folder("lid.yaml"), "old\n");
    ck_assert_int_eq(files_there(), 2);
    free(large);
}
END_TEST

Suite *shop_save_suite(void) {
    Suite *suite = suite_create("save");
    TCase *all = tcase_create("write");
    tcase_add_checked_fixture(all, make_folder, remove_folder);
    tcase_add_test(all, a_new_file_gets_the_usual_mode);
    tcase_add_test(all, mode_owner_and_attributes_stay);
    tcase_add_test(all, symbolic_links_are_followed);
    tcase_add_test(all, a_file_with_several_names_keeps_them);
    tcase_add_test(all, names_without_a_folder_are_saved_here);
    tcase_add_test(all, what_cannot_be_replaced_is_left);
    tcase_add_test(all, rights_are_kept_to);
    tcase_add_test(all, a_short_write_leaves_the_old_file);
    suite_add_tcase(suite, all);
    return suite;
}

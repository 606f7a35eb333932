/* console.h - the commands shown in a text, run again. */
#ifndef TESTS_DOCS_CONSOLE_H
#define TESTS_DOCS_CONSOLE_H

/* The text with the output of every command made anew, malloc'ed. Commands are the lines after "$ " in fences marked
 * `console`; a fence marked `keys NAME` is written to that file first. They run one after the other in `folder`, each
 * after the shell's `setup` line.
 * *commands counts them, *broken those that could not be run or crashed. */
char *console_renew(const char *text, const char *folder, const char *setup, int *commands, int *broken);

#endif

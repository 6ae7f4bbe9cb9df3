/* text_file.h - decimal text to a file, fast and the same whatever the locale. */
#ifndef SAMPLE_RUNS_TEXT_FILE_H
#define SAMPLE_RUNS_TEXT_FILE_H

#include <stdio.h>

enum { TEXT_BUFFER = 1 << 16 };

struct text_file {
    FILE *file;
    char buffer[TEXT_BUFFER];
    size_t used;
    int failed;
};

/* Opens folder/name for writing; gives 0 and says why on stderr when it cannot. */
int text_open(struct text_file *text, const char *folder, const char *name);
void text_string(struct text_file *text, const char *string);
void text_whole(struct text_file *text, int value);
void text_fixed(struct text_file *text, double value, int decimals); /* |value| below 1e9 */
/* Writes what is left; gives 0 and says so when anything failed on the way. */
int text_close(struct text_file *text);

#endif

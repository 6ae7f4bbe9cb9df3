/* picture_file.c - the bytes of a picture below a folder, and no others; see picture.h. */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "schema/file_read.h"
#include "schema/picture.h"

static int is_step_up(const char *step, size_t length)
{
    return (length == 2 && step[0] == '.' && step[1] == '.') || (length == 1 && step[0] == '.');
}

const char *picture_path_objection(const char *file)
{
    if (file[0] == '\0')
        return "is empty; name a file, or leave the cell empty";
    if (file[0] == '/')
        return "is absolute; name it from the campaign folder on";
    for (const char *at = file; *at != '\0'; at++)
        if ((unsigned char)*at < 0x20 || *at == 0x7F || *at == '\\')
            return "holds a control character or a backslash; rename it";
    for (const char *at = file;; at++) {
        size_t length = strcspn(at, "/");
        if (length == 0)
            return "has an empty step between slashes; correct it";
        if (is_step_up(at, length))
            return "leaves its folder by '.' or '..'; keep pictures inside the campaign folder";
        at += length;
        if (*at == '\0')
            return NULL;
    }
}

/* One step of the path, never through a link, never waiting for a pipe. */
static int open_step(int folder, const char *step, size_t length, int is_last)
{
    char name[256];

    if (length >= sizeof name) {
        errno = ENAMETOOLONG;
        return -1;
    }
    memcpy(name, step, length);
    name[length] = '\0';
    return openat(folder, name,
                  O_RDONLY | O_NOFOLLOW | O_CLOEXEC | (is_last ? O_NONBLOCK : O_DIRECTORY));
}

static enum status open_below(const char *folder, const char *file, int *descriptor,
                              struct fault *fault)
{
    int at = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

    for (const char *step = file; at >= 0;) {
        size_t length = strcspn(step, "/");
        int is_last = step[length] == '\0';
        int next = open_step(at, step, length, is_last);
        int kept = errno;
        (void)close(at);
        errno = kept;
        at = next;
        if (is_last)
            break;
        step += length + 1;
    }
    *descriptor = at;
    if (at >= 0)
        return OK;
    if (errno == ELOOP || errno == ENOTDIR)
        return FAIL(
            fault, BAD_INPUT,
            "there is a link on its way, which may lead out of the campaign folder; put the "
            "file itself there");
    return FAIL(fault, errno == ENOENT ? NOT_FOUND : BAD_INPUT, "it cannot be opened: %s",
                strerror(errno));
}

static enum status read_whole(int descriptor, size_t size, unsigned char **bytes, size_t *n,
                              struct fault *fault)
{
    unsigned char *room = malloc(size + 1);
    size_t got = 0;

    if (room == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a picture of %zu bytes", size);
    enum status status = OK;
    for (*n = 0; status == OK && *n <= size; *n += got) {
        status = file_read_some(descriptor, "the picture", room + *n, size + 1 - *n, &got, fault);
        if (got == 0)
            break;
    }
    if (status == OK && *n != size)
        status = FAIL(fault, BAD_INPUT, "it changed while it was read; try again");
    if (status != OK)
        free(room);
    else
        *bytes = room;
    return status;
}

static enum status judge_size(int descriptor, size_t most, size_t *size, struct fault *fault)
{
    struct stat about;

    if (fstat(descriptor, &about) != 0 || !S_ISREG(about.st_mode))
        return FAIL(fault, BAD_INPUT, "it is no plain file; name a PNG or JPEG file");
    if (about.st_size <= 0)
        return FAIL(fault, BAD_INPUT, "it is empty; save it again");
    if ((unsigned long long)about.st_size > most)
        return FAIL(fault, BAD_INPUT,
                    "it has %lld bytes; limit: %zu (limits: picture_megabytes); save it smaller",
                    (long long)about.st_size, most);
    *size = (size_t)about.st_size;
    return OK;
}

enum status picture_bytes(const char *folder, const char *file, size_t most, unsigned char **bytes,
                          size_t *n, char digest[DIGEST_TEXT], struct fault *fault)
{
    const char *wrong = picture_path_objection(file);
    struct digest *making = NULL;
    int descriptor = -1;
    size_t size = 0;

    *bytes = NULL;
    *n = 0;
    if (wrong != NULL)
        return FAIL(fault, BAD_INPUT, "its path %s", wrong);
    enum status status = open_below(folder, file, &descriptor, fault);
    if (status == OK)
        status = judge_size(descriptor, most, &size, fault);
    if (status == OK)
        status = read_whole(descriptor, size, bytes, n, fault);
    if (descriptor >= 0)
        (void)close(descriptor);
    if (status == OK)
        status = digest_begin(&making, fault);
    if (status == OK)
        status = digest_add(making, *bytes, *n, fault);
    if (status == OK)
        status = digest_end(making, digest, fault);
    else
        digest_free(making);
    if (status != OK) {
        free(*bytes);
        *bytes = NULL;
    }
    return status;
}

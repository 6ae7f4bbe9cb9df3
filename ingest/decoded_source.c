/* decoded_source.c - see decoded_source.h.
 *
 * Source: The Unicode Standard 15.0 (2022), 3.10, D90 to D99 (UTF-16, its byte orders and byte-order
 * marks) and 23.8 (the mark); Unicode Consortium, cp1252.txt (2.01, 1998). */
#include "ingest/decoded_source.h"

#include <stdlib.h>
#include <string.h>

#include "schema/utf8.h"

enum { BLOCK = 32768, HEAD = 64 };

/* How the bytes are read once the head has been looked at. */
enum decoding { UNDECIDED, PASS_ON, BIG_ENDIAN_16, LITTLE_ENDIAN_16, ONE_BYTE };

struct decoded_source {
    struct byte_source source;
    enum map_encoding declared;
    enum decoding decoding;
    char *name;
    unsigned char raw[BLOCK];
    size_t raw_begin, raw_end;
    unsigned char out[3 * BLOCK]; /* no encoding needs more than 3 bytes for one of its own */
    size_t out_begin, out_end;
    int exhausted;       /* the source has no more */
    int ended;           /* nothing more is handed out */
    size_t line, column; /* of the next character, from 1 */
    int after_return;    /* the last character was a carriage return */
};

enum status decoded_source_open(struct byte_source source, enum map_encoding declared,
                                const char *name, struct decoded_source **out, struct fault *fault)
{
    struct decoded_source *decoded = malloc(sizeof *decoded);

    *out = NULL;
    if (decoded == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to read '%s'", name);
    decoded->source = source;
    decoded->declared = declared;
    decoded->decoding = UNDECIDED;
    decoded->raw_begin = decoded->raw_end = decoded->out_begin = decoded->out_end = 0;
    decoded->exhausted = decoded->ended = decoded->after_return = 0;
    decoded->line = decoded->column = 1;
    decoded->name = strdup(name);
    if (decoded->name == NULL) {
        free(decoded);
        return FAIL(fault, NO_MEMORY, "no memory to read '%s'", name);
    }
    *out = decoded;
    return OK;
}

void decoded_source_close(struct decoded_source *decoded)
{
    if (decoded == NULL)
        return;
    free(decoded->name);
    free(decoded);
}

/* Reads into raw until it holds `wanted` bytes or the source ends. */
static enum status fill(struct decoded_source *decoded, size_t wanted, struct fault *fault)
{
    size_t kept = decoded->raw_end - decoded->raw_begin;
    memmove(decoded->raw, decoded->raw + decoded->raw_begin, kept);
    decoded->raw_begin = 0;
    decoded->raw_end = kept;
    while (decoded->raw_end < wanted && !decoded->exhausted) {
        size_t got = 0;
        enum status status =
            decoded->source.read(decoded->source.context, decoded->raw + decoded->raw_end,
                                 BLOCK - decoded->raw_end, &got, fault);
        if (status != OK)
            return status;
        decoded->raw_end += got;
        decoded->exhausted = got == 0;
    }
    return OK;
}

static const struct {
    const char *name;
    size_t length;
    unsigned char bytes[4];
    enum decoding decoding; /* UNDECIDED: not read here */
} marks[] = {
    {"UTF-32", 4, {0xFF, 0xFE, 0, 0}, UNDECIDED},  {"UTF-32", 4, {0, 0, 0xFE, 0xFF}, UNDECIDED},
    {"UTF-16", 2, {0xFF, 0xFE}, LITTLE_ENDIAN_16}, {"UTF-16", 2, {0xFE, 0xFF}, BIG_ENDIAN_16},
    {"UTF-8", 3, {0xEF, 0xBB, 0xBF}, PASS_ON},
};

enum { NO_MARK = sizeof marks / sizeof marks[0] };

static size_t find_mark(const unsigned char *bytes, size_t n)
{
    for (size_t i = 0; i < NO_MARK; i++)
        if (n >= marks[i].length && memcmp(bytes, marks[i].bytes, marks[i].length) == 0)
            return i;
    return NO_MARK;
}

/* Text of a log is ASCII for the greater part, so that every other byte of UTF-16 is zero. */
static enum decoding by_zeros(const unsigned char *bytes, size_t n)
{
    size_t zeros[2] = {0, 0};
    if (n > HEAD)
        n = HEAD;
    for (size_t i = 0; i < n; i++)
        zeros[i % 2] += bytes[i] == 0;
    if (n < 4)
        return PASS_ON;
    if (zeros[0] == 0 && 4 * zeros[1] >= 3 * (n / 2))
        return LITTLE_ENDIAN_16;
    if (zeros[1] == 0 && 4 * zeros[0] >= 3 * (n / 2))
        return BIG_ENDIAN_16;
    return PASS_ON;
}

static enum status not_declared(const struct decoded_source *decoded, const char *seen,
                                struct fault *fault)
{
    static const char *const declared[] = {[ENCODING_BY_MARK] = "UTF-8 or UTF-16",
                                           [ENCODING_UTF_8] = "encoding: utf-8",
                                           [ENCODING_UTF_16] = "encoding: utf-16",
                                           [ENCODING_WINDOWS_1252] = "encoding: windows-1252"};
    enum status status =
        FAIL(fault, BAD_INPUT,
             "the file is %s by its first bytes; limit: %s; save it as UTF-8 text, or correct "
             "encoding in the channel map",
             seen, declared[decoded->declared]);
    fault_where(fault, "%s:1:1", decoded->name);
    return status;
}

/* Files that hold a log but are none; the marks are those of the formats' own descriptions: ZIP
 * (APPNOTE.TXT 6.3.10, 4.3.7), gzip (RFC 1952, 2.3.1), PDF (ISO 32000-1, 7.5.2), compound files ([MS-CFB]
 * 2.2); bzip2, xz and 7z from memory. */
static const struct {
    const char *what, *next;
    size_t length;
    unsigned char bytes[8];
} containers[] = {
    {"a ZIP archive, or a spreadsheet's own file",
     "unpack it, or export the sheet as CSV",
     4,
     {'P', 'K', 3, 4}},
    {"packed with gzip", "unpack it", 3, {0x1F, 0x8B, 8}},
    {"packed with bzip2", "unpack it", 3, {'B', 'Z', 'h'}},
    {"packed with xz", "unpack it", 6, {0xFD, '7', 'z', 'X', 'Z', 0}},
    {"packed with 7z", "unpack it", 6, {'7', 'z', 0xBC, 0xAF, 0x27, 0x1C}},
    {"a spreadsheet's own file of old",
     "export the sheet as CSV",
     8,
     {0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1}},
    {"a PDF", "ask for the log as text", 5, {'%', 'P', 'D', 'F', '-'}},
};

static enum status refuse_container(const struct decoded_source *decoded, struct fault *fault)
{
    size_t n = decoded->raw_end - decoded->raw_begin;
    for (size_t i = 0; i < sizeof containers / sizeof containers[0]; i++) {
        if (n < containers[i].length ||
            memcmp(decoded->raw, containers[i].bytes, containers[i].length) != 0)
            continue;
        enum status status =
            FAIL(fault, BAD_INPUT, "the file is %s by its first bytes; limit: a text log; %s",
                 containers[i].what, containers[i].next);
        fault_where(fault, "%s:1:1", decoded->name);
        return status;
    }
    return OK;
}

static enum status decide(struct decoded_source *decoded, struct fault *fault)
{
    enum status status = fill(decoded, HEAD, fault);
    if (status == OK)
        status = refuse_container(decoded, fault);
    if (status != OK)
        return status;
    size_t n = decoded->raw_end;
    size_t mark = find_mark(decoded->raw, n);
    enum decoding seen = mark < NO_MARK ? marks[mark].decoding : by_zeros(decoded->raw, n);
    const char *name = mark < NO_MARK ? marks[mark].name : seen == PASS_ON ? NULL : "UTF-16";
    int is_16 = seen == LITTLE_ENDIAN_16 || seen == BIG_ENDIAN_16;
    if (seen == UNDECIDED)
        return not_declared(decoded, name, fault);
    if (decoded->declared == ENCODING_UTF_16 && !is_16 && n > 0)
        return not_declared(decoded, name != NULL ? name : "not UTF-16", fault);
    if (decoded->declared == ENCODING_WINDOWS_1252 && name != NULL)
        return not_declared(decoded, name, fault);
    if (decoded->declared == ENCODING_UTF_8 && is_16)
        return not_declared(decoded, name, fault);
    decoded->decoding = decoded->declared == ENCODING_WINDOWS_1252 ? ONE_BYTE : seen;
    if (is_16 && mark < NO_MARK)
        decoded->raw_begin = marks[mark].length;
    return OK;
}

static void put(struct decoded_source *decoded, unsigned point)
{
    decoded->out_end += utf8_write(point, decoded->out + decoded->out_end);
    int is_end = point == '\r' || (point == '\n' && !decoded->after_return);
    if (is_end)
        decoded->line++;
    decoded->column = is_end || point == '\n' ? 1 : decoded->column + 1;
    decoded->after_return = point == '\r';
}

/* 0 when the byte is none of Windows-1252. */
static unsigned of_windows_1252(unsigned char byte)
{
    static const unsigned short points[32] = {
        0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
        0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
        0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};
    return byte >= 0x80 && byte < 0xA0 ? points[byte - 0x80] : byte;
}

static enum status place(struct decoded_source *decoded, struct fault *fault)
{
    fault_where(fault, "%s:%zu:%zu", decoded->name, decoded->line, decoded->column);
    return BAD_INPUT;
}

static enum status decode_bytes(struct decoded_source *decoded, struct fault *fault)
{
    while (decoded->raw_begin < decoded->raw_end) {
        unsigned char byte = decoded->raw[decoded->raw_begin];
        unsigned point = of_windows_1252(byte);
        if (point == 0 && byte != 0) {
            (void)FAIL(fault, BAD_INPUT,
                       "byte 0x%02X is not Windows-1252; limit: what the channel map declares; "
                       "save the file as UTF-8 text, or correct encoding there",
                       byte);
            return place(decoded, fault);
        }
        put(decoded, point);
        decoded->raw_begin++;
    }
    return OK;
}

static unsigned unit_at(const struct decoded_source *decoded, size_t at)
{
    unsigned first = decoded->raw[at];
    unsigned second = decoded->raw[at + 1];
    return decoded->decoding == BIG_ENDIAN_16 ? first << 8 | second : second << 8 | first;
}

static enum status bad_unit(struct decoded_source *decoded, unsigned unit, struct fault *fault)
{
    (void)FAIL(fault, BAD_INPUT,
               "0x%04X is half of a UTF-16 character; limit: whole characters; export the log "
               "again",
               unit);
    return place(decoded, fault);
}

static enum status cut_short(struct decoded_source *decoded, struct fault *fault)
{
    (void)FAIL(fault, BAD_INPUT,
               "the file ends within a UTF-16 character; limit: whole characters; it was copied "
               "before it was finished: copy it again");
    return place(decoded, fault);
}

/* Takes whole characters; what is left of one waits for the next block. */
static enum status decode_units(struct decoded_source *decoded, struct fault *fault)
{
    while (decoded->raw_end - decoded->raw_begin >= 2) {
        unsigned unit = unit_at(decoded, decoded->raw_begin);
        size_t taken = 2;
        if (unit >= 0xDC00 && unit <= 0xDFFF)
            return bad_unit(decoded, unit, fault);
        if (unit >= 0xD800 && unit <= 0xDBFF) {
            if (decoded->raw_end - decoded->raw_begin < 4)
                break;
            unsigned low = unit_at(decoded, decoded->raw_begin + 2);
            if (low < 0xDC00 || low > 0xDFFF)
                return bad_unit(decoded, unit, fault);
            unit = 0x10000 + ((unit - 0xD800) << 10) + (low - 0xDC00);
            taken = 4;
        }
        put(decoded, unit);
        decoded->raw_begin += taken;
    }
    if (decoded->exhausted && decoded->raw_begin < decoded->raw_end)
        return cut_short(decoded, fault);
    return OK;
}

/* Makes the next block of UTF-8. What was decoded before a refusal is handed out first, so that the
 * rows above it are judged before it. */
static enum status decode(struct decoded_source *decoded, struct fault *fault)
{
    enum status status = OK;
    decoded->out_begin = decoded->out_end = 0;
    while (status == OK && decoded->out_end == 0 &&
           !(decoded->exhausted && decoded->raw_begin == decoded->raw_end)) {
        status = fill(decoded, decoded->raw_end - decoded->raw_begin + 1, fault);
        if (status != OK)
            return status;
        status = decoded->decoding == ONE_BYTE ? decode_bytes(decoded, fault)
                                               : decode_units(decoded, fault);
    }
    return decoded->out_end > 0 ? OK : status;
}

/* UTF-8: the head that was looked at, and then the source itself, without a copy. */
static enum status pass_on(struct decoded_source *decoded, unsigned char *buffer, size_t size,
                           size_t *got, struct fault *fault)
{
    size_t kept = decoded->raw_end - decoded->raw_begin;
    if (kept == 0)
        return decoded->source.read(decoded->source.context, buffer, size, got, fault);
    *got = size < kept ? size : kept;
    memcpy(buffer, decoded->raw + decoded->raw_begin, *got);
    decoded->raw_begin += *got;
    return OK;
}

static enum status read_decoded(void *context, unsigned char *buffer, size_t size, size_t *got,
                                struct fault *fault)
{
    struct decoded_source *decoded = context;
    enum status status = OK;
    *got = 0;
    if (decoded->ended)
        return OK;
    if (decoded->decoding == UNDECIDED)
        status = decide(decoded, fault);
    if (status == OK && decoded->decoding == PASS_ON)
        return pass_on(decoded, buffer, size, got, fault);
    if (status == OK && decoded->out_begin == decoded->out_end)
        status = decode(decoded, fault);
    if (status != OK) {
        decoded->ended = 1;
        return status;
    }
    size_t ready = decoded->out_end - decoded->out_begin;
    *got = size < ready ? size : ready;
    if (*got > 0)
        memcpy(buffer, decoded->out + decoded->out_begin, *got);
    decoded->out_begin += *got;
    return OK;
}

struct byte_source decoded_source_bytes(struct decoded_source *decoded)
{
    return (struct byte_source){.read = read_decoded, .context = decoded};
}

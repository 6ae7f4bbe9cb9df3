/* sniff_text.c - see sniff_text.h. */
#include "ingest/sniff_text.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "schema/utf8.h"

const char *sniff_encoding_name(enum sniff_encoding encoding)
{
    static const char *const names[SNIFF_ENCODINGS] = {
        [SNIFF_ASCII] = "ASCII",
        [SNIFF_UTF8] = "UTF-8",
        [SNIFF_UTF16_LE] = "UTF-16, low byte first",
        [SNIFF_UTF16_BE] = "UTF-16, high byte first",
        [SNIFF_WINDOWS_1252] = "Windows-1252 (suspected: high bytes that are not UTF-8)",
    };
    return names[encoding];
}

void sniff_text_free(struct sniff_text *text)
{
    free(text->text);
    free(text->lines);
    *text = (struct sniff_text){0};
}

/* What the characters 0x80 .. 0x9F are; 0 where the code has none.
 * Source: Unicode Consortium, mapping table CP1252.TXT, version 2.01 (1998). */
static const unsigned windows_1252[32] = {
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

static void put(struct sniff_text *text, unsigned point)
{
    char *to = text->text + text->length;
    size_t n = 0;
    if (point < 0x80) {
        to[n++] = (char)point;
    } else if (point < 0x800) {
        to[n++] = (char)(0xC0 | point >> 6);
    } else if (point < 0x10000) {
        to[n++] = (char)(0xE0 | point >> 12);
        to[n++] = (char)(0x80 | (point >> 6 & 0x3F));
    } else {
        to[n++] = (char)(0xF0 | point >> 18);
        to[n++] = (char)(0x80 | (point >> 12 & 0x3F));
        to[n++] = (char)(0x80 | (point >> 6 & 0x3F));
    }
    if (point >= 0x80)
        to[n++] = (char)(0x80 | (point & 0x3F));
    text->length += n;
    text->degree_signs += point == 0xB0 || point == 0xBA;
    text->micro_signs += point == 0xB5 || point == 0x3BC;
}

static unsigned unit_at(const unsigned char *bytes, int big)
{
    return (unsigned)bytes[big ? 0 : 1] << 8 | bytes[big ? 1 : 0];
}

static void take_utf16(struct sniff_text *text, const unsigned char *bytes, size_t size, int big)
{
    enum { REPLACEMENT = 0xFFFD };
    for (size_t i = 0; i + 1 < size; i += 2) {
        unsigned unit = unit_at(bytes + i, big);
        unsigned next = 0;
        if (unit >= 0xD800 && unit < 0xDC00 && i + 3 < size)
            next = unit_at(bytes + i + 2, big);
        if (next >= 0xDC00 && next < 0xE000) {
            put(text, 0x10000 + ((unit - 0xD800) << 10) + (next - 0xDC00));
            i += 2;
        } else {
            put(text, unit >= 0xD800 && unit < 0xE000 ? (unsigned)REPLACEMENT : unit);
        }
    }
}

static void take_windows(struct sniff_text *text, const unsigned char *bytes, size_t size)
{
    for (size_t i = 0; i < size; i++) {
        unsigned point = bytes[i];
        if (point >= 0x80 && point < 0xA0 && windows_1252[point - 0x80] != 0)
            point = windows_1252[point - 0x80];
        put(text, point);
    }
}

static void take_utf8(struct sniff_text *text, const unsigned char *bytes, size_t size)
{
    memcpy(text->text, bytes, size);
    text->length = size;
    for (size_t i = 0; i + 1 < size; i++) {
        text->degree_signs += bytes[i] == 0xC2 && (bytes[i + 1] == 0xB0 || bytes[i + 1] == 0xBA);
        text->micro_signs += (bytes[i] == 0xC2 && bytes[i + 1] == 0xB5) ||
                             (bytes[i] == 0xCE && bytes[i + 1] == 0xBC);
    }
}

/* UTF-16 without a mark: a plain text then has a NUL in every second byte, always the same one. */
static int looks_like_utf16(const unsigned char *bytes, size_t size, size_t offset)
{
    enum { LOOKED_AT = 4096 };
    size_t n = size < LOOKED_AT ? size / 2 : LOOKED_AT / 2;
    size_t nuls = 0;
    size_t others = 0;
    for (size_t i = 0; i < n; i++) {
        nuls += bytes[2 * i + offset] == 0;
        others += bytes[2 * i + 1 - offset] == 0;
    }
    return n >= 2 && others == 0 && 10 * nuls >= 9 * n;
}

/* Gives the length of the byte-order mark. */
static size_t find_encoding(const unsigned char *bytes, size_t size, struct sniff_text *text)
{
    static const struct {
        const char *mark;
        size_t length;
        enum sniff_encoding encoding;
    } marks[] = {{"\xEF\xBB\xBF", 3, SNIFF_UTF8},
                 {"\xFF\xFE", 2, SNIFF_UTF16_LE},
                 {"\xFE\xFF", 2, SNIFF_UTF16_BE}};
    for (size_t i = 0; i < size; i++) {
        text->high_bytes += bytes[i] > 0x7F;
        text->nul_bytes += bytes[i] == 0;
    }
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++) {
        if (size < marks[i].length || memcmp(bytes, marks[i].mark, marks[i].length) != 0)
            continue;
        text->has_mark = 1;
        text->encoding = marks[i].encoding;
        return marks[i].length;
    }
    if (looks_like_utf16(bytes, size, 1))
        text->encoding = SNIFF_UTF16_LE;
    else if (looks_like_utf16(bytes, size, 0))
        text->encoding = SNIFF_UTF16_BE;
    else if (text->high_bytes == 0)
        text->encoding = SNIFF_ASCII;
    else
        text->encoding = SNIFF_UTF8;
    return 0;
}

/* Ctrl-Z, with which old programs end a text. */
static const char end_of_old_files = 0x1A;

static void decode(struct sniff_text *text, const unsigned char *bytes, size_t size)
{
    int is_utf16 = text->encoding == SNIFF_UTF16_LE || text->encoding == SNIFF_UTF16_BE;
    if (text->encoding == SNIFF_UTF8 && utf8_valid_length((const char *)bytes, size) < size)
        text->encoding = SNIFF_WINDOWS_1252;
    if (is_utf16) {
        text->high_bytes = text->nul_bytes = 0;
        take_utf16(text, bytes, size, text->encoding == SNIFF_UTF16_BE);
    } else if (text->encoding == SNIFF_WINDOWS_1252) {
        take_windows(text, bytes, size);
    } else {
        take_utf8(text, bytes, size);
    }
    if (text->length > 0 && text->text[text->length - 1] == end_of_old_files)
        text->length--;
    text->text[text->length] = '\0';
}

/* Cuts the text at LF, CR LF and CR; into lines when there is room, else it only counts. */
static size_t cut_lines(struct sniff_text *text, struct sniff_line *lines)
{
    size_t n = 0;
    size_t begin = 0;
    text->ends_lf = text->ends_crlf = text->ends_cr = 0;
    for (size_t i = 0; i < text->length; i++) {
        char c = text->text[i];
        if (c != '\n' && c != '\r')
            continue;
        int pair = c == '\r' && text->text[i + 1] == '\n'; /* a NUL ends the text */
        if (lines != NULL)
            lines[n] = (struct sniff_line){begin, i - begin};
        text->ends_lf += c == '\n';
        text->ends_crlf += (size_t)pair;
        text->ends_cr += c == '\r' && !pair;
        i += (size_t)pair;
        begin = i + 1;
        n++;
    }
    text->terminated = begin == text->length;
    if (!text->terminated && lines != NULL)
        lines[n] = (struct sniff_line){begin, text->length - begin};
    return n + !text->terminated;
}

/* A first line sep=; or "sep=;", which some spreadsheets write. */
static void find_separator(struct sniff_text *text)
{
    const char *first = text->text;
    size_t length = text->n_lines > 0 ? text->lines[0].length : 0;
    if (length == 7 && first[0] == '"' && first[6] == '"') {
        first++;
        length = 5;
    }
    if (length == 5 && strncasecmp(first, "sep=", 4) == 0)
        text->separator = first[4];
}

enum status sniff_text_read(const unsigned char *bytes, size_t size, struct sniff_text *text,
                            struct fault *fault)
{
    *text = (struct sniff_text){.bytes = size};
    if (size == 0)
        return FAIL(fault, BAD_INPUT, "the file is empty; there is nothing to look at");
    size_t skip = find_encoding(bytes, size, text);
    text->text = malloc(3 * (size - skip) + 4); /* a byte of Windows-1252 may become three */
    if (text->text == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a log of %zu bytes", size);
    decode(text, bytes + skip, size - skip);
    if (text->nul_bytes > 0) {
        size_t nuls = text->nul_bytes;
        sniff_text_free(text);
        return FAIL(fault, BAD_INPUT,
                    "%zu of %zu bytes are NUL and it is no UTF-16: this is no text; export the log "
                    "as a delimited text file",
                    nuls, size);
    }
    text->n_lines = cut_lines(text, NULL);
    text->lines = malloc((text->n_lines + 1) * sizeof *text->lines);
    if (text->lines == NULL) {
        sniff_text_free(text);
        return FAIL(fault, NO_MEMORY, "no memory for the lines of a log");
    }
    (void)cut_lines(text, text->lines);
    find_separator(text);
    return OK;
}

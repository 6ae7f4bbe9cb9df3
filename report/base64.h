/* base64.h - RFC 4648 base64 (section 4, with padding), for the hashes in a page's policy. */
#ifndef LAPWING_REPORT_BASE64_H
#define LAPWING_REPORT_BASE64_H

#include <stddef.h>

/* Text of n bytes into out, which needs 4 * ((n + 2) / 3) + 1 bytes. */
void base64_encode(const unsigned char *bytes, size_t n, char *out);

/* Bytes from lower- or upper-case hexadecimal digits, up to limit; gives how many, 0 when a
 * character is not a digit or their number is odd. */
size_t base64_bytes_from_hex(const char *hex, unsigned char *bytes, size_t limit);

#endif

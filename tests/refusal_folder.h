/* refusal_folder.h - a small night of averaged points, so that one edit provokes one refusal. */
#ifndef LAPWING_TEST_REFUSAL_FOLDER_H
#define LAPWING_TEST_REFUSAL_FOLDER_H

/* Makes a campaign folder (64 bytes) that reduces and compares without a flag of the state flagged,
 * failed or refused, but that rows without their scatter and few repeats have: two zeros about three baseline runs and two of configuration wing, loads ready-made,
 * rows that are points. 0 when it cannot. Remove it with program_remove(). Numbers are invented. */
int refusal_folder_make(char folder[64]);

#endif

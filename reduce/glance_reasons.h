/* glance_reasons.h - the families of reasons that a verdict is made of; see glance_verdict.h.
 *
 * Each adds its reasons, or notes, to the glance; NO_MEMORY is the only failure.                   */
#ifndef LAPWING_GLANCE_REASONS_H
#define LAPWING_GLANCE_REASONS_H

#include "reduce/key_text.h"
#include "schema/glance.h"

/* Flags, one reason a rule and channel. */
enum status glance_flag_reasons(struct glance *glance, struct fault *fault);
/* Uncertainty and trend of the main metric. */
enum status glance_limit_reasons(struct glance *glance, struct fault *fault);
/* Targets of the main measure that nobody tried. */
enum status glance_target_reasons(struct glance *glance, struct fault *fault);
/* Points apart from the earlier runs. */
enum status glance_apart_reasons(struct glance *glance, struct fault *fault);
/* Zeros, earlier runs. */
enum status glance_notes(struct glance *glance, struct fault *fault);

/* What one flag asks for by itself; GLANCE_USABLE: a note, or nothing. */
enum glance_verdict glance_flag_verdict(const struct glance *glance,
                                        const struct glance_flag *flag);
/* What a limit passed at this point asks for. */
enum glance_verdict glance_point_verdict(const struct glance *glance,
                                         const struct glance_point *point);

/* A reason being written. The texts are copied, then ended. */
struct reason_draft {
    enum glance_verdict verdict;
    double effect;
    struct key_text what, text;
    const char *action;
};
enum status glance_add_reason(struct glance *glance, struct reason_draft *draft,
                              struct fault *fault);
/* The same for a note; text is ended. */
enum status glance_add_note(struct glance *glance, struct key_text *text, struct fault *fault);

#endif

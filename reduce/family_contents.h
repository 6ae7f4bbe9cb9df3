/* family_contents.h - a family is compared over runs whose loads contain the same parts of the car. */
#ifndef LAPWING_FAMILY_CONTENTS_H
#define LAPWING_FAMILY_CONTENTS_H

#include "reduce/family.h"
#include "reduce/flagging.h"

/* Takes the values from runs whose loads contain other parts than the baseline's first run with values
 * (without one, the family's first), and flags each (flagger NULL: does not): a delta would be the part that is missing. */
enum status family_keep_one_content(const struct night *night, struct family *family,
                                    struct flagger *flagger, struct fault *fault);

#endif

/* explain_command.h - `lapwing explain`: where one number comes from. */
#ifndef LAPWING_EXPLAIN_COMMAND_H
#define LAPWING_EXPLAIN_COMMAND_H

#include "reduce/explain.h"
#include "schema/command.h"

/* Splits "RUN/POINT" in place at its first slash: a run's name holds none, a point's may. BAD_INPUT when
 * either is empty or there is no slash. */
enum status explain_split(char *name, struct explain_request *request, struct fault *fault);

extern const struct command explain_command;

#endif

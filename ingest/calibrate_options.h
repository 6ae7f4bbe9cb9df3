/* calibrate_options.h - the arguments of `lapwing calibrate`, and the loadings they name. */
#ifndef LAPWING_CALIBRATE_OPTIONS_H
#define LAPWING_CALIBRATE_OPTIONS_H

#include "schema/command.h"
#include "schema/loadings.h"

extern const char calibrate_usage[];

/* Reads the request and its loadings; problems of the sheet are told on standard error, the first one comes back
 * as BAD_INPUT. With --balance the campaign's rated loads and unit of outputs are taken. Texts of *request
 * live as long as argv. End *loadings with loadings_free() either way. */
enum status calibrate_read(const struct common_options *common, int argc, char **argv,
                           struct calibrate_request *request, struct loadings *loadings,
                           struct fault *fault);

#endif

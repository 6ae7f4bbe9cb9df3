/* trim_names.c - see trim_names.h. */
#include "ingest/trim_names.h"

static void tell(const struct campaign *campaign, const struct trim_device *device,
                 const char *what, struct problems *problems)
{
    struct fault problem;
    fault_set(&problem, BAD_INPUT, __FILE__, __LINE__, "the configuration '%.80s' %s",
              device->configuration, what);
    fault_where(&problem, "%s: trim %s", campaign->path, device->name);
    problems_add(problems, &problem);
}

void trim_names_check(const struct campaign *campaign,
                      const struct configuration_sheet *configurations, struct problems *problems)
{
    for (size_t i = 0; i < campaign->n_trims; i++) {
        const struct trim_device *device = &campaign->trims[i];
        const struct configuration *found =
            configuration_find(configurations, device->configuration);
        if (found == NULL)
            tell(campaign, device,
                 "is on no line of configurations.csv; correct the name, or add it", problems);
        else if (found->parent[0] == '\0')
            tell(campaign, device,
                 "is a baseline; limit: one that differs from its baseline by the device alone; "
                 "name that one",
                 problems);
    }
}

#ifndef UF_PIT_WATER_H
#define UF_PIT_WATER_H

#include "cli/tell/answer.h"
#include "io/report/report.h"
#include "io/site/site_file.h"
#include "io/text/quantity.h"

/* The dry pit with the water table of the frost season, and at its highest. */
struct uf_pit_water {
    struct uf_dewater low, high;
    bool has_low; /* a water table of the frost season is given */
};

/* Errors: UF_E_INPUT for a confined layer over the floor or a soil that cannot be resolved. */
enum uf_status uf_pit_water_find(struct uf_pit_water *out, const struct uf_site *site,
                                 const struct uf_pit *pit, struct uf_error *err);

/* Does no confined layer lift the floor, with the water table of the frost season? */
bool uf_pit_water_holds(const struct uf_pit_water *found);

void uf_pit_water_answer(cJSON *object, const struct uf_pit_water *found);
void uf_pit_water_show(const struct uf_pit_water *found, enum uf_units units);
void uf_pit_water_report(struct uf_report *report, const struct uf_pit_water *found,
                         enum uf_units units);

#endif

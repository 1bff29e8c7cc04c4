#include "io/report/field_page.h"
#include "sheet.h"
#include "solver/design/anchor.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>

/* The stages at which a tank is read, from the lorry to grade; common practice, no source. */
static void add_stages(struct uf_field_page *page, const struct uf_case *design)
{
    const bool anchored = uf_anchor_any(design);
    const bool lying = uf_shape_is_round(&design->tank);
    const struct {
        bool wanted;
        const char *name;
    } stages[] = {{true, "delivered; not yet lifted"}, {true, "set on the bedding"},
                  {anchored, "tied down; slings off"}, {lying, "filled to the widest level"},
                  {true, "filled to the crown"},       {uf_case_has_board(design), "board laid"},
                  {true, "covered to grade"},          {true, "handed over"}};
    for (size_t i = 0; i < sizeof stages / sizeof stages[0]; i++) {
        if (stages[i].wanted) {
            page->stages[page->n_stages++] = stages[i].name;
        }
    }
}

enum uf_status uf_sheet_field(const char *path, const struct uf_site *site, enum uf_units units,
                              struct uf_error *err)
{
    const struct uf_case *design = &site->design;
    const struct uf_roundness_input *r = &site->works.roundness;
    const double wall_m =
        isnan(design->tank.wall_thickness_m) ? 0.0 : design->tank.wall_thickness_m;
    struct uf_field_page page = {.title = design->name[0] != '\0' ? design->name : "Tank",
                                 .stations = r->stations,
                                 .units = units,
                                 .diameter_m = design->tank.diameter_m - 2.0 * wall_m,
                                 .limit = r->limit,
                                 .level_limit_m = r->level_limit_m};
    if (!uf_shape_is_round(&design->tank) && !uf_shape_is_radial(&design->tank)) {
        return uf_fail_key(err, UF_E_INPUT, "tank.shape",
                           UF_PLAIN("has no diameter for a field record"),
                           UF_PLAIN("a cylinder; leave --field out"));
    }
    if (r->stations == 0) {
        return uf_fail_key(err, UF_E_INPUT, "roundness.stations",
                           UF_PLAIN("there is no place to read at"), UF_PLAIN("1 to 9"));
    }
    add_stages(&page, design);
    return uf_field_page_write(path, &page, err);
}

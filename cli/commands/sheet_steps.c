#include "sheet.h"
#include "solver/design/anchor.h"
#include "solver/design/shape.h"

#include <math.h>

/* The order of work: what is done, what is checked, and for which design. Common
   practice, no source; the manufacturer's sheet comes first. */

/* What a design is or has; a step is written when all that it needs is there. */
enum {
    LYING = 1 << 0,    /* a horizontal cylinder: it has haunches and a diameter to watch */
    STANDING = 1 << 1, /* any other shape */
    CLOTH = 1 << 2,    /* geotextile around a fill that is brought in */
    UNDER = 1 << 3,    /* anchors under the bedding: here each kind has its step */
    BESIDE = 1 << 4,   /* anchors beside the tank: here too */
    STRAPS = 1 << 5,
    FASTENED = 1 << 6, /* to its anchors, but by no straps */
    ONE_LAYER = 1 << 7,
    LAYERS = 1 << 8,
    WHEEL = 1 << 9,
    NO_WHEEL = 1 << 10
};

static const struct {
    unsigned needs;
    const char *work, *check;
} STEPS[] = {
    {0, "Locate services; mark out the pit; spoil and traffic back from the edge",
     "permits and clearances on site; spoil at least 0.6 m (2 ft) back (29 CFR 1926.651)"},
    {0, "Excavate to the slope drawn; a way out within reach; keep the pit dry",
     "depth, floor and slope measured; sides inspected each morning and after rain"},
    {CLOTH, "Lay the geotextile on floor and sides", "laps as ordered; no tear"},
    {UNDER, NULL, NULL},
    {0, "Place and level the bedding", "depth and level of the bedding"},
    {BESIDE, NULL, NULL},
    {LYING, "Inspect the tank; lift and set it; take off the slings",
     "no damage; level along and across; inside diameter read and written down"},
    {STANDING, "Inspect the tank; lift and set it; take off the slings",
     "no damage; level along and across"},
    {STRAPS | LYING, "Strap the tank to the manufacturer's instructions",
     "straps snug, at their marks; diameter and level again"},
    {STRAPS | STANDING, "Strap the tank to the manufacturer's instructions",
     "straps snug, at their marks; level again"},
    {FASTENED, "Fasten the tank to its anchors as designed",
     "the fastening as drawn by who designed it; level again"},
    {LYING,
     "Fill evenly on both sides in thin layers up to the springline, working it under the haunches",
     "no void under the haunches; diameter and level"},
    {LYING, "Fill to the crown", "diameter and level; stop at the manufacturer's limit"},
    {STANDING, "Fill evenly on all sides in thin layers up to the top of the tank",
     "level; walls sound"},
    {CLOTH, "Close the geotextile over the fill", "laps as ordered"},
    {ONE_LAYER, "Lay the board in one layer, joints tight",
     "place, extension and thickness; no gap, no broken sheet"},
    {LAYERS, "Lay the board in staggered layers, joints tight",
     "place, extension and thickness; no joint over a joint, no gap, no broken sheet"},
    {LYING | WHEEL, "Fill to grade; no wheel before full cover",
     "cover; diameter and level; risers upright, lids shut and insulated"},
    {LYING | NO_WHEEL, "Fill to grade; keep wheels off, now and later",
     "cover; diameter and level; risers upright, lids shut and insulated"},
    {STANDING | WHEEL, "Fill to grade; no wheel before full cover",
     "cover and level; risers upright, lids shut and insulated"},
    {STANDING | NO_WHEEL, "Fill to grade; keep wheels off, now and later",
     "cover and level; risers upright, lids shut and insulated"},
    {0, "Hand over", "this sheet, the readings and photographs go to the owner"},
};

static unsigned facts_of(const struct uf_case *d, const struct uf_quantities *q)
{
    unsigned facts = uf_shape_is_round(&d->tank) ? LYING : STANDING;
    facts |= q->geotextile_lapped_m2 > 0.0 ? CLOTH : 0U;
    facts |= d->anchors.straps > 0 ? STRAPS : 0U;
    facts |= uf_case_untied(d) ? FASTENED : 0U;
    facts |= d->wheel_N > 0.0 ? WHEEL : NO_WHEEL;
    if (uf_case_has_board(d)) {
        facts |= q->board_layers == 1 ? ONE_LAYER : LAYERS;
    }
    return facts;
}

static void write_sides(struct uf_report *report, const struct uf_pit *pit, enum uf_units units)
{
    if (pit->needs_engineer) {
        uf_report_frame(report,
                        "The pit is %s deep, more than 20 ft (6.1 m): a registered "
                        "engineer designs its sides.",
                        UF_TEXT(LENGTH, units, pit->depth_m));
    } else if (pit->needs_protection) {
        uf_report_frame(report,
                        "The pit is %s deep: sloping, shoring or a shield from 5 ft (1.5 m), "
                        "a way out within 25 ft (7.6 m) from 4 ft (29 CFR 1926 subpart P).%s",
                        UF_TEXT(LENGTH, units, pit->depth_m),
                        pit->too_steep ? " The slope given is STEEPER than table B-1 allows." : "");
    }
}

/* A floor under the water table is pumped dry, or not dug. */
static void write_groundwater(struct uf_report *report, const struct uf_case *design,
                              double floor_m, enum uf_units units)
{
    const struct uf_ground_input *ground = &design->ground;
    if (ground->water_winter_m < floor_m) {
        uf_report_paragraph(
            report,
            "The floor lies %s under the water table of the frost season, and %s under "
            "its highest: a dewatering plan is required before it is opened.",
            UF_TEXT(LENGTH, units, floor_m - ground->water_winter_m),
            UF_TEXT(LENGTH, units, floor_m - ground->water_highest_m));
    } else if (ground->water_highest_m < floor_m) {
        uf_report_paragraph(
            report,
            "At its highest the water table stands %s over the floor: excavate while it is "
            "low; a dewatering plan is required.",
            UF_TEXT(LENGTH, units, floor_m - ground->water_highest_m));
    }
}

static void write_step(struct uf_report *report, int number, const char *work, const char *check)
{
    uf_report_cell(report, "%d", number);
    uf_report_cell(report, "%s", work);
    uf_report_cell(report, "%s", check);
    uf_report_cell(report, "____________");
    uf_report_cell(report, "____________________");
}

static void write_anchors(struct uf_report *report, const struct uf_case *design, bool under,
                          int *number)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        char work[80];
        if (row->under_bedding == under && row->body(design).count > 0.0) {
            (void)snprintf(work, sizeof work, "Set the %s", row->word);
            write_step(report, ++*number, work, row->check);
        }
    }
}

void uf_sheet_steps(struct uf_report *report, const struct uf_case *design,
                    const struct uf_quantities *quantities, enum uf_units units)
{
    static const struct uf_report_column columns[] = {{"", 'r'},
                                                      {"work", 'l'},
                                                      {"check before going on", 'l'},
                                                      {"reading", 'l'},
                                                      {"name, date", 'l'}};
    const unsigned facts = facts_of(design, quantities);
    int number = 0;
    uf_report_table(report, "Common practice, no source; the tank manufacturer's sheet comes first",
                    columns, 5);
    for (size_t i = 0; i < sizeof STEPS / sizeof STEPS[0]; i++) {
        if (STEPS[i].work == NULL) {
            write_anchors(report, design, STEPS[i].needs == UNDER, &number);
        } else if ((STEPS[i].needs & ~facts) == 0) {
            write_step(report, ++number, STEPS[i].work, STEPS[i].check);
        }
    }
    write_sides(report, &quantities->pit, units);
    write_groundwater(report, design, quantities->pit.depth_m, units);
}

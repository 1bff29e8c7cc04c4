#include "sheet.h"
#include "solver/design/anchor.h"
#include "solver/design/shape.h"

#include <math.h>
#include <string.h>

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
    NO_WHEEL = 1 << 10,
    RISERS = 1 << 11,
    PIPES = 1 << 12,
    WET = 1 << 13,     /* the water table may stand over the floor */
    LOOSE = 1 << 14,   /* nothing ties the tank down */
    SLEEVES = 1 << 15, /* round risers or standpipes */
    RISES = 1 << 16,   /* a line of water in frozen ground */
    FIRE = 1 << 17,    /* water for fire-fighting is drawn from it */
    NO_FIRE = 1 << 18
};

/* hold: nobody goes on before the check is signed. */
static const struct {
    unsigned needs;
    bool hold;
    const char *work, *check;
} STEPS[] = {
    {FIRE, true,
     "Permits and the fire authority's acceptance in hand; buried services located and marked, "
     "overhead lines noted",
     "permit and locate numbers and dates; drawings signed by a licensed practitioner"},
    {NO_FIRE, true,
     "Permits and the acceptance of the authorities in hand; buried services located and marked, "
     "overhead lines noted",
     "permit and locate numbers and dates; drawings signed by a licensed practitioner"},
    {0, false, "Set a benchmark; set out the tank's axis, its ends and the pit's edge at grade",
     "level of the benchmark; offsets and diagonals of the table, measured twice"},
    {LYING, false,
     "Receive the tank: inspect it on the truck; unload by its pick points with tag lines, never "
     "roll, drop or drag it; set it on level ground free of stones, chocked on both sides, tied "
     "against wind",
     "size and fittings as ordered; damage photographed before signing; chocks and ties"},
    {STANDING, false,
     "Receive the tank: inspect it on the truck; unload by its pick points with tag lines, never "
     "drop or drag it; set it on level ground free of stones, tied against wind",
     "size and fittings as ordered; damage photographed before signing; ties"},
    {0, false, "Receive the other materials; keep foam flat, dry, out of the sun and weighted",
     "delivery notes; sieve list of the fill; type and thickness on each bundle of board"},
    {WET, true, "Start dewatering before the floor is reached",
     "water level below the floor, read in a hole; discharge permitted; standby pump ready"},
    {0, false,
     "Excavate to the slope given, to the floor and no deeper; spoil and traffic back from the edge",
     "depth, floor and slope measured; spoil at least 0.6 m (2 ft) back (29 CFR 1926.651)"},
    {0, true, "Inspection by a competent person before anyone enters, each day and after rain",
     "sides, water, way out within reach; floor undisturbed, no soft spot"},
    {CLOTH, false, "Lay the geotextile on floor and sides", "laps as ordered; no tear"},
    {UNDER, false, NULL, NULL},
    {BESIDE, false, NULL, NULL},
    {0, true, "Place, compact and level the bedding",
     "depth and level of the bedding, along and across"},
    {LYING, false, "Inspect the tank; test it before lifting where its manufacturer asks for it",
     "no damage; test signed; inside diameter read and written down"},
    {STANDING, false, "Inspect the tank; test it before lifting where its manufacturer asks for it",
     "no damage; test signed"},
    {LYING, false, "Lift and set the tank; the slings stay on", "level along and across; diameter"},
    {STANDING, false, "Lift and set the tank; the slings stay on", "level along and across"},
    {STRAPS | LYING, true,
     "Fit and tighten the end straps, then take off the slings; fit the other straps, all to the "
     "manufacturer's instructions",
     "straps snug, at their marks; diameter and level again"},
    {STRAPS | STANDING, true,
     "Fit and tighten the end straps, then take off the slings; fit the other straps, all to the "
     "manufacturer's instructions",
     "straps snug, at their marks; level again"},
    {FASTENED, true, "Fasten the tank to its anchors as designed, then take off the slings",
     "the fastening as drawn by who designed it; level again"},
    {LOOSE, true,
     "Place fill along both sides that keeps the tank from moving, then take off the slings",
     "the tank stands fast; level again"},
    {0, false, "Before each lift: the water inside that the backfill and ballast table asks for",
     "level inside read; the pit pumped dry"},
    {LYING, false,
     "Fill evenly on both sides in the lifts of the table up to the springline, working it under "
     "the haunches",
     "no void under the haunches; diameter and level"},
    {PIPES | FIRE, true,
     "Connect the suction and hydrant line and other pipes; bed them, leave joints open to view",
     "intake level; joints tested before they are covered; fall and frost depth as drawn"},
    {PIPES | NO_FIRE, true, "Connect the pipes; bed them, leave joints open to view",
     "levels at the tank; joints tested before they are covered; fall and frost depth as drawn"},
    {RISERS, false,
     "Clean the flanges; fit each riser on its gasket and tighten the bolts evenly; cover the opening",
     "gasket whole and seated; torque by the manufacturer's sheet; riser plumb"},
    {SLEEVES, false,
     "Fit the insulating sleeves from the tank's crown, or the length drawn, up to grade; joints "
     "staggered and sealed, foam kept dry and off the gravel by a wrap",
     "thickness and length of each sleeve; no gap at the board nor at the crown"},
    {RISES, false, "Fit the cap or frost plug of each line that rises through the frost",
     "depth of the water in it below grade; cap insulated as designed"},
    {0, false, "Fit vent and fill connections as the tank's drawings show",
     "vent open, screened, above flood and snow"},
    {LYING, true, "Fill to the crown", "diameter and level; stop at the manufacturer's limit"},
    {STANDING, true, "Fill evenly on all sides in the lifts of the table up to the top of the tank",
     "level; walls sound"},
    {CLOTH, false, "Close the geotextile over the fill", "laps as ordered"},
    {ONE_LAYER, true,
     "Lay the board in one layer by the cut plan, joints tight, cut close to the risers",
     "place, extension and thickness; no gap, no broken sheet"},
    {LAYERS, true,
     "Lay the board in staggered layers by the cut plan, joints tight, cut close to the risers",
     "place, extension and thickness; no joint over a joint, no gap, no broken sheet"},
    {LYING | WHEEL, false,
     "Fill to grade, warning tape over board and pipes; no wheel before full cover",
     "cover; diameter and level; risers upright, lids shut and insulated"},
    {LYING | NO_WHEEL, false,
     "Fill to grade, warning tape over board and pipes; keep wheels off, now and later",
     "cover; diameter and level; risers upright, lids shut and insulated"},
    {STANDING | WHEEL, false,
     "Fill to grade, warning tape over board and pipes; no wheel before full cover",
     "cover and level; risers upright, lids shut and insulated"},
    {STANDING | NO_WHEEL, false,
     "Fill to grade, warning tape over board and pipes; keep wheels off, now and later",
     "cover and level; risers upright, lids shut and insulated"},
    {WET, false, "Stop dewatering only when the last lift of the table needs no water inside",
     "groundwater and water inside read on the day"},
    {PIPES | FIRE, true, "Fill the tank; flow test at the hydrant, watched by the fire authority",
     "flow and suction as required; no leak"},
    {PIPES | NO_FIRE, true, "Fill the tank as its manufacturer asks, watched by the authority",
     "no leak; water runs through every pipe"},
    {0, false, "Hand over",
     "this sheet, the readings, as-built levels and photographs go to the owner"},
};

/* Is there a standpipe, or a pipe whose name speaks of fire-fighting? */
static bool is_for_fire(const struct uf_case *d)
{
    static const char *const words[] = {"suction", "hydrant", "fire"};
    bool is = d->n_standpipes > 0;
    for (size_t i = 0; i < d->n_pipes; i++) {
        for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
            is = is || strstr(d->pipes[i].name, words[k]) != NULL;
        }
    }
    return is;
}

static unsigned facts_of(const struct uf_case *d, const struct uf_quantities *q)
{
    unsigned facts = uf_shape_is_round(&d->tank) ? LYING : STANDING;
    facts |= q->geotextile_lapped_m2 > 0.0 ? CLOTH : 0U;
    facts |= d->anchors.straps > 0 ? STRAPS : 0U;
    facts |= uf_case_untied(d) ? FASTENED : 0U;
    facts |= !uf_anchor_any(d) && d->anchors.straps == 0 ? LOOSE : 0U;
    facts |= d->wheel_N > 0.0 ? WHEEL : NO_WHEEL;
    facts |= d->tank.n_risers > 0 ? RISERS : 0U;
    for (size_t i = 0; i < d->tank.n_risers; i++) {
        facts |= d->tank.risers[i].shell.sleeve_m > 0.0 ? SLEEVES : 0U;
    }
    for (size_t i = 0; i < d->n_standpipes; i++) {
        facts |= RISES | (d->standpipes[i].shell.sleeve_m > 0.0 ? SLEEVES : 0U);
    }
    facts |= d->n_pipes > 0 ? PIPES : 0U;
    facts |= is_for_fire(d) ? FIRE : NO_FIRE;
    facts |= fmin(d->ground.water_highest_m, d->ground.water_winter_m) < q->pit.depth_m ? WET : 0U;
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

static void write_step(struct uf_report *report, int number, const char *work, const char *hold,
                       const char *check)
{
    uf_report_cell(report, "%d", number);
    uf_report_cell(report, "%s", work);
    uf_report_cell(report, "%s%s", hold, check);
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
            write_step(report, ++*number, work, "", row->check);
        }
    }
}

void uf_sheet_steps(struct uf_report *report, const struct uf_case *design,
                    const struct uf_quantities *quantities, enum uf_units units)
{
    static const struct uf_show_column columns[] = {{"", 'r'},
                                                    {"work", 'l'},
                                                    {"check before going on", 'l'},
                                                    {"reading", 'l'},
                                                    {"name, date", 'l'}};
    const unsigned facts = facts_of(design, quantities);
    int number = 0;
    uf_report_frame(report,
                    "Local codes, the authority having jurisdiction and the tank manufacturer's "
                    "sheet come first. A licensed practitioner checks the design and signs it. "
                    "At a HOLD nobody goes on before the check is signed.");
    uf_report_table(report, "Order of work: common practice, no source", columns, 5);
    for (size_t i = 0; i < sizeof STEPS / sizeof STEPS[0]; i++) {
        if (STEPS[i].work == NULL) {
            write_anchors(report, design, STEPS[i].needs == UNDER, &number);
        } else if ((STEPS[i].needs & ~facts) == 0) {
            write_step(report, ++number, STEPS[i].work, STEPS[i].hold ? "HOLD: " : "",
                       STEPS[i].check);
        }
    }
    write_sides(report, &quantities->pit, units);
}

#include "report.h"

/* Words that stand in every report. */

static const char *const cautions[] = {
    "This is a calculation, not a permit. Codes, the fire authority and the utilities of the place "
    "come first, and a licensed practitioner who knows the site must check and sign the design.",
    "Digging: have buried services marked before the first bucket. Slope, shore or shield every "
    "pit that anyone enters, keep spoil and machines back from its edge, leave a way out within "
    "reach, and have a competent person look at it daily and after rain or thaw. Frozen walls "
    "are not shoring: they let go when they thaw.",
    "Lifting: use the lifting points and the way of lifting that the tank's manufacturer gives, with "
    "rated gear. Nobody under or beside a hanging tank; no lift in wind that moves it, none with "
    "water in it.",
    "Confined space: a tank or a deep riser may hold no air to breathe. Nobody enters without a "
    "permit, a measured atmosphere, ventilation and an attendant outside; nobody goes in after a "
    "person who has fallen.",
    "Uplift: a tank floats as soon as the pit fills with water, long before the cover is on. "
    "Keep the pit dry, or weigh the tank down with water, until anchors and backfill are "
    "complete. Do not pump a tank empty while groundwater stands high.",
    "Fire water: a frozen suction pipe, riser or hydrant is no supply at all. Test the draw before "
    "and during each winter, look at the ice, and report a supply that is out of use to the fire "
    "service at once.",
    "The ground decides: dig a test pit, measure the moisture and find the water table before you "
    "rely on any figure here. Where they differ from the site file, run it again.",
};

static const char *const not_computed[] = {
    "How far frost heaves the ground or thaw settles it, also under the edge of the "
    "board and under the bedding. Frost-susceptible soil there can move the board and the tank.",
    "Ground that stays frozen the year round.",
    "Heat that moving groundwater carries; streaming of water inside the tank or of air "
    "in dry gravel.",
    "A section that is not the same on both sides: a slope, a lane cleared on one side only, a "
    "basement or a second tank beside it. Run the worse side for both.",
    "Where along the tank a riser stands: in three dimensions the heat through its side is shared out over "
    "the tank's length.",
    "Joints between boards (lay two layers with staggered joints), boards crushed, "
    "damaged or lost.",
    "The strength of the tank itself: buckling, wheels over the shell, vacuum, a full "
    "tank frozen shut.",
    "Scour and earthquake; heave of the pit's bottom and the drawing down of water "
    "around it; salt in the ground or the water.",
    "Friction of soil on the tank, suction in soil that has not drained, and frozen "
    "ground: none of them is ever counted as holding the tank down.",
};

struct source {
    const char *what, *from;
};

static const struct source sources[] = {
    {"Freezing index of a winter, by the cumulative curve",
     "UFC 3-130-01 / TM 5-852-1, definition of the freezing index"},
    {"Freezing index of a return period",
     "Gumbel distribution fitted by moments; mean of the three coldest in thirty as in "
     "UFC 3-130-01"},
    {"Shape of the design winter",
     "the recorded winter nearest to the index, its departure from the mean year scaled: "
     "own method, no source"},
    {"Heat capacity and latent heat of soil",
     "from grains, water and ice; by mass as in TM 5-852-6 (the thawed and the frozen form "
     "from memory), 334 kJ/kg of water"},
    {"Conductivity of soil", "Kersten (1949); Johansen (1975); Cote and Konrad (2005); "
                             "each soil's row names its figures"},
    {"Unfrozen water below zero", "Anderson and Tice (1972)"},
    {"n-factors of surfaces", "UFC 3-130-04, table 4-1 (same as TM 5-852-6, table 2-4)"},
    {"Conductivity of snow", "Sturm, Holmgren, Koenig and Morris (1997), J. Glaciol. 43(143)"},
    {"Heat and ice in ground and tank",
     "conservation of enthalpy on a graded section; Voller on enthalpy methods"},
    {"Steps in time, fast path",
     "super-time-stepping RKL2: Meyer, Balsara and Aslam (2014), J. Comput. Phys. 257"},
    {"Steps in time, reference", "CVODE of SUNDIALS, backward differences of order 2"},
    {"Published depths beside the frost depth, F and n F in degC day",
     "mean of -0.328 m + 0.0578 m F^0.5 (Chisholm and Phang 1983, coefficients from memory) and 0.05518 m "
     "F^0.468 (Fair, Geyer and Okun, eq. 5.41b)"},
    {"Modified Berggren formula, layers from grade down",
     "TM 5-852-6 (the form from memory): a layer d thick under the resistance R takes L d / lambda^2 (R + "
     "d / 2 k) of n F; exp(-g^2) / erf(g) - alpha exp(-g^2) / erfc(g) = g pi^0.5 / mu, lambda = g (2 / "
     "mu)^0.5, alpha = annual temperature / v, mu = C v / L, v = n F / days, L and C means over the frozen "
     "depth; k and C means of thawed and frozen, see the table of soils"},
    {"Uplift, submerged and total weights", "USACE EM 1110-2-2100, eq. 3-2"},
    {"Uplift, net buoyancy and ballast; factor 1.3", "FEMA P-259, appendix C, example C7"},
    {"Uplift, partial factors", "EN 1997-1, eq. 2.8 and table A.15 (UPL)"},
    {"Empty tank in a wet pit, with water left inside",
     "USACE EM 1110-2-2100, water held counted as weight"},
    {"Straps and slings",
     "equilibrium of two opposite legs, N / (2 n cos a), tangent to a round shell; slings at 30 degrees from the horizontal at "
     "least (ASME B30.9)"},
    {"Volume of the tank below a level",
     "exact geometry: circle's segment; half ellipsoids below x of their height 3 x^2 - 2 x^3"},
    {"Wheel on the board",
     "published H-20 table; square of side 1.75 H (AASHTO Standard Specifications 6.4: spread read as "
     "quoted, two wheels from memory); Boussinesq (1885), over a patch Newmark (1935), both read as quoted"},
    {"Long-term share of the board's strength, a third dead and a fifth live",
     "common practice, no source"},
    {"Slope of a pit by soil class", "OSHA 29 CFR 1926 subpart P, appendix B, table B-1"},
};

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

void uf_report_cautions(struct uf_report *report)
{
    uf_report_section(report, "Cautions");
    for (size_t i = 0; i < COUNT(cautions); i++) {
        uf_report_point(report, "%s", cautions[i]);
    }
}

void uf_report_not_computed(struct uf_report *report)
{
    uf_report_section(report, "What is not computed");
    for (size_t i = 0; i < COUNT(not_computed); i++) {
        uf_report_point(report, "%s", not_computed[i]);
    }
}

void uf_report_sources(struct uf_report *report)
{
    static const struct uf_show_column columns[] = {{"What", 'l'}, {"Source", 'w'}};
    uf_report_section(report, "Where the formulas come from");
    uf_report_table(
        report,
        "Formulas and their sources. \"From memory\" marks a figure whose source was not read "
        "again when the program was written; check it before you quote it.",
        columns, COUNT(columns));
    for (size_t i = 0; i < COUNT(sources); i++) {
        uf_report_cell(report, "%s", sources[i].what);
        uf_report_cell(report, "%s", sources[i].from);
    }
}

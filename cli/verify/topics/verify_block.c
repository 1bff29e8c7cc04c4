#include "cli/verify/exact/block.h"
#include "cli/verify/verify.h"

/* ISO 10211:2007, the cases in three dimensions. Values as two validation pages quote them; the
   blocks as a public finite-element library draws them for its own test of these cases. */

#define ISO_SOURCE                                                                                 \
    "ISO 10211:2007 annex A (values read on validation pages, blocks in a public library's test), "

/* Outside, a wall of brick, foam and light stone about two rooms, one over the other; a floor slab
   that cuts the foam and stands out as a balcony. */
enum { LOWER_ROOM, UPPER_ROOM, OUTSIDE };
static const struct uf_block CORNER = {
    .airs = {{20.0, 0.2}, {15.0, 0.2}, {0.0, 0.05}},
    .n_airs = 3,
    .parts = {{{-0.2, 1.2}, {-0.8, 1.2}, {0.0, 2.15}, 0.0, OUTSIDE},
              {{-0.1, 1.2}, {-0.1, 1.2}, {0.0, 2.15}, 1.0, 0},
              {{0.0, 1.2}, {0.0, 1.2}, {0.0, 2.15}, 0.04, 0},
              {{0.05, 1.2}, {0.05, 1.2}, {0.0, 2.15}, 0.7, 0},
              {{0.2, 1.2}, {0.2, 1.2}, {0.0, 1.0}, 0.0, LOWER_ROOM},
              {{0.2, 1.2}, {0.2, 1.2}, {1.15, 2.15}, 0.0, UPPER_ROOM},
              {{0.2, 1.2}, {0.2, 1.2}, {1.15, 1.2}, 1.0, 0},
              {{0.05, 1.2}, {-0.7, 1.2}, {1.0, 1.15}, 2.5, 0}},
    .n_parts = 8,
    .size_m = 0.01,
    .growth = 2.0};

/* A quarter of an iron bar 0.1 x 0.05 x 0.6 m, flush with the outside of a layer of foam. */
enum { INSIDE, BEYOND };
static const struct uf_block BAR = {.airs = {{1.0, 0.1}, {0.0, 0.1}},
                                    .n_airs = 2,
                                    .parts = {{{0.0, 0.5}, {0.0, 0.5}, {-0.1, 0.7}, 0.0, INSIDE},
                                              {{0.0, 0.5}, {0.0, 0.5}, {-0.1, 0.0}, 0.0, BEYOND},
                                              {{0.0, 0.5}, {0.0, 0.5}, {0.0, 0.2}, 0.1, 0},
                                              {{0.0, 0.05}, {0.0, 0.025}, {0.0, 0.6}, 50.0, 0}},
                                    .n_parts = 4,
                                    .size_m = 0.002,
                                    .growth = 1.6};

static void add_K(struct uf_verify *verify, const char *name, double got, double expected,
                  double allowed_K)
{
    const struct uf_verify_check check = {.source = ISO_SOURCE "printed temperatures",
                                          .why = "what the standard allows",
                                          .unit = "degC",
                                          .got = got,
                                          .expected = expected,
                                          .allowed = allowed_K};
    uf_verify_add(verify, &check, "%s", name);
}

static void add_W(struct uf_verify *verify, const char *name, double got, double expected)
{
    const struct uf_verify_check check = {.source = ISO_SOURCE "printed heat flow",
                                          .why = "1 %, what the standard allows",
                                          .unit = "W",
                                          .got = got,
                                          .expected = expected,
                                          .allowed = 0.01 * expected};
    uf_verify_add(verify, &check, "%s", name);
}

static enum uf_status run_iso3(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_block_answer got;
    const enum uf_status status = uf_block_solve(&got, &CORNER, err);
    if (status == UF_OK) {
        add_K(verify, "iso3.lower_room", got.coldest_degC[LOWER_ROOM], 11.32, 0.1);
        add_K(verify, "iso3.upper_room", got.coldest_degC[UPPER_ROOM], 11.11, 0.1);
        add_W(verify, "iso3.out_of_lower", got.into_W[LOWER_ROOM], 46.09);
        add_W(verify, "iso3.out_of_upper", got.into_W[UPPER_ROOM], 13.89);
        add_W(verify, "iso3.to_outside", -got.into_W[OUTSIDE], 59.98);
    }
    return status;
}

static enum uf_status run_iso4(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_block_answer got;
    const enum uf_status status = uf_block_solve(&got, &BAR, err);
    if (status == UF_OK) {
        add_K(verify, "iso4.bar", got.warmest_degC[BEYOND], 0.805, 0.005);
        add_W(verify, "iso4.heat", 4.0 * got.into_W[INSIDE], 0.540);
    }
    return status;
}

const struct uf_verify_topic uf_verify_iso3 = {
    .name = "iso3",
    .doc = "ISO 10211 case 3: corner of two rooms, slab through the wall",
    .run = run_iso3,
    .slow = true};

const struct uf_verify_topic uf_verify_iso4 = {.name = "iso4",
                                               .doc =
                                                   "ISO 10211 case 4: iron bar through insulation",
                                               .run = run_iso4,
                                               .slow = true};

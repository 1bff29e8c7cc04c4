#include "solver/choice/bank.h"
#include "solver/design/foam.h"
#include "tests/runs.h"

/* Do two designs asked for come to one run? */
static bool share(const struct uf_case *a, const struct uf_case *b)
{
    const struct uf_run_options options = uf_run_defaults();
    struct uf_bank bank = {.n = 0};
    size_t one = 8, other = 9;
    cr_assert_eq(uf_bank_ask(&one, &bank, a, NULL, &options, NULL), UF_OK);
    cr_assert_eq(uf_bank_ask(&other, &bank, b, NULL, &options, NULL), UF_OK);
    uf_bank_clear(&bank);
    return one == other;
}

/* Options that no heat run tells apart share one. */
Test(bank, what_shares_a_heat_run)
{
    const struct uf_case d = runs_tank();
    struct uf_case other = d;
    other.anchors.straps = 4;
    other.costs.board_m3 = 99.0;
    other.limits.uplift_factor = 2.0;
    other.wheel_N = 5e4;
    other.board.strength_Pa = 7e5;
    other.board.row = uf_foam_find("XPS_V");
    cr_expect(share(&d, &other));
    other.anchors.deadmen = 2; /* within the clearance and the bedding */
    other.anchors.deadman_width_m = other.anchors.deadman_height_m = 0.2;
    other.anchors.deadman_length_m = 4.0;
    cr_expect(share(&d, &other));
    other.anchors.deadman_height_m = 0.3; /* they stand on the floor, which stays where it is */
    cr_expect(share(&d, &other));
    other.anchors.deadman_width_m = 0.9; /* the pit gets wider for them */
    cr_expect(!share(&d, &other));
    other = d;
    other.burial.cover_m += 0.1;
    cr_expect(!share(&d, &other));
    other = d;
    other.board.k_W_mK *= 1.1;
    cr_expect(!share(&d, &other));
    other = d;
    other.burial.fill_over_m = INFINITY;
    cr_expect(!share(&d, &other));
}

Test(bank, asked_twice_is_run_once)
{
    const struct uf_run_options options = uf_run_defaults();
    struct uf_bank bank = {.n = 0};
    struct uf_case d = runs_tank();
    size_t first = 9, again = 9, n = 0;
    cr_assert_eq(uf_bank_ask(&first, &bank, &d, NULL, &options, NULL), UF_OK);
    d.anchors.straps = 3;
    cr_assert_eq(uf_bank_ask(&again, &bank, &d, NULL, &options, NULL), UF_OK);
    cr_expect(first == 0 && again == 0 && bank.n == 1 && bank.asked == 2);
    (void)uf_bank_pending(&bank, &n);
    cr_expect_eq(n, 1u);
    for (int i = 0; i < 100; i++) { /* past the first room */
        d.burial.cover_m += 0.01;
        cr_assert_eq(uf_bank_ask(&again, &bank, &d, NULL, &options, NULL), UF_OK);
    }
    (void)uf_bank_pending(&bank, &n);
    cr_expect_eq(n, 100u);
    (void)uf_bank_pending(&bank, &n);
    cr_expect_eq(n, 0u);
    uf_bank_clear(&bank);
}

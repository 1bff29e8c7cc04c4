#ifndef UF_TEST_SAME_DESIGN_H
#define UF_TEST_SAME_DESIGN_H

#include "io/result/result.h"

#include <criterion/criterion.h>

/* Every member of two designs, NAN alike; never the bytes between members. */

#define SAME_BYTES(member) cr_expect_arr_eq(&a->member, &b->member, sizeof a->member, #member)
#define SAME_TEXT(member)  cr_expect_str_eq(a->member, b->member, #member)
#define SAME_COUNT(member) cr_assert_eq(a->member, b->member, #member)

static inline void same_risers(const struct uf_result_design *a, const struct uf_result_design *b)
{
    SAME_COUNT(n_risers);
    for (size_t i = 0; i < a->n_risers; i++) {
        SAME_BYTES(risers[i].diameter_m);
        SAME_BYTES(risers[i].height_m);
        SAME_BYTES(risers[i].lid_m2K_W);
        SAME_COUNT(risers[i].lid_at);
        SAME_BYTES(risers[i].shell.wall_m);
        SAME_BYTES(risers[i].shell.wall_W_mK);
        SAME_BYTES(risers[i].shell.sleeve_m);
        SAME_BYTES(risers[i].shell.sleeve_W_mK);
        SAME_BYTES(risers[i].shell.sleeve_length_m);
    }
}

static inline void same_pipes(const struct uf_result_design *a, const struct uf_result_design *b)
{
    SAME_COUNT(n_pipes);
    for (size_t i = 0; i < a->n_pipes; i++) {
        SAME_TEXT(pipes[i].name);
        SAME_BYTES(pipes[i].diameter_m);
        SAME_BYTES(pipes[i].depth_m);
        SAME_COUNT(pipes[i].under_board);
    }
}

static inline void same_rows(const struct uf_result_design *a, const struct uf_result_design *b)
{
    SAME_COUNT(n_anchors);
    for (size_t i = 0; i < a->n_anchors; i++) {
        SAME_TEXT(anchors[i].name);
        SAME_COUNT(anchors[i].under_bedding);
        SAME_BYTES(anchors[i].body);
    }
    SAME_COUNT(n_limits);
    for (size_t i = 0; i < a->n_limits; i++) {
        SAME_TEXT(limits[i].key);
        SAME_BYTES(limits[i].asked);
    }
}

static inline void same_design(const struct uf_result_design *a, const struct uf_result_design *b)
{
    SAME_TEXT(name);
    SAME_TEXT(board_name);
    SAME_TEXT(currency);
    SAME_COUNT(shape);
    SAME_BYTES(latitude_deg);
    SAME_BYTES(crown_m);
    SAME_BYTES(invert_m);
    SAME_BYTES(half_width_m);
    SAME_BYTES(length_m);
    SAME_BYTES(head_m);
    SAME_BYTES(wall_thickness_m);
    SAME_BYTES(level_m);
    SAME_BYTES(board_top_m);
    SAME_BYTES(board_bottom_m);
    SAME_BYTES(board_half_width_m);
    SAME_BYTES(skirt_m);
    SAME_BYTES(water_winter_m);
    SAME_BYTES(water_highest_m);
    SAME_BYTES(dig);
    same_risers(a, b);
    same_pipes(a, b);
    same_rows(a, b);
    SAME_COUNT(n_probes);
    for (size_t i = 0; i < a->n_probes; i++) {
        SAME_BYTES(probe_x_m[i]);
        SAME_BYTES(probe_depth_m[i]);
    }
}

#endif

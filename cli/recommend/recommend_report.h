#ifndef UF_RECOMMEND_REPORT_H
#define UF_RECOMMEND_REPORT_H

#include "cli/check/check.h"
#include "io/report/report.h"
#include "recommend.h"

/* The report's chapters: each writes its section from the numbers of the recommendation. */
struct uf_recommend_page {
    const struct uf_recommend *r;
    const struct uf_result *result;
    const struct uf_arguments *args; /* what was typed */
    enum uf_units units;
    struct uf_report *report;
    struct uf_check check;       /* of the option shown: the topics whose numbers are rows */
    bool found[UF_CHECK_TOPICS]; /* those that the site file gives data for */
    char lacks[400];             /* what a topic was asked for without all its data, "" */
};

/* Draws a picture of the result into the report; one that the result cannot fill is left out. */
void uf_recommend_report_picture(const struct uf_recommend_page *page, const char *name,
                                 const char *caption);

/* The same at half the width, beside the one before or after it. */
void uf_recommend_report_half_picture(const struct uf_recommend_page *page, const char *name,
                                      const char *caption);

/* recommend_report_title.c */
void uf_recommend_report_title(const struct uf_recommend_page *page);

/* recommend_report_matrix.c, _topics.c, _clauses.c */
void uf_recommend_report_matrix(const struct uf_recommend_page *page);
void uf_recommend_report_topics_find(struct uf_recommend_page *page);
void uf_recommend_report_topics(const struct uf_recommend_page *page);
void uf_recommend_report_clauses(const struct uf_recommend_page *page);

/* recommend_report_choices.c */
void uf_recommend_report_choices(const struct uf_recommend_page *page);
void uf_recommend_report_neighbours(const struct uf_recommend_page *page);
void uf_recommend_report_how_sure(const struct uf_recommend_page *page);

/* recommend_report_winter.c */
void uf_recommend_report_winter(const struct uf_recommend_page *page);
void uf_recommend_report_run(const struct uf_recommend_page *page);
/* The facts of that role as a table; b: the run without board, or NULL. */
void uf_recommend_report_facts(struct uf_report *report, const struct uf_fact *facts,
                               enum uf_fact_role role, const struct uf_summary *a,
                               const struct uf_summary *b, enum uf_units units);
void uf_recommend_report_weather(const struct uf_recommend_page *page);

/* recommend_report_ground.c */
void uf_recommend_report_soils(const struct uf_recommend_page *page);
void uf_recommend_report_numbers(const struct uf_recommend_page *page);

/* recommend_report_works.c */
void uf_recommend_report_uplift(const struct uf_recommend_page *page);
void uf_recommend_report_board(const struct uf_recommend_page *page);
void uf_recommend_report_pit(const struct uf_recommend_page *page);
/* A balance of forces as a table, part by part. */
void uf_recommend_report_parts(const struct uf_recommend_page *page,
                               const struct uf_holddown *balance, const char *caption);
/* With a digit more than elsewhere. */
const char *uf_recommend_report_unit_weight(char *text, size_t size, enum uf_units units,
                                            double N_m3);

/* recommend_report_worked.c: what the statics of the body are the sums of */
void uf_recommend_report_worked(const struct uf_recommend_page *page);

#endif

#ifndef UF_OUTCOME_H
#define UF_OUTCOME_H

#include "answer.h"
#include "cli/options.h"
#include "cli/site_run.h"
#include "io/result/result.h"
#include "solver/choice/limit.h"
#include "solver/run/facts.h"
#include "solver/run/pool.h"

/* What a run came to, as JSON, as text for people, and as a result to keep. */

/* The members of contract `simulate` into object; verbose: what differs from run to run too. */
void uf_outcome_answer(cJSON *object, const struct uf_case *design,
                       const struct uf_summary *summary, bool verbose);

/* An answer as the text that a result file keeps. Frees answer; the text is freed with cJSON_free. */
char *uf_outcome_text(cJSON *answer);

/* The same for a person. */
void uf_outcome_show(const struct uf_arguments *args, const struct uf_case *design,
                     const struct uf_summary *summary);

/* Part of it: what stands in the table of facts; verbose: what it rests on, and its time, too. */
void uf_outcome_show_facts(const struct uf_fact *facts, const struct uf_summary *summary,
                           enum uf_units units, bool verbose);

/* outcome_words.c: two or three sentences that can be read aloud: how deep frost goes,
   how cold the water gets, whether every limit is met. Cut where size is too small; 900
   holds all. */
void uf_outcome_words(char *text, size_t size, const struct uf_case *design,
                      const struct uf_summary *summary, const struct uf_verdict *verdict,
                      enum uf_units units);

/* One line a limit: margin and whether it is met. */
void uf_outcome_show_limits(const struct uf_arguments *args, const struct uf_verdict *verdict);
void uf_outcome_answer_limits(cJSON *object, const struct uf_verdict *verdict);

/* A result that borrows everything from the run: the weather, the statistics, the texts.
   The caller adds record, summary, choices and levels. */
struct uf_outcome_lists {
    struct uf_result_winter *winters;
    struct uf_result_return returns[8];
    struct uf_result_day *days;
    char *changes;
    char libraries[256], title[160], version[32], station[400], winter_text[400];
    char command_line[sizeof((struct uf_arguments *)NULL)->command_line];
};
void uf_outcome_result(struct uf_result *out, struct uf_outcome_lists *lists,
                       const struct uf_site_run *run, const struct uf_arguments *args);
/* Parts of it, for a result without a run: winters and return periods of a list; days of
   gap-free weather (snow_m NULL: none) with the mean year behind them (NULL: none). */
void uf_outcome_statistics(struct uf_result *out, struct uf_outcome_lists *lists,
                           const struct uf_winter_list *list);
void uf_outcome_days(struct uf_result *out, struct uf_outcome_lists *lists,
                     const struct uf_forcing_weather *weather,
                     const struct uf_winter_mean_year *mean);
void uf_outcome_lists_free(struct uf_outcome_lists *lists);

/* The result file of -o: what a job kept, and where there is one the same without board. bare, uplift:
   NULL where they are not there. Errors as uf_result_file_write. */
enum uf_status uf_outcome_keep(const struct uf_site_run *run, const struct uf_job *job,
                               const struct uf_job *bare, const struct uf_uplift *uplift,
                               const struct uf_arguments *args, struct uf_error *err);

/* How the water is taken to mix, one word; why, as sentences. */
const char *uf_outcome_water(const struct uf_case *design);
const char *uf_outcome_water_why(const struct uf_case *design);

/* ISO date, or NULL for UF_NO_DAY; text of at least 16 bytes. */
const char *uf_outcome_date(long day, char *text);

/* Cautions that go with every answer about a buried tank, one paragraph a line. */
extern const char uf_outcome_cautions[];

#endif

#include "cli/tell/today.h"
#include "io/result/result_file.h"
#include "io/weather/climate.h"
#include "recommend_report.h"
#include "solver/base/calendar.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* The title block: whose calculation of what, by which program, from which files. */

#define MOST_ENTRIES 14

static void format_sum(char *text, size_t size, bool known, uint32_t sum)
{
    (void)snprintf(text, size, known ? "%08" PRIx32 : "-", sum);
}

/* Sum of the weather file, found as the reader found it. */
static void sum_weather(char *text, size_t size, const struct uf_site *site)
{
    char folder[UF_CLIMATE_PATH_SIZE], path[UF_CLIMATE_PATH_SIZE];
    uint32_t sum = 0;
    const char *name = site->climate_file[0] != '\0' ? site->climate_file : site->measured_file;
    uf_site_weather_folder(folder, sizeof folder, site);
    const bool known = name[0] != '\0' &&
                       uf_climate_find(path, sizeof path, name, folder, NULL) == UF_OK &&
                       uf_result_file_sum(&sum, path);
    format_sum(text, size, known, sum);
}

void uf_recommend_report_title(const struct uf_recommend_page *page)
{
    const struct uf_site *site = page->r->run.site;
    const struct uf_site_project *p = &site->project;
    char date[16] = "", run[24], site_sum[16], weather_sum[16], weather[3 * UF_TEXT_SIZE],
         running[320];
    if (p->date != UF_NO_DAY) {
        (void)uf_calendar_text(p->date, date, sizeof date);
    }
    format_sum(site_sum, sizeof site_sum, true, uf_result_file_sum_text(site->text));
    sum_weather(weather_sum, sizeof weather_sum, site);
    (void)snprintf(weather, sizeof weather, "%s%s%s",
                   site->climate_file[0] != '\0'    ? site->climate_file
                   : site->measured_file[0] != '\0' ? site->measured_file
                                                    : "yearly cycle of the site file",
                   site->climate_column[0] != '\0' ? ", " : "", site->climate_column);
    const char *slash = strrchr(site->path, '/');
    const struct uf_report_entry entries[MOST_ENTRIES] = {
        {"project", p->title[0] != '\0' ? p->title : site->design.name},
        {"project number", p->number},
        {"client", p->client},
        {"revision", p->revision},
        {"prepared by", p->prepared_by},
        {"checked by", p->checked_by},
        {"date of this revision", date},
        {"computed", uf_today(run, sizeof run)},
        {"program", "underfrost " UF_VERSION},
        {"site file", slash != NULL ? slash + 1 : site->path},
        {"its checksum (CRC-32)", site_sum},
        {"weather file", weather},
        {"its checksum (CRC-32)", weather_sum},
        {"changed on the command line",
         page->args->n_sets > 0 ? "yes, see the last appendix" : "no"},
    };
    (void)snprintf(running, sizeof running, "%s%s%s%s%s", p->number,
                   p->number[0] != '\0' ? "  \xc2\xb7  " : "", entries[0].value,
                   p->revision[0] != '\0' ? "  \xc2\xb7  revision " : "", p->revision);
    const struct uf_report_title title = {.entries = entries,
                                          .n = MOST_ENTRIES,
                                          .revision = p->revision,
                                          .date = date,
                                          .prepared_by = p->prepared_by,
                                          .checked_by = p->checked_by,
                                          .running = running,
                                          .letter = page->units == UF_UNITS_US};
    uf_report_title_block(page->report, &title);
}

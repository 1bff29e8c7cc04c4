#include "check_rows.h"

#include "io/text/quantity.h"
#include "io/text/show.h"

#include <math.h>
#include <string.h>

enum { MOST_COLUMNS = 12, WORKED = 600 };

bool uf_check_rows_in_full(const struct uf_check *check)
{
    return !check->brief;
}

static bool ends(const struct uf_check_row *row)
{
    return row->key == NULL && row->label == NULL;
}

static size_t count_of(const struct uf_check_row *row, const struct uf_check *check)
{
    if (row->applies != NULL && !row->applies(check)) {
        return 0;
    }
    return row->list != NULL ? row->list->count(check) : 1;
}

static const void *member_of(const struct uf_check_row *row, const struct uf_check *check, size_t i)
{
    return (const char *)check + row->offset + i * row->step;
}

static double number_of(const struct uf_check_row *row, const struct uf_check *check, size_t i)
{
    return row->number != NULL ? row->number(check, i) : *(const double *)member_of(row, check, i);
}

static bool is_yes(const struct uf_check_row *row, const struct uf_check *check, size_t i)
{
    return row->yes != NULL ? row->yes(check) : *(const bool *)member_of(row, check, i);
}

static void answer_row(cJSON *object, const char *key, const struct uf_check_row *row,
                       const struct uf_check *check, size_t i)
{
    switch (row->type) {
    case UF_CHECK_TEXT:
        uf_answer_text(object, key, row->text(check, i));
        break;
    case UF_CHECK_YES:
        uf_answer_bool(object, key, is_yes(row, check, i));
        break;
    default:
        uf_answer_number(object, key,
                         (row->scale > 0.0 ? row->scale : 1.0) * number_of(row, check, i));
    }
}

void uf_check_rows_answer(cJSON *object, const struct uf_check_row *rows,
                          const struct uf_check *check)
{
    char name[64];
    for (const struct uf_check_row *row = rows; !ends(row); row++) {
        if (row->key != NULL && row->list != NULL) {
            uf_answer_list(object, row->key);
        }
        for (size_t i = 0; row->key != NULL && i < count_of(row, check); i++) {
            answer_row(uf_answer_walk(object, row->key, i, true, name), name, row, check, i);
        }
    }
}

/* The value for a person; bare: its unit stands elsewhere. */
static const char *value_of(char text[80], const struct uf_check_row *row,
                            const struct uf_check *check, size_t i, bool bare)
{
    if (row->type == UF_CHECK_TEXT) {
        const char *found = row->text(check, i);
        return found != NULL ? found : "-";
    }
    if (row->type == UF_CHECK_YES) {
        return is_yes(row, check, i) ? "yes" : "NO";
    }
    const double number = number_of(row, check, i);
    return bare ? uf_quantity_number(text, 80, row->quantity, check->units, number)
                : uf_quantity_text(text, 80, row->quantity, check->units, number);
}

static const char *worked_of(char text[WORKED], const struct uf_check_row *row,
                             const struct uf_check *check, size_t i)
{
    (void)snprintf(text, WORKED, "%s", row->note != NULL ? row->note : "");
    if (row->worked != NULL) {
        row->worked(text, WORKED, check, i);
    }
    return text;
}

void uf_check_rows_clauses(const struct uf_check_row *rows, const struct uf_check *check,
                           void (*tell)(const void *to, const struct uf_check_claim *claim),
                           const void *to)
{
    char text[WORKED];
    for (const struct uf_check_row *row = rows; !ends(row); row++) {
        const bool asks = row->clause != NULL && (row->told == NULL || row->told(check));
        for (size_t i = 0; asks && i < count_of(row, check); i++) {
            struct uf_check_claim claim = {*row->clause, row->quantity,
                                           row->clause->required(check, i),
                                           number_of(row, check, i)};
            if (claim.clause.item != NULL) {
                claim.clause.item(&claim.clause, text, sizeof text, check, i);
            }
            claim.clause.what = claim.clause.what != NULL ? claim.clause.what : row->label;
            tell(to, &claim);
        }
    }
}

static bool is_told(const struct uf_check_row *row, const struct uf_check *check)
{
    return row->label != NULL && (row->told == NULL || row->told(check)) &&
           count_of(row, check) > 0;
}

/* The columns of a table: its rows that are told, their headings with the unit after between. */
struct columns {
    const struct uf_check_row *rows[MOST_COLUMNS];
    char headings[MOST_COLUMNS][64];
    struct uf_show_column heads[MOST_COLUMNS];
    size_t n;
};

/* *row: the first of the table's; then past its last. */
static void find_columns(struct columns *out, const struct uf_check_row **row,
                         const struct uf_check *check, const char *between)
{
    const struct uf_check_list *list = (*row)->list;
    for (out->n = 0; !ends(*row) && (*row)->list == list; (*row)++) {
        if (is_told(*row, check) && out->n < MOST_COLUMNS) {
            const char *unit = (*row)->type == UF_CHECK_NUMBER
                                   ? uf_quantity_unit((*row)->quantity, check->units)
                                   : "";
            (void)snprintf(out->headings[out->n], sizeof out->headings[0], "%s%s%s", (*row)->label,
                           unit[0] != '\0' ? between : "", unit);
            out->heads[out->n] = (struct uf_show_column){out->headings[out->n],
                                                         (*row)->type == UF_CHECK_TEXT ? 'l' : 'r'};
            out->rows[out->n++] = *row;
        }
    }
}

/* Where rows are told: a report or, NULL, the terminal. */
struct page {
    struct uf_report *report;
    char caption[400]; /* stands once, over the report's first table */
    bool in_lines;     /* lines that follow each other are rows of one table there */
};

static void begin_table(struct page *page, const struct uf_show_column *columns, size_t n)
{
    uf_report_table(page->report, page->caption, columns, n);
    page->caption[0] = '\0';
}

/* *row: the first of the table's; then past its last. */
static void put_table(struct page *page, const struct uf_check_row **row,
                      const struct uf_check *check)
{
    char value[80];
    struct columns columns;
    struct uf_show_table *table = NULL;
    find_columns(&columns, row, check, page->report != NULL ? ", " : "\n");
    page->in_lines = false;
    if (columns.n == 0) {
        return;
    }
    if (page->report != NULL) {
        begin_table(page, columns.heads, columns.n);
    } else {
        (void)putchar('\n');
        table = uf_show_table_create(columns.heads, columns.n);
    }
    for (size_t at = 0; at < count_of(columns.rows[0], check) * columns.n; at++) {
        const char *text =
            value_of(value, columns.rows[at % columns.n], check, at / columns.n, true);
        if (page->report != NULL) {
            uf_report_cell(page->report, "%s", text);
        } else {
            uf_show_table_cell(table, "%s", text);
        }
    }
    if (page->report == NULL) {
        uf_show_table_end(stdout, table);
        (void)putchar('\n');
    }
}

static void put_line(struct page *page, const struct uf_check_row *row,
                     const struct uf_check *check, size_t i)
{
    static const struct uf_show_column columns[] = {{"", 'l'}, {"value", 'r'}, {"worked", 'w'}};
    char value[80], worked[WORKED];
    const char *text = value_of(value, row, check, i, false);
    (void)worked_of(worked, row, check, i);
    if (page->report == NULL) {
        uf_show_line(stdout, row->label, "%s%s%s", text, worked[0] != '\0' ? ", " : "", worked);
        return;
    }
    if (!page->in_lines) {
        begin_table(page, columns, 3);
        page->in_lines = true;
    }
    uf_report_cell(page->report, "%s", row->label);
    uf_report_cell(page->report, "%s", text);
    uf_report_cell(page->report, "%s", worked);
}

void uf_check_rows_tell(struct uf_report *report, const struct uf_check_topic *topic,
                        const struct uf_check *check)
{
    struct page page = {.report = report};
    (void)snprintf(page.caption, sizeof page.caption, "%s. %s", topic->doc, topic->cautions[0]);
    for (const struct uf_check_row *row = topic->rows; !ends(row);) {
        if (row->list != NULL && row->list->table) {
            put_table(&page, &row, check);
            continue;
        }
        for (size_t i = 0; is_told(row, check) && i < count_of(row, check); i++) {
            put_line(&page, row, check, i);
        }
        row++;
    }
    if (report == NULL) {
        uf_show_heading(stdout, "Sources and cautions");
        for (const char *const *caution = topic->cautions; *caution != NULL; caution++) {
            uf_show_text(stdout, 0, *caution);
        }
    }
}

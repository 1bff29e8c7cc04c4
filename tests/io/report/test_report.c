#include "io/picture/plot.h"
#include "io/report/report.h"
#include "io/result/part_file.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

static char folder[1000], path[1100];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(path, sizeof path, "%s/report.html", folder);
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(report, .init = open_folder, .fini = close_folder);

static const char *const hostile =
    "<script>alert('x')</script> & \"Larch\" <img src=x onerror=1> \x01\xff \xc3\xa9";

static struct uf_report *start(const char *title)
{
    struct uf_report *r = NULL;
    cr_assert_eq(uf_report_create(&r, title, title, NULL), UF_OK);
    return r;
}

/* Writes, frees and reads the report; the text is the caller's. */
static char *finish(struct uf_report *r)
{
    struct uf_error err = {0};
    char *text = NULL;
    cr_assert_eq(uf_report_write(path, r, &err), UF_OK, "%s", err.text);
    uf_report_free(r);
    FILE *file = fopen(path, "rb");
    cr_assert_not_null(file);
    cr_assert_eq(uf_part_file_rest(&text, file, path, NULL), UF_OK);
    (void)fclose(file);
    return text;
}

/* Is every element that opens closed in its turn? Only elements without content stay open. */
static void expect_balanced(const char *text)
{
    char stack[100][20];
    size_t depth = 0;
    for (const char *at = strchr(text, '<'); at != NULL; at = strchr(at + 1, '<')) {
        const char *end = strchr(at, '>');
        const bool closes = at[1] == '/';
        char name[20] = "";
        cr_assert_not_null(end);
        (void)sscanf(at + (closes ? 2 : 1), "%19[a-zA-Z0-9!]", name);
        if (closes) {
            cr_assert_gt(depth, 0);
            depth--;
            cr_assert_str_eq(stack[depth], name);
        } else if (end[-1] != '/' && name[0] != '!' && strcmp(name, "meta") != 0) {
            cr_assert_lt(depth, 100);
            (void)strcpy(stack[depth++], name);
        }
    }
    cr_expect_eq(depth, 0);
}

/* A value that stands in text in quotes after mark; counts how often each occurs. */
static void expect_no_name_twice(const char *text)
{
    char needle[100];
    for (const char *at = strstr(text, " id="); at != NULL; at = strstr(at + 4, " id=")) {
        const char quote = at[4];
        (void)snprintf(needle, sizeof needle, "%.*s", (int)(strchr(at + 5, quote) - at + 1), at);
        cr_expect_null(strstr(at + 4, needle), "twice:%s", needle);
    }
}

static void expect_alone(const char *text)
{
    static const char *const never[] = {"<script",     "<link",   "<img",     "<iframe",
                                        "@import",     " src=\"", "url(http", "href=\"http",
                                        "javascript:", "<?xml"};
    for (size_t i = 0; i < sizeof never / sizeof never[0]; i++) {
        cr_expect_null(strstr(text, never[i]), "there is %s", never[i]);
    }
}

Test(report, every_text_of_a_user_is_escaped)
{
    const struct uf_show_column columns[] = {{hostile, 'l'}, {"n", 'r'}};
    struct uf_report *r = start(hostile);
    uf_report_section(r, hostile);
    uf_report_subheading(r, hostile);
    uf_report_paragraph(r, "%s", hostile);
    uf_report_frame(r, "%s", hostile);
    uf_report_point(r, "%s", hostile);
    uf_report_table(r, hostile, columns, 2);
    uf_report_cell(r, "%s", hostile);
    uf_report_verbatim(r, hostile);
    uf_report_picture(r, "<?xml version='1.0'?><svg id='a'><title>t</title><rect/></svg>", hostile);
    char *text = finish(r);
    expect_balanced(text);
    expect_alone(text);
    cr_expect_not_null(strstr(text, "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; "
                                    "&quot;Larch&quot;"));
    cr_expect_not_null(strstr(text, "\xc3\xa9"));
    cr_expect_null(strchr(text, '\x01'));
    cr_expect_null(strchr(text, '\xff'));
    free(text);
}

Test(report, pieces_stand_in_order_and_tables_are_whole)
{
    const struct uf_show_column columns[] = {{"cover", 'r'}, {"why", 'l'}, {"ok", 'l'}};
    struct uf_report *r = start("Alder Flat");
    uf_report_section(r, "First");
    uf_report_point(r, "one");
    uf_report_point(r, "two");
    uf_report_section(r, "Second");
    uf_report_table(r, "Some", columns, 3);
    for (int i = 0; i < 7; i++) {
        if (i == 3) {
            uf_report_strong_row(r);
        }
        uf_report_cell(r, "cell %d", i);
    }
    uf_report_paragraph(r, "%d per cent", 25);
    char *text = finish(r);
    expect_balanced(text);
    cr_expect_not_null(strstr(text, "<ul>\n<li>one</li>\n<li>two</li>\n</ul>"));
    cr_expect_not_null(strstr(text, "<a href=\"#s2\">2. Second</a>"));
    cr_expect_not_null(strstr(text, "<section id=\"s2\">\n<h2>2. Second</h2>"));
    cr_expect_not_null(strstr(text, "<tr class=\"strong\"><td class=\"r\">cell 3</td><td>cell 4"));
    cr_expect_not_null(strstr(text, "cell 6</td><td></td><td></td></tr>\n</tbody>"));
    cr_expect_not_null(strstr(text, "<p>25 per cent</p>"));
    free(text);
}

Test(report, pictures_of_gnuplot_stand_inside_with_names_of_their_own)
{
    struct uf_result *result = synthetic_result();
    struct uf_report *r = start("Alder Flat cistern");
    const struct uf_plot_look look = {.format = "svg"};
    int n = 1;
    char last[60];
    uf_report_section(r, "Pictures");
    for (const struct uf_plot *p = uf_plot_table; p->name != NULL; p++) {
        char *svg = NULL;
        if (!uf_plot_takes(p, "svg")) {
            continue;
        }
        cr_assert_eq(uf_plot_text(&svg, p, result, &look, NULL), UF_OK);
        uf_report_picture(r, svg, p->doc);
        n++;
        free(svg);
    }
    uf_report_picture(r, NULL, "the one that could not be drawn");
    char *text = finish(r);
    expect_balanced(text);
    expect_alone(text);
    expect_no_name_twice(text);
    cr_expect_not_null(strstr(text, "xlink:href='#f2-gpPt5'"));
    cr_expect_not_null(strstr(text, "water table 2.60 m"));
    cr_expect_not_null(strstr(text, "This picture is missing"));
    (void)snprintf(last, sizeof last, "Figure %d. the one that", n);
    cr_expect_not_null(strstr(text, last));
    free(text);
    uf_result_free(result);
}

/* Whatever a project is called: nothing of it ends the style sheet or a tag. */
Test(report, the_title_block_holds_any_text)
{
    static const char wild[] = "</style>\"; } \\ <b>&'\n\xc3\xa9";
    const struct uf_report_entry entries[] = {{"project", wild}, {"client", ""}};
    const struct uf_report_title title = {entries, 2, "B", "2026-05-04", "A", wild, wild, true};
    struct uf_report *r = start("Alder Flat");
    uf_report_title_block(r, &title);
    uf_report_section(r, "First");
    uf_report_appendices(r);
    uf_report_section(r, "All");
    uf_report_section(r, "More");
    char *text = finish(r);
    const char *style = strstr(text, "<style>"), *end = strstr(text, "</style>");
    expect_balanced(text);
    cr_expect_not_null(strstr(text, "size:letter"));
    cr_expect(style != NULL && end > style);
    cr_expect_null(strstr(end + 1, "</style>"), "one style sheet, ended once");
    cr_expect_not_null(
        strstr(style, "\\3c /style\\3e \\22 ; } \\5c  \\3c b\\3e \\26 \\27 \\20 \xc3\xa9"), "%s",
        style);
    cr_expect_not_null(strstr(text, "not given"), "an empty entry says so");
    cr_expect_not_null(strstr(text, "<h2>1. First</h2>"));
    cr_expect_not_null(strstr(text, "<h2>Appendix A. All</h2>"));
    cr_expect_not_null(strstr(text, "<h2>Appendix B. More</h2>"));
    free(text);
}

Test(report, what_every_report_says_is_there)
{
    static const char *const words[] = {"licensed practitioner",
                                        "buried services",
                                        "rated gear",
                                        "Confined space",
                                        "a tank floats",
                                        "frozen suction pipe",
                                        "frost heaves",
                                        "stays frozen the year round",
                                        "moving groundwater",
                                        "a slope",
                                        "Joints between boards",
                                        "buckling",
                                        "earthquake",
                                        "salt",
                                        "FEMA P-259",
                                        "EN 1997-1",
                                        "Sturm",
                                        "common practice, no source"};
    struct uf_report *r = start("Alder Flat");
    uf_report_cautions(r);
    uf_report_not_computed(r);
    uf_report_sources(r);
    char *text = finish(r);
    expect_balanced(text);
    expect_alone(text);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        cr_expect_not_null(strstr(text, words[i]), "nothing says: %s", words[i]);
    }
    free(text);
}

Test(report, a_report_that_cannot_be_written_says_why)
{
    struct uf_error err = {0};
    struct uf_report *r = start("Alder Flat");
    (void)snprintf(path, sizeof path, "%s/none/report.html", folder);
    cr_expect_eq(uf_report_write(path, r, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "folder"), "%s", err.text);
    uf_report_free(r);
}

#include "io/picture/plot.h"
#include "io/result/result_file.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

#include <sys/stat.h>

static char folder[1000];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(plot, .init = open_folder, .fini = close_folder);

/* The picture as text, or NULL with what went wrong printed. */
static char *drawn(const char *name, const struct uf_result *result, const char *format, bool us)
{
    const struct uf_plot_look look = {.us = us, .format = format};
    struct uf_error err = {0};
    char *text = NULL;
    if (uf_plot_text(&text, uf_plot_find(name), result, &look, &err) != UF_OK) {
        cr_log_error("%s: %s", name, err.text);
    }
    return text;
}

static void expect_in(const char *text, const char *part)
{
    cr_assert_not_null(text);
    cr_expect_not_null(strstr(text, part), "no \"%s\"", part);
}

static void expect_not_in(const char *text, const char *part)
{
    cr_assert_not_null(text);
    cr_expect_null(strstr(text, part), "there is \"%s\"", part);
}

/* A gnuplot of these lines, first in PATH. */
static void stand_in(const char *lines)
{
    char path[1100];
    (void)snprintf(path, sizeof path, "%s/gnuplot", folder);
    FILE *file = fopen(path, "w");
    cr_assert(file != NULL && fprintf(file, "#!/bin/sh\n%s\n", lines) > 0);
    cr_assert(fclose(file) == 0 && chmod(path, 0755) == 0);
    (void)snprintf(path, sizeof path, "%s:/usr/bin:/bin", folder);
    cr_assert_eq(setenv("PATH", path, 1), 0);
}

/* Draws it as SVG and expects these words in it, the last NULL. */
static void expect_drawn(const char *name, const struct uf_result *result, bool us,
                         const char *const *words)
{
    char *text = drawn(name, result, "svg", us);
    for (; *words != NULL; words++) {
        expect_in(text, *words);
    }
    free(text);
}
#define WORDS(...) ((const char *const[]){__VA_ARGS__, NULL})

/* First bytes of a file of that kind. */
static const char *const marks[][2] = {
    {"png", "\x89PNG"}, {"svg", "<?xml"}, {"pdf", "%PDF"}, {"text", "\f"}, {"gif", "GIF89"}};

/* Two formats each, in turn, so that each format draws several pictures. */
Test(plot, every_picture_is_drawn_in_its_formats)
{
    struct uf_result *r = synthetic_result();
    size_t drawn_in[sizeof marks / sizeof marks[0]] = {0}, turn = 0;
    for (const struct uf_plot *p = uf_plot_table; p->name != NULL; p++, turn++) {
        cr_expect(p->has(r), "%s", p->name);
        for (size_t f = 0; f < sizeof marks / sizeof marks[0]; f++) {
            if (!uf_plot_takes(p, marks[f][0]) || (p->format == NULL && (f + turn) % 4 > 1)) {
                continue;
            }
            drawn_in[f]++;
            const struct uf_plot_look look = {.us = (f + turn) % 4 == 1, .format = marks[f][0]};
            struct uf_error err = {0};
            char path[1100], start[8] = "";
            (void)snprintf(path, sizeof path, "%s/%s.%s", folder, p->name,
                           uf_plot_format_find(marks[f][0])->ending);
            cr_assert_eq(uf_plot_draw(path, p, r, &look, &err), UF_OK, "%s: %s", path, err.text);
            FILE *file = fopen(path, "rb");
            cr_assert_not_null(file);
            cr_expect_eq(fread(start, 1, 5, file), 5);
            cr_expect_eq(strncmp(start, marks[f][1], strlen(marks[f][1])), 0, "%s", path);
            (void)fseek(file, 0, SEEK_END);
            cr_expect_gt(ftell(file), 1000);
            (void)fclose(file);
        }
    }
    for (size_t f = 0; f < sizeof marks / sizeof marks[0]; f++) {
        cr_expect(drawn_in[f] >= (f == 4 ? 1 : 5), "%s: %zu", marks[f][0], drawn_in[f]);
    }
    uf_result_free(r);
}

Test(plot, section_says_what_it_shows)
{
    struct uf_result *r = synthetic_result();
    expect_drawn("section", r, false,
                 WORDS("Section on 2015-01-29, when most ground is frozen; frost to 1.60 m",
                       "cover 1.20 m", "board 100 mm", "water table 2.60 m", "Alder Flat cistern",
                       "1  outlet"));
    r->design.risers[0].shell = (struct uf_shell){.sleeve_m = 0.1016, .sleeve_length_m = 1.2};
    expect_drawn("section", r, true, /* nominal, 25 mm to the inch */
                 WORDS("frost to 5.2 ft", "board 4.0 in", "32 °F line", "sleeve 4.0 in"));
    uf_result_free(r);
}

Test(plot, the_long_section_says_what_it_shows)
{
    struct uf_result *r = synthetic_result();
    char *text = drawn("long", r, "svg", false);
    expect_in(text, "Long section on 2015-01-29, when most ground is frozen");
    expect_in(text, "distance from mid-tank, m");
    expect_in(text, "drawn evenly apart"); /* risers */
    expect_in(text, "1  outlet");
    expect_not_in(text, "versoir"); /* a probe beside the axis */
    expect_in(text, "suction");
    free(text);
    r->design.risers[0].station_m = 2.5;
    text = drawn("long", r, "svg", false);
    expect_not_in(text, "drawn evenly apart");
    free(text);
    text = drawn("section", r, "svg", false);
    expect_not_in(text, "suction"); /* it leaves through an end */
    expect_in(text, "silt");
    expect_not_in(text, "-1.5"); /* no distance is negative */
    free(text);
    r->record->ny = 0; /* a plane section has no long one */
    cr_expect(!uf_plot_find("long")->has(r) && uf_plot_find("section")->has(r));
    expect_drawn("section", r, false, WORDS("suction"));
    r->record->ny = 14;
    uf_result_free(r);
}

Test(plot, without_board_lines_come_only_with_such_a_run)
{
    struct uf_result *r = synthetic_result();
    expect_drawn("frost", r, false, WORDS("over the tank, without board"));
    uf_record_free(r->without_board);
    r->without_board = NULL;
    char *text = drawn("frost", r, "svg", false);
    expect_not_in(text, "without board");
    free(text);
    text = drawn("water", r, "svg", false);
    expect_not_in(text, "without board");
    expect_not_in(text, "ice, % of the water"); /* no ice, no panel for it */
    expect_in(text, "limit 1.0");
    free(text);
    uf_result_free(r);
}

Test(plot, costs_have_a_line_for_each_thickness)
{
    struct uf_result *r = synthetic_result();
    expect_drawn("costs", r, false, WORDS("no board", "150 mm", "cost, CAD", "recommended"));
    for (size_t i = 0; i < r->n_choices; i++) {
        r->choices[i].cost = NAN;
    }
    cr_expect_not(uf_plot_find("costs")->has(r), "no prices, no picture");
    uf_result_free(r);
}

Test(plot, sensitivity_tells_margins_and_what_fails)
{
    struct uf_result *r = synthetic_result();
    char *text = drawn("sensitivity", r, "svg", false);
    expect_in(text, "design case 0.6 K");
    expect_in(text, "margin: coldest water or wetted wall, K");
    expect_in(text, "-0.4 K; fails");
    expect_in(text, "0.2 K; fails: flotation");
    const char *worst = strstr(text, "drier soil"), *best = strstr(text, "wetter soil");
    cr_expect(worst != NULL && best != NULL && worst < best, "the worst case is drawn first");
    free(text);
    expect_drawn("sensitivity", r, true, WORDS("design case 1.1 °F"));
    r->n_cases = 1;
    cr_expect_not(uf_plot_find("sensitivity")->has(r), "a design without cases has none");
    r->n_cases = 4;
    uf_result_free(r);
}

Test(plot, an_old_file_gives_the_same_picture)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    char path[1100];
    (void)snprintf(path, sizeof path, "%s/old.h5", folder);
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    cr_assert_eq(uf_result_file_read(&read, path, NULL), UF_OK);
    for (const struct uf_plot *p = uf_plot_table; p->name != NULL; p++) {
        if (!uf_plot_takes(p, "svg")) {
            continue;
        }
        char *first = drawn(p->name, made, "svg", false),
             *again = drawn(p->name, read, "svg", false);
        cr_assert(first != NULL && again != NULL && strlen(first) > 1000);
        cr_expect_str_eq(first, again, "%s", p->name);
        free(first);
        free(again);
    }
    uf_result_free(made);
    uf_result_free(read);
}

Test(plot, names_of_users_are_drawn_and_never_run)
{
    struct uf_result *r = synthetic_result();
    const char *const hostile = "'; system('touch pwned') <script> `touch pwned` \"$(touch pwned)";
    cr_assert_eq(chdir(folder), 0);
    (void)snprintf(r->design.name, sizeof r->design.name, "%s", hostile);
    (void)snprintf(r->record->probe_names[0], UF_NAME_SIZE, "%s", hostile);
    (void)snprintf(r->choices[0].governs, UF_NAME_SIZE, "%s", hostile);
    free(r->station);
    r->station = synthetic_text(hostile);
    for (const struct uf_plot *p = uf_plot_table; p->name != NULL; p++) {
        if (!uf_plot_takes(p, "svg")) {
            free(drawn(p->name, r, NULL, false));
            continue;
        }
        char *text = drawn(p->name, r, "svg", false);
        expect_in(text, "`touch pwned`");
        expect_not_in(text, "<script>");
        free(text);
    }
    cr_expect_neq(access("pwned", F_OK), 0);
    uf_result_free(r);
}

/* Bare ground: one column, no tank, no board, no water table, no probes. */
Test(plot, bare_ground_has_a_section_and_a_frost_depth)
{
    struct uf_result r;
    uf_result_init(&r);
    cr_assert_eq(
        uf_record_create(&r.record, &(struct uf_record_size){20, 12, 1, 0, 0}, UF_KEEP_USUAL, NULL),
        UF_OK);
    r.record->x_edge_m[0] = 0.0;
    r.record->x_edge_m[1] = 1.0;
    r.record->x_m[0] = 0.5;
    synthetic_axis(r.record->z_edge_m, r.record->z_m, 12, 0.2);
    for (size_t t = 0; t < 20; t++) {
        r.record->time_day[t] = 18000.0 + (double)t;
        r.record->frost_depth_m[t] = 0.04 * (double)t;
        for (size_t j = 0; j < 12; j++) {
            r.record->temperature_degC[t * 12 + j] =
                (float)(r.record->z_m[j] - r.record->frost_depth_m[t]);
        }
    }
    cr_expect(!uf_plot_find("water")->has(&r));
    cr_expect(!uf_plot_find("choices")->has(&r));
    cr_expect(!uf_plot_find("uplift")->has(&r));
    cr_expect(!uf_plot_find("winters")->has(&r));
    char *text = drawn("section", &r, "svg", false);
    expect_in(text, "frost to 0.76 m");
    expect_not_in(text, "cover");
    free(text);
    text = drawn("frost", &r, "svg", false);
    expect_in(text, ">frost<");
    expect_not_in(text, "tank");
    expect_not_in(text, "crown of the tank");
    free(text);
    uf_record_free(r.record);
}

Test(plot, what_cannot_be_drawn_is_told_and_leaves_no_file)
{
    struct uf_result *r = synthetic_result();
    struct uf_error err = {0};
    char path[1100];
    const struct uf_plot_look strange = {.format = "bmp"}, png = {0};
    (void)snprintf(path, sizeof path, "%s/a.png", folder);
    cr_expect_eq(uf_plot_draw(path, uf_plot_find("frost"), r, &strange, &err), UF_E_INPUT);
    cr_expect_not_null(strstr(err.text, "bmp"), "%s", err.text);
    const struct uf_plot_look svg = {.format = "svg"}, gif = {.format = "gif"};
    cr_expect_eq(uf_plot_draw(path, uf_plot_find("animation"), r, &svg, &err), UF_E_INPUT);
    cr_expect_not_null(strstr(err.text, "always a gif"), "%s", err.text);
    cr_expect_eq(uf_plot_draw(path, uf_plot_find("frost"), r, &gif, &err), UF_E_INPUT);
    cr_expect_not_null(strstr(err.text, "stands still"), "%s", err.text);
    free(r->record->temperature_degC);
    r->record->temperature_degC = NULL;
    cr_expect_eq(uf_plot_draw(path, uf_plot_find("section"), r, &png, &err), UF_E_INPUT);
    cr_expect_neq(access(path, F_OK), 0);
    (void)snprintf(path, sizeof path, "%s/none/a.png", folder);
    cr_expect_eq(uf_plot_draw(path, uf_plot_find("frost"), r, &png, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "folder"), "%s", err.text);
    cr_expect_null(uf_plot_find("no such picture"));
    uf_result_free(r);
}

/* A gnuplot that ends well and leaves nothing, or half a picture as on a full disk. */
Test(plot, a_picture_that_was_cut_is_told_and_takes_no_name)
{
    static const char *const left[] = {"cat > /dev/null",
                                       "cat > /dev/null; printf '\\211PNG\\r\\n\\032\\nIHDR half'"};
    struct uf_result *r = synthetic_result();
    const struct uf_plot_look png = {.format = "png"};
    char path[1100];
    for (size_t i = 0; i < sizeof left / sizeof left[0]; i++) {
        struct uf_error err = {0};
        stand_in(left[i]);
        (void)snprintf(path, sizeof path, "%s/cut.png", folder);
        cr_expect_eq(uf_plot_draw(path, uf_plot_find("frost"), r, &png, &err), UF_E_FILE);
        cr_expect_not_null(strstr(err.text, "full"), "%s", err.text);
        cr_expect_neq(access(path, F_OK), 0);
    }
    uf_result_free(r);
}

/* In letters nothing hides behind a grid, and the axis names its unit. */
Test(plot, letters_name_the_upright_axis)
{
    static const char *const rows[][2] = {{"section", "depth below grade, ft"},
                                          {"frost", "depth below grade, ft"},
                                          {"uplift", "depth of the water table, ft"},
                                          {"index", "deepest frost, ft"},
                                          {"choices", "cover over the tank, ft"}};
    struct uf_result *r = synthetic_result();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *text = drawn(rows[i][0], r, "text", true);
        expect_in(text, rows[i][1]);
        if (strcmp(rows[i][0], "uplift") == 0) {
            expect_not_in(text, "|******************************"); /* a grid */
        }
        free(text);
    }
    uf_result_free(r);
}

/* Every row of the table has its script and words. */
Test(plot, the_table_is_whole)
{
    for (const struct uf_plot *p = uf_plot_table; p->name != NULL; p++) {
        char path[1100];
        (void)snprintf(path, sizeof path, "%s/plots/%s.gp", UF_SOURCE_DIR, p->name);
        cr_expect_eq(access(path, R_OK), 0, "%s", path);
        cr_expect_gt(strlen(p->doc), 20);
        cr_expect_eq(uf_plot_find(p->name), p);
    }
}

/* Two stations in one picture are told apart and named. */
Test(plot, index_tells_stations_apart)
{
    struct uf_result *r = synthetic_result();
    char *text = drawn("index", r, "svg", false);
    expect_in(text, "Frost depth against freezing index");
    expect_in(text, "Chisholm");
    expect_not_in(text, "Second");
    free(text);
    for (size_t i = r->n_winters / 2; i < r->n_winters; i++) {
        r->winters[i].station = 1;
    }
    static const char *const names[] = {"First; and foremost", "Second"};
    r->stations = names;
    expect_drawn("index", r, true, WORDS(">First; and foremost<", ">Second<", "ft"));
    for (size_t i = 0; i < r->n_winters; i++) {
        r->winters[i].frost_m = NAN;
    }
    cr_expect(!uf_plot_find("index")->has(r), "no winter was run");
    uf_result_free(r);
}

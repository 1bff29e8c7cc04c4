#include "io/result/result_file.h"
#include "same_design.h"
#include "tests/synthetic.h"

#include <dirent.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[1000], path[1100];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(path, sizeof path, "%s/result.h5", folder);
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(result_file, .init = open_folder, .fini = close_folder);

static size_t files_in_folder(void)
{
    size_t n = 0;
    DIR *listing = opendir(folder);
    for (struct dirent *entry = readdir(listing); entry != NULL; entry = readdir(listing)) {
        n += entry->d_name[0] != '.' ? 1 : 0;
    }
    (void)closedir(listing);
    return n;
}

/* Equal numbers, where NAN equals NAN. */
static bool same(const double *a, const double *b, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (!(a[i] <= b[i] && a[i] >= b[i]) && !(isnan(a[i]) && isnan(b[i]))) {
            return false;
        }
    }
    return true;
}

static void expect_same_record(const struct uf_record *a, const struct uf_record *b)
{
    const size_t cells = a->nz * a->nx;
    cr_assert_eq(a->nt, b->nt);
    cr_assert_eq(cells, b->nz * b->nx);
    cr_assert_eq(a->n_probes, b->n_probes);
    cr_expect_eq(a->radial, b->radial);
    cr_expect_eq(a->n_materials, b->n_materials);
    cr_expect_arr_eq(a->material_names, b->material_names, sizeof a->material_names);
    cr_expect_arr_eq(a->probe_names, b->probe_names, sizeof a->probe_names);
    cr_expect_arr_eq(a->temperature_degC, b->temperature_degC, a->nt * cells * sizeof(float));
    cr_expect_arr_eq(a->ice_fraction, b->ice_fraction, a->nt * cells * sizeof(float));
    cr_expect_arr_eq(a->material, b->material, cells);
    cr_expect_arr_eq(a->marks, b->marks, sizeof a->marks);
    cr_assert_eq(a->ny, b->ny);
    cr_expect_arr_eq(a->line_m, b->line_m, a->nt * a->nx * sizeof(float));
    if (a->ny > 0) {
        const size_t along = a->nz * a->ny;
        cr_expect_arr_eq(a->long_degC, b->long_degC, a->nt * along * sizeof(float));
        cr_expect_arr_eq(a->long_ice, b->long_ice, a->nt * along * sizeof(float));
        cr_expect_arr_eq(a->long_line_m, b->long_line_m, a->nt * a->ny * sizeof(float));
        cr_expect_arr_eq(a->long_material, b->long_material, along);
        cr_expect(same(a->y_edge_m, b->y_edge_m, a->ny + 1) && same(a->y_m, b->y_m, a->ny));
    }
    cr_assert_eq(a->whole_degC == NULL, b->whole_degC == NULL);
    if (a->whole_degC != NULL) {
        cr_expect_arr_eq(a->whole_degC, b->whole_degC, a->nt * cells * a->ny * sizeof(float));
        cr_expect_arr_eq(a->whole_ice, b->whole_ice, a->nt * cells * a->ny * sizeof(float));
    }
    cr_expect(same(a->time_day, b->time_day, a->nt));
    cr_expect(same(a->z_edge_m, b->z_edge_m, a->nz + 1));
    cr_expect(same(a->x_edge_m, b->x_edge_m, a->nx + 1));
    cr_expect(same(a->z_m, b->z_m, a->nz));
    cr_expect(same(a->x_m, b->x_m, a->nx));
    cr_expect(same(a->frost_depth_m, b->frost_depth_m, a->nt));
    cr_expect(same(a->frost_above_m, b->frost_above_m, a->nt));
    cr_expect(same(a->thaw_depth_m, b->thaw_depth_m, a->nt));
    cr_expect(same(a->water_degC, b->water_degC, a->nt));
    cr_expect(same(a->ice_share, b->ice_share, a->nt));
    cr_expect(same(a->wall_degC, b->wall_degC, a->nt));
    cr_expect(same(a->crown_degC, b->crown_degC, a->nt));
    cr_expect(same(a->surface_W_m, b->surface_W_m, a->nt));
    cr_expect(same(a->air_degC, b->air_degC, a->nt));
    cr_expect(same(a->snow_m, b->snow_m, a->nt));
    cr_expect(same(a->probe_degC, b->probe_degC, a->nt * a->n_probes));
}

Test(result_file, gives_back_what_was_written)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    struct uf_error err = {0};
    made->record->wall_degC[17] = NAN;
    made->record->radial = true;
    cr_assert_eq(uf_result_file_write(path, made, &err), UF_OK, "%s", err.text);
    cr_assert_eq(uf_result_file_read(&read, path, &err), UF_OK, "%s", err.text);
    expect_same_record(made->record, read->record);
    expect_same_record(made->without_board, read->without_board);
    same_design(&made->design, &read->design);
    cr_expect_eq(read->summary.water.day, 16500);
    cr_expect_eq(read->summary.water.degC, 1.07);
    cr_expect(read->summary.frost_reaches_tank);
    cr_expect_eq(read->summary.counters.steps, 1234);
    cr_expect_eq(read->summary.n_probes, 2u);
    cr_expect_str_eq(read->summary.probes[1].name, made->summary.probes[1].name);
    cr_expect_eq(read->summary.probes[1].least.degC, -0.25);
    cr_expect_eq(read->summary.probes[1].least.day, 16131);
    cr_expect_eq(read->summary.probes[1].days_below_zero, 12);
    cr_expect(isnan(read->summary.probes[1].limit_degC) && isnan(read->summary.hold_J));
    cr_expect_eq(read->summary_without_board.water.day, 16501);
    cr_expect_str_eq(read->title, made->title);
    cr_expect_str_eq(read->site_text, made->site_text);
    cr_expect_str_eq(read->winter_text, made->winter_text);
    cr_expect_null(read->summary_json);
    uf_result_free(made);
    uf_result_free(read);
}

/* Times and a grid for a record that has none of a run. */
static void fill_axes(struct uf_record *r)
{
    for (size_t t = 0; t < r->nt; t++) {
        r->time_day[t] = 11000.0 + (double)t;
    }
    for (size_t j = 0; j <= r->nz; j++) {
        r->z_edge_m[j] = (double)j;
        r->z_m[j < r->nz ? j : r->nz - 1] = (double)(j < r->nz ? j : r->nz - 1) + 0.5;
    }
    for (size_t i = 0; i <= r->nx; i++) {
        r->x_edge_m[i] = (double)i;
        r->x_m[i < r->nx ? i : r->nx - 1] = (double)(i < r->nx ? i : r->nx - 1) + 0.5;
    }
    for (size_t k = 0; k < r->ny; k++) {
        r->y_m[k] = (double)k + 0.5;
        r->y_edge_m[k] = (double)k;
        r->y_edge_m[k + 1] = (double)k + 1.0;
    }
}

/* Chunks of a grid this wide hold less than a day; every slice is kept. */
Test(result_file, gives_back_a_field_of_many_cells)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    struct uf_record *wide = NULL;
    struct uf_error err = {0};
    const size_t nt = 3, nz = 90, nx = 200, ny = 2;
    const struct uf_record_size size = {nt, nz, nx, ny, 0};
    cr_assert_eq(uf_record_create(&wide, &size, UF_KEEP_USUAL | UF_KEEP_WHOLE, NULL), UF_OK);
    fill_axes(wide);
    for (size_t i = 0; i < nt * nz * nx; i++) {
        wide->temperature_degC[i] = (float)(i % 977) - 400.5F;
        wide->ice_fraction[i] = i % 3 == 0 ? 0.0F : 0.25F;
        wide->whole_degC[ny * i] = (float)(i % 613);
        wide->whole_ice[ny * i + 1] = 0.5F;
    }
    uf_record_free(made->record);
    made->record = wide;
    cr_assert_eq(uf_result_file_write(path, made, &err), UF_OK, "%s", err.text);
    cr_assert_eq(uf_result_file_read(&read, path, &err), UF_OK, "%s", err.text);
    expect_same_record(wide, read->record);
    uf_result_free(made);
    uf_result_free(read);
}

Test(result_file, gives_back_the_lists)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    cr_assert_eq(uf_result_file_read(&read, path, NULL), UF_OK);
    cr_assert_eq(read->n_choices, made->n_choices);
    cr_expect_eq(read->pick, made->pick);
    for (size_t i = 0; i < read->n_choices; i++) {
        cr_expect(same(&read->choices[i].cover_m, &made->choices[i].cover_m, 7));
        cr_expect_eq(read->choices[i].ok, made->choices[i].ok);
        cr_expect_eq(read->choices[i].robust, made->choices[i].robust);
        cr_expect_str_eq(read->choices[i].governs, made->choices[i].governs);
    }
    cr_assert_eq(read->n_cases, made->n_cases);
    for (size_t i = 0; i < read->n_cases; i++) {
        cr_expect_str_eq(read->cases[i].name, made->cases[i].name);
        cr_expect_str_eq(read->cases[i].limit, made->cases[i].limit);
        cr_expect_str_eq(read->cases[i].governs, made->cases[i].governs);
        cr_expect(same(&read->cases[i].margin, &made->cases[i].margin, 1));
        cr_expect_eq(read->cases[i].ok, made->cases[i].ok);
    }
    cr_expect_str_eq(read->design.currency, made->design.currency);
    cr_assert_eq(read->n_levels, made->n_levels);
    cr_expect(same(&read->levels[0].depth_m, &made->levels[0].depth_m, 2 * read->n_levels));
    cr_assert_eq(read->n_winters, made->n_winters);
    cr_expect_eq(read->winters[43].year, 2013);
    cr_expect(isnan(read->winters[7].freezing_index_degC_day));
    cr_assert_eq(read->n_returns, made->n_returns);
    cr_expect_eq(read->returns[2].years, 100.0);
    cr_expect_eq(read->design_index_degC_day, 2150.0);
    /* No weather was given, so the record's own stands there. */
    cr_assert_eq(read->n_days, made->record->nt);
    cr_expect_eq(read->days[100].air_degC, made->record->air_degC[100]);
    uf_result_free(made);
    uf_result_free(read);
}

/* A file whose sum fits, but whose numbers no run leaves: dates that are none, axes out of order,
   materials that are not in the list. Each once made a picture count on it. */
Test(result_file, numbers_that_no_run_leaves_are_refused)
{
    struct uf_result *made = synthetic_result();
    struct uf_record *r = made->record;
    const struct {
        double *number;
        double wrong;
        const char *what;
    } rows[] = {{&r->time_day[3], 1e300, "the times"},
                {&r->time_day[3], NAN, "the times"},
                {&r->time_day[0], -INFINITY, "the times"},
                {&r->time_day[5], 0.0, "the times"},
                {&r->x_edge_m[2], -1e9, "the grid"},
                {&r->z_m[1], NAN, "the grid"},
                {&r->y_m[1], -1e9, "the grid"},
                {&made->without_board->time_day[1], 1e18, "the times"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct uf_result *read = NULL;
        struct uf_error err = {0};
        const double right = *rows[i].number;
        *rows[i].number = rows[i].wrong;
        cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
        cr_expect_eq(uf_result_file_read(&read, path, &err), UF_E_FILE, "%zu", i);
        cr_expect(read == NULL && strstr(err.text, rows[i].what) != NULL, "%s", err.text);
        *rows[i].number = right;
    }
    for (int i = 0; i < 5; i++) {
        struct uf_result *read = NULL;
        r->material[4] = i == 0 ? -1 : 2;
        r->temperature_degC[7] = i == 1 ? NAN : 1.0F;
        r->ice_fraction[7] = i == 2 ? 40.0F : 0.0F;
        r->line_m[7] = i == 3 ? NAN : 0.5F;
        r->long_material[3] = i == 4 ? -2 : 1;
        cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
        cr_expect_eq(uf_result_file_read(&read, path, NULL), UF_E_FILE, "%d", i);
    }
    uf_result_free(made);
}

Test(result_file, keeps_series_alone_and_texts_of_any_length)
{
    struct uf_result made, *read = NULL;
    uf_result_init(&made);
    cr_assert_eq(uf_record_create(&made.record, &(struct uf_record_size){3, 2, 1, 0, 0},
                                  UF_KEEP_SERIES, NULL),
                 UF_OK);
    fill_axes(made.record);
    const size_t size = 300000; /* attributes over 64 KiB need variable-length strings */
    made.site_text = malloc(size + 1);
    memset(made.site_text, 'y', size);
    made.site_text[size] = '\0';
    cr_assert_eq(uf_result_file_write(path, &made, NULL), UF_OK);
    cr_assert_eq(uf_result_file_read(&read, path, NULL), UF_OK);
    cr_expect_null(read->record->temperature_degC);
    cr_expect_eq(read->record->n_probes, 0);
    cr_expect_eq(strlen(read->site_text), size);
    cr_expect_eq(read->pick, -1);
    cr_expect_eq(read->n_choices, 0);
    cr_expect(isnan(read->design.crown_m));
    free(made.site_text);
    uf_record_free(made.record);
    uf_result_free(read);
}

Test(result_file, a_failed_write_leaves_the_earlier_file_and_nothing_else)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    made->summary.counters.steps = 99;
    /* No file may grow beyond 20 kB: as a full disk would have it. */
    struct rlimit usual, small;
    cr_assert_eq(getrlimit(RLIMIT_FSIZE, &usual), 0);
    small = usual;
    small.rlim_cur = 20000;
    (void)signal(SIGXFSZ, SIG_IGN);
    cr_assert_eq(setrlimit(RLIMIT_FSIZE, &small), 0);
    cr_expect_eq(uf_result_file_write(path, made, &err), UF_E_FILE);
    cr_assert_eq(setrlimit(RLIMIT_FSIZE, &usual), 0);
    cr_expect_not_null(strstr(err.text, "disk"), "%s", err.text);
    cr_expect_eq(files_in_folder(), 1);
    cr_assert_eq(uf_result_file_read(&read, path, NULL), UF_OK);
    cr_expect_eq(read->summary.counters.steps, 1234);
    uf_result_free(read);
    uf_result_free(made);
}

Test(result_file, says_what_is_wrong_with_a_place_or_a_file)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    struct uf_error err = {0};
    char nowhere[1200];
    (void)snprintf(nowhere, sizeof nowhere, "%s/none/result.h5", folder);
    cr_expect_eq(uf_result_file_write(nowhere, made, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "folder"), "%s", err.text);
    cr_expect_eq(uf_result_file_read(&read, path, &err), UF_E_FILE);
    cr_expect_null(read);
    FILE *file = fopen(path, "w");
    cr_assert(file != NULL && fputs("not a result\n", file) >= 0 && fclose(file) == 0);
    cr_expect_eq(uf_result_file_read(&read, path, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "not an HDF5 file"), "%s", err.text);
    uf_result_free(made);
}

Test(result_file, refuses_a_damaged_file_wherever_it_is_cut)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    struct stat whole;
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    cr_assert_eq(stat(path, &whole), 0);
    for (long part = 9; part >= 1; part -= 2) {
        struct uf_error err = {0};
        cr_assert_eq(truncate(path, whole.st_size * part / 10), 0);
        cr_expect_eq(uf_result_file_read(&read, path, &err), UF_E_FILE, "%ld/10", part);
        cr_expect_null(read);
        cr_expect(strlen(err.text) > 20);
    }
    uf_result_free(made);
}

static void flip_bit(long at)
{
    FILE *file = fopen(path, "r+b");
    cr_assert(file != NULL && fseek(file, at, SEEK_SET) == 0);
    const int byte = fgetc(file);
    cr_assert(fseek(file, at, SEEK_SET) == 0 && fputc(byte ^ 0x10, file) != EOF);
    cr_assert_eq(fclose(file), 0);
}

/* Each flipped bit is told before the library meets it: some would bring it down. */
Test(result_file, refuses_a_file_of_which_one_bit_has_changed)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    struct stat whole;
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    cr_assert_eq(stat(path, &whole), 0);
    for (long k = 0; k < 200; k++) {
        struct uf_error err = {0};
        const long at = (k * k * 7919 + k) % (whole.st_size - 24);
        flip_bit(at);
        cr_expect_eq(uf_result_file_read(&read, path, &err), UF_E_FILE, "byte %ld", at);
        cr_expect_not_null(strstr(err.text, "sum does not fit"), "%s", err.text);
        flip_bit(at);
    }
    cr_expect_eq(uf_result_file_read(&read, path, NULL), UF_OK, "as it was again");
    uf_result_free(read);
    uf_result_free(made);
}

/* As files of before the seal are, and those that another program has changed. */
Test(result_file, reads_a_file_without_a_seal)
{
    struct uf_result *made = synthetic_result(), *read = NULL;
    struct stat whole;
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    cr_assert_eq(stat(path, &whole), 0);
    cr_assert_eq(truncate(path, whole.st_size - 24), 0);
    cr_assert_eq(uf_result_file_read(&read, path, NULL), UF_OK);
    expect_same_record(made->record, read->record);
    uf_result_free(read);
    uf_result_free(made);
}

static char *bytes_of(size_t *size)
{
    FILE *file = fopen(path, "rb");
    static char bytes[1 << 22];
    cr_assert_not_null(file);
    *size = fread(bytes, 1, sizeof bytes, file);
    (void)fclose(file);
    return bytes;
}

/* Neither the time of day nor the time a run took is in the file. */
Test(result_file, the_same_run_twice_is_the_same_file)
{
    struct uf_result *made = synthetic_result();
    size_t size = 0;
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    char *first = malloc(1 << 22);
    memcpy(first, bytes_of(&size), 1 << 22);
    const size_t first_size = size;
    made->summary.counters.cpu_s = made->summary_without_board.counters.cpu_s = 17.0;
    (void)sleep(2); /* HDF5 counts whole seconds */
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    const char *second = bytes_of(&size);
    cr_expect(size == first_size && memcmp(first, second, size) == 0);
    free(first);
    uf_result_free(made);
}

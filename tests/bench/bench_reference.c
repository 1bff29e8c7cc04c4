/* The reference problem on five grids, bare and with board, by both integrators: counts,
   errors against the fine solution, the band that is met, CPU seconds, how cost grows
   with the cells; then three years of recorded weather in place of the cosine, beside the
   same grid with tight steps. Figures are for comparison within one run of this program:
   machines are noisy.

   bench_reference [--rows CM] [--case bare|board] [--method fast|reference] [--steps N]
                   [--weather yes|no|only]
     --rows    one grid in place of the five
     --steps   of the fast integrator, a day (2, on 12.5 cm 1; with weather 4) */
#include "io/weather/climate.h"
#include "reference.h"
#include "solver/base/calendar.h"

/* Rows, and steps a day of the fast integrator; the first is for the maximum band. */
static const struct grid {
    double rows_m, steps;
} GRIDS[] = {{0.125, 1.0}, {0.10, 2.0}, {0.075, 2.0}, {0.05, 2.0}, {0.025, 2.0}};
enum { GRIDS_N = sizeof GRIDS / sizeof *GRIDS };
static const double WEATHER_GRID_M = 0.075;

struct wish {
    double rows_m, steps; /* 0: all grids; the usual steps */
    int board, method;    /* -1: both */
    bool smooth, weather;
};

/* One run of three years. */
struct run {
    double rows_m, steps;
    bool board;
    int halvings; /* of rows and columns alike */
    struct uf_season_options options;
    const double *air_degC; /* recorded weather, or NULL */
    struct reference_errors errors;
    struct uf_counters counters;
    double leak;
};

static void stop(const struct uf_error *err)
{
    (void)fprintf(stderr, "%s\n", err->text);
    exit(1);
}

/* Frost depth in undisturbed ground and the crown on the evenings of the last year, into
   day_got [REFERENCE_LAST][2]. */
static void run_days(struct run *r, double (*day_got)[2])
{
    struct reference_place place;
    struct uf_season *season = NULL;
    struct uf_error err = {0};
    double exchanged_J = 0.0;
    double before_J = 0.0;
    reference_open(&place, r->rows_m, r->board);
    for (int k = 0; k < r->halvings; k++) {
        reference_halve(&place);
    }
    if (r->air_degC != NULL) {
        place.drive.outside_degC = place.drive.air_degC = r->air_degC;
    }
    if (uf_season_create(&season, place.section->heat, &r->options, &err) != UF_OK) {
        stop(&err);
    }
    uf_season_set(season, 0.0, place.start_degC);
    uf_season_drive(season, &place.drive);
    for (int day = 1; day <= REFERENCE_DAYS; day++) {
        if (uf_season_advance(season, day, &err) != UF_OK) {
            stop(&err);
        }
        const double J = uf_season_heat_J(season).surface_J;
        exchanged_J += fabs(J - before_J);
        before_J = J;
        if (day >= REFERENCE_DAYS - 365) {
            reference_look(&place, day, uf_season_H_J_m3(season), uf_season_T_degC(season),
                           day_got[day - (REFERENCE_DAYS - 365)]);
        }
    }
    r->counters = uf_season_counters(season);
    r->leak = fabs(uf_season_leak_J(season)) / exchanged_J;
    uf_season_free(season);
    reference_close(&place);
}

static void judge(struct run *r, const struct reference *want, double (*day_got)[2])
{
    r->errors = reference_begin();
    for (int row = 0; row < REFERENCE_LAST; row++) {
        reference_day(&r->errors, want, r->board, row, day_got[row]);
    }
}

static void print_head(const char *title)
{
    printf("%s\n rows case  method    cells  steps     rhs   fact efail nfail   dmax   day "
           "gone  crown    leak  band        CPU    ns\n   cm%54scm    cm    d      K%20ss\n",
           title, "", "");
}

/* ns: CPU for one cell and one right-hand side. */
static void print_run(const struct run *r, const char *band)
{
    const struct uf_counters *c = &r->counters;
    const struct reference_errors *e = &r->errors;
    printf("%5.1f %-5s %-9s %5ld %6ld %7ld %6ld %5ld %5ld %6.2f %5.2f %4d %6.3f %7.0e  %-7s"
           " %7.3f %5.2f\n",
           1e2 * r->rows_m, r->board ? "board" : "bare",
           r->options.integrator == UF_FAST ? "fast" : "reference", c->cells, c->steps, c->rhs,
           c->factorisations, c->error_test_failures, c->newton_failures,
           1e2 * (e->deepest_m - e->deepest_want_m), 1e2 * e->day_m, e->gone - e->gone_want,
           e->crown_degC - e->crown_want_degC, r->leak, band, c->cpu_s,
           1e9 * c->cpu_s / ((double)c->rhs * (double)c->cells));
    (void)fflush(stdout);
}

/* How the cost grew from one run to a finer one: the exponent of the cells, and its parts
   beside the cells themselves: right-hand sides, and time for a cell of one. */
static void print_growth(const struct uf_counters *was, const struct uf_counters *now)
{
    const double cells = log((double)now->cells / (double)was->cells);
    const double rhs = log((double)now->rhs / (double)was->rhs) / cells;
    const double all = log(now->cpu_s / was->cpu_s) / cells;
    printf("%16s cost grows as cells^%.2f: 1 %+.2f right-hand sides %+.2f ns\n", "", all, rhs,
           all - 1.0 - rhs);
}

/* Rows and columns halved alike, the fast integrator: what a law in cells is about. */
static void table_of_halves(const struct reference *want, const struct wish *wish)
{
    static double day_got[REFERENCE_LAST][2];
    print_head("Each row and each column of 10 cm rows cut in two, and in four");
    for (int board = 0; board < 2; board++) {
        struct uf_counters before = {0};
        for (int k = 0; k < 3 && (wish->board < 0 || wish->board == board); k++) {
            struct run r = {
                .rows_m = 0.1, .board = board != 0, .halvings = k, .options = uf_season_defaults()};
            r.options.steps_per_day = 2.0;
            run_days(&r, day_got);
            judge(&r, want, day_got);
            r.rows_m = 0.1 / (double)(1 << k);
            print_run(&r, reference_band(&r.errors));
            if (k > 0) {
                print_growth(&before, &r.counters);
            }
            before = r.counters;
        }
    }
}

/* The same grid with the cosine: how the cost grows. */
static void table_of_grids(const struct reference *want, const struct wish *wish)
{
    static double day_got[REFERENCE_LAST][2];
    struct uf_counters before[2][2] = {{{0}}}; /* [board][method] */
    print_head("A cosine year, against the solution on 95 277 cells");
    for (size_t k = 0; k < (wish->rows_m > 0.0 ? 1 : GRIDS_N); k++) {
        for (int which = 0; which < 4; which++) {
            struct run r = {.rows_m = wish->rows_m > 0.0 ? wish->rows_m : GRIDS[k].rows_m,
                            .board = which / 2 != 0,
                            .options = uf_season_defaults()};
            const int method = which % 2;
            if ((wish->board >= 0 && wish->board != r.board) ||
                (wish->method >= 0 && wish->method != method)) {
                continue;
            }
            r.options.integrator = method == 0 ? UF_FAST : UF_BDF;
            r.options.steps_per_day = wish->steps > 0.0    ? wish->steps
                                      : wish->rows_m > 0.0 ? 2.0
                                                           : GRIDS[k].steps;
            run_days(&r, day_got);
            judge(&r, want, day_got);
            print_run(&r, reference_band(&r.errors));
            if (k > 1) {
                print_growth(&before[r.board][method], &r.counters);
            }
            before[r.board][method] = r.counters;
        }
    }
}

/* Three recorded years from an October on. */
static void read_air(double *air_degC)
{
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    if (uf_climate_read(&weather, "winnipeg.csv", "calgary", UF_SOURCE_DIR "/climates", &err) !=
        UF_OK) {
        stop(&err);
    }
    const size_t from = (size_t)(uf_calendar_day(1994, 10, 1) - weather->start_day);
    memcpy(air_degC, weather->air_degC + from, (REFERENCE_DAYS + 2) * sizeof *air_degC);
    uf_weather_free(weather);
}

/* Recorded weather has no fine solution: the reference integrator with tight steps on the
   same grid stands for it. cost: CPU beside the cosine year by the same method. */
static void table_of_weather(const struct wish *wish)
{
    static double air_degC[REFERENCE_DAYS + 2];
    static double day_got[REFERENCE_LAST][2];
    static struct reference tight;
    read_air(air_degC);
    print_head("Calgary, October 1994 to 1997, against the same grid with tight steps");
    for (int board = 0; board < 2; board++) {
        struct run r = {.rows_m = wish->rows_m > 0.0 ? wish->rows_m : WEATHER_GRID_M,
                        .board = board != 0,
                        .air_degC = air_degC,
                        .options = uf_season_defaults()};
        if (wish->board >= 0 && wish->board != board) {
            continue;
        }
        r.options.integrator = UF_BDF;
        r.options.rtol = 1e-5;
        r.options.atol_J_m3 = 0.01e6;
        run_days(&r, day_got);
        for (int row = 0; row < REFERENCE_LAST; row++) {
            tight.depth_m[board][row] = day_got[row][0];
            tight.crown_degC[board][row] = day_got[row][1];
        }
        judge(&r, &tight, day_got);
        print_run(&r, "(tight)");
        for (int method = 0; method < 2; method++) {
            if (wish->method >= 0 && wish->method != method) {
                continue;
            }
            r.options = uf_season_defaults();
            r.options.integrator = method == 0 ? UF_FAST : UF_BDF;
            struct run smooth = r;
            r.options.steps_per_day = wish->steps > 0.0 ? wish->steps : 4.0;
            smooth.options.steps_per_day = 2.0;
            smooth.air_degC = NULL;
            run_days(&smooth, day_got);
            run_days(&r, day_got);
            judge(&r, &tight, day_got);
            print_run(&r, reference_band(&r.errors));
            printf("%16s cost %.2f times the cosine year's\n", "",
                   r.counters.cpu_s / smooth.counters.cpu_s);
        }
    }
}

static bool take(struct wish *wish, const char *option, const char *value)
{
    if (strcmp(option, "--rows") == 0) {
        wish->rows_m = 1e-2 * strtod(value, NULL);
        return wish->rows_m > 0.0;
    }
    if (strcmp(option, "--steps") == 0) {
        wish->steps = strtod(value, NULL);
        return wish->steps >= 1.0;
    }
    if (strcmp(option, "--case") == 0) {
        wish->board = strcmp(value, "board") == 0;
        return wish->board == 1 || strcmp(value, "bare") == 0;
    }
    if (strcmp(option, "--method") == 0) {
        wish->method = strcmp(value, "reference") == 0;
        return wish->method == 1 || strcmp(value, "fast") == 0;
    }
    wish->weather = strcmp(value, "no") != 0;
    wish->smooth = strcmp(value, "only") != 0;
    return strcmp(option, "--weather") == 0;
}

int main(int argc, char **argv)
{
    static struct reference want;
    struct wish wish = {.board = -1, .method = -1, .smooth = true, .weather = true};
    for (int i = 1; i < argc; i += 2) {
        if (i + 1 == argc || !take(&wish, argv[i], argv[i + 1])) {
            (void)fprintf(stderr,
                          "%s: not an option of this program with its value: see "
                          "the head of tests/bench/bench_reference.c\n",
                          argv[i]);
            return 2;
        }
    }
    if (!reference_read(&want)) {
        (void)fprintf(stderr, "tests/data/reference_problem.csv could not be read\n");
        return 1;
    }
    if (wish.smooth) {
        table_of_grids(&want, &wish);
        if (!(wish.rows_m > 0.0) && wish.method != 1) {
            table_of_halves(&want, &wish);
        }
    }
    if (wish.weather) {
        table_of_weather(&wish);
    }
    return 0;
}

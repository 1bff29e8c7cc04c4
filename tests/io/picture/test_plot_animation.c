#include "io/picture/plot.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

static char folder[1000];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(plot_animation, .init = open_folder, .fini = close_folder);

/* The frames of a GIF: each begins with its graphic control block, 21 F9 04. */
static size_t frames_of(const char *path, long *bytes)
{
    FILE *file = fopen(path, "rb");
    size_t n = 0;
    int before[3] = {0}, c = 0;
    cr_assert_not_null(file);
    while ((c = fgetc(file)) != EOF) {
        n += before[1] == 0x21 && before[2] == 0xf9 && c == 0x04;
        before[1] = before[2];
        before[2] = c;
    }
    *bytes = ftell(file);
    (void)fclose(file);
    return n;
}

/* A winter of 182 days at the most becomes 60 frames or fewer, in a file to send by mail. */
Test(plot_animation, animation_is_a_gif_of_few_frames)
{
    struct uf_result *r = synthetic_result();
    const struct uf_plot_look look = {0};
    char path[1100];
    long bytes = 0;
    (void)snprintf(path, sizeof path, "%s/a.gif", folder);
    cr_assert_eq(uf_plot_draw(path, uf_plot_find("animation"), r, &look, NULL), UF_OK);
    const size_t n = frames_of(path, &bytes);
    cr_expect(n > 5 && n <= 62, "%zu frames", n);
    cr_expect_lt(bytes, 3000000);
    r->record->nt = 10; /* the second is of moments */
    for (size_t t = 0; t < r->record->nt; t++) {
        r->record->air_degC[t] = NAN; /* driven by its surface: no air is known */
    }
    cr_expect_eq(uf_plot_draw(path, uf_plot_find("animation"), r, &look, NULL), UF_OK);
    uf_result_free(r);
}

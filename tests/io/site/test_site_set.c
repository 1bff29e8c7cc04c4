#include "site_texts.h"

static void close_units(void)
{
    uf_units_close();
}

TestSuite(site_set, .fini = close_units);

static struct uf_site *must_set(const char *text, const struct uf_site_override *sets, size_t n)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    cr_assert_eq(uf_site_parse(&site, "a.yaml", text, strlen(text),
                               &(struct uf_site_overrides){sets, n}, &faults, NULL),
                 UF_OK, "%s: %s: %s", faults.n > 0 ? faults.rows[0].key : "",
                 faults.n > 0 ? faults.rows[0].what.text : "",
                 faults.n > 0 ? faults.rows[0].allowed.text : "");
    return site;
}

Test(site_set, set_changes_any_key)
{
    const struct uf_site_override sets[] = {
        {"burial.cover=1.5m"},
        {"probes[0].x=0.5 m"},
        {"probes[2]={name: new, depth: 2 m}"},
        {"ground[1].moisture=15 percent"},
        {"choices.cover=[1 m, 2 m]"},
        {"load.wheel=none"},
        {"surface=null"},
        {"surface.type=turf"},
        {"board.thickness=75 mm"},
        {"board.thickness=80 mm"},
        {"climate.winter=mean"},
        {"limits.greatest_cover=null"},
    };
    struct uf_site *site = must_set(WHOLE, sets, sizeof sets / sizeof sets[0]);
    const struct uf_case *design = &site->design;
    near(design->burial.cover_m, 1.5);
    near(design->probes[0].x_m, 0.5);
    near(design->probes[0].depth_m, 1.5 + 2.4 - 0.1);
    cr_assert_eq(design->n_probes, 3);
    cr_expect_str_eq(design->probes[2].name, "new");
    near(design->ground.layers[1].spec.moisture_by_mass, 0.15);
    cr_expect_eq(design->choices.n_cover, 2);
    cr_expect_eq(design->wheel_N, 0.0);
    cr_expect_eq(design->surface.kind, UF_SURFACE_N_FACTOR);
    near(design->board.thickness_m, 0.08);
    cr_expect_eq(site->winter.kind, UF_WINTER_MEAN);
    cr_expect(isnan(design->limits.greatest_cover_m), "null takes a key away");
    cr_expect_str_eq(site->text, WHOLE, "the text stays as it was written");
    uf_site_free(site);
}

Test(site_set, set_makes_blocks_that_are_not_there)
{
    const struct uf_site_override sets[] = {
        {"limits.water=3 degC"}, {"probes[0].depth=1 m"}, {"groundwater={winter: 2 m}"}};
    struct uf_site *site = must_set(BARE, sets, sizeof sets / sizeof sets[0]);
    near(site->design.limits.water_degC, 3.0);
    cr_assert_eq(site->design.n_probes, 1);
    near(site->design.probes[0].depth_m, 1.0);
    near(site->design.ground.water_winter_m, 2.0);
    uf_site_free(site);
}

Test(site_set, faults_of_set_carry_no_line)
{
    const struct {
        const char *text, *key, *what;
    } rows[] = {
        {"burial.cover=1.5", "burial.cover", "no unit"},
        {"burial.cover=900 m", "burial.cover", "range"},
        {"burial.depth=1 m", "burial.depth", "unknown key"},
        {"burial={cover: 1 m, x: 2}", "burial.x", "unknown key"},
        {"burial.pit={slope: 2}", "burial.pit.clearance", "missing"},
        {"burial.cover", "burial.cover", "no key with a value"},
        {"=3", "", "no key with a value"},
        {"burial.cover=", "burial.cover", "nothing"},
        {"burial.cover=[", "burial.cover", ""},
        {"burial.cover=*x", "burial.cover", "alias"},
        {"burial.cover=1 m\n--- 2 m", "burial.cover", "second document"},
        {"burial..cover=1 m", "burial..cover", "nowhere"},
        {".burial=1 m", ".burial", "nowhere"},
        {"probes[5].x=1 m", "probes[5].x", "nowhere"},
        {"probes[-1].x=1 m", "probes[-1].x", "nowhere"},
        {"probes[99999999999999999999999].x=1 m", "probes[99999999999999999999999].x", "nowhere"},
        {"burial[0]=1 m", "burial[0]", "nowhere"},
        {"burial.cover.x=1 m", "burial.cover.x", "nowhere"},
        {"grid=&a [*a]", "grid", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct uf_site_override set = {rows[i].text};
        struct uf_site_faults faults;
        must_fail(&faults, WHOLE, &set, 1);
        cr_expect_eq(faults.n, 1, "%s: %zu", rows[i].text, faults.n);
        cr_expect_str_eq(faults.rows[0].key, rows[i].key);
        cr_expect_eq(faults.rows[0].line, 0, "%s", rows[i].text);
        cr_expect(strstr(faults.rows[0].what.text, rows[i].what) != NULL, "%s: %s", rows[i].text,
                  faults.rows[0].what.text);
        uf_site_faults_clear(&faults);
    }
}

/* Files */

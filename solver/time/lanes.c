#include "lanes.h"

#include "lanes_private.h"
#include "solver/base/constants.h"

#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <ucontext.h>
#include <unistd.h>

/* Stacks are switched by the C library; a thread sanitizer would have to be told. */
#if defined(__SANITIZE_THREAD__)
enum { SWITCHES = 0 };
#else
enum { SWITCHES = 1 };
#endif

/* Of a run's stack; a page below it is out of bounds. */
enum { STACK_BYTES = 512 * 1024 };

struct way {
    ucontext_t context;
    char *stack;
    struct uf_lanes_place *waits; /* NULL: may go on */
    bool done;
};

struct uf_lanes {
    ucontext_t home;
    struct way ways[UF_LANES];
    size_t in_hand;
    void (*work)(void *who, struct uf_lanes *lanes);
    void *who;
    struct uf_lanes_shape *shapes;
};

/* Shapes that nobody uses are kept, so many in all, for the next that come. */
enum { SHAPES_KEPT = 6 };

bool uf_lanes_takes(const struct uf_heat *heat)
{
    for (size_t s = 0; s < heat->n_shafts; s++) {
        if (heat->shafts[s].water) {
            return false; /* its law is not among the lanes' own */
        }
    }
    return heat->grid->ny == 1 && heat->held == UF_HEAT_NONE && !(heat->inflow_W_K > 0.0);
}

static void drop_idle_shapes(struct uf_lanes *lanes)
{
    size_t kept = 0;
    for (struct uf_lanes_shape **at = &lanes->shapes; *at != NULL;) {
        struct uf_lanes_shape *s = *at;
        if (s->n_places == 0 && kept >= SHAPES_KEPT) {
            *at = s->next;
            uf_lanes_shape_free(s);
        } else {
            at = &s->next;
            kept++;
        }
    }
}

/* A shape for the network with a place free. */
static struct uf_lanes_shape *shape_for(struct uf_lanes *lanes, const struct uf_heat *heat)
{
    struct uf_lanes_shape *s = lanes->shapes;
    while (s != NULL && (s->n_places == UF_LANES || !uf_lanes_shape_fits(s, heat))) {
        s = s->next;
    }
    if (s != NULL) {
        return s;
    }
    drop_idle_shapes(lanes);
    s = uf_lanes_shape_create(heat);
    if (s != NULL) {
        s->next = lanes->shapes;
        lanes->shapes = s;
        for (size_t lane = 0; lane < UF_LANES; lane++) { /* numbers that do no harm */
            uf_lanes_load(s, lane, heat);
        }
    }
    return s;
}

struct uf_lanes_place *uf_lanes_join(struct uf_lanes *lanes, struct uf_season *season)
{
    struct uf_lanes_shape *s = shape_for(lanes, season->heat);
    if (s == NULL) {
        return NULL;
    }
    size_t lane = 0;
    while (s->places[lane].season != NULL) {
        lane++;
    }
    s->places[lane] = (struct uf_lanes_place){
        .shape = s, .season = season, .lane = lane, .fresh = true, .fastest_h = -1.0};
    s->n_places++;
    uf_lanes_load(s, lane, season->heat);
    return &s->places[lane];
}

void uf_lanes_leave(struct uf_lanes_place *place)
{
    if (place != NULL) {
        uf_lanes_clear(place->shape, place->lane);
        place->season = NULL;
        place->shape->n_places--;
    }
}

/* The season's state and range into its lane. */
static void take_state(struct uf_lanes_place *p)
{
    struct uf_lanes_shape *s = p->shape;
    const struct uf_heat *h = p->season->heat;
    const struct uf_season_range range = uf_season_range_allowed(p->season, true);
    for (size_t i = 0; p->fresh && i < s->n; i++) {
        s->H[i * UF_LANES + p->lane] = p->season->H_J_m3[i];
    }
    p->fresh = false;
    if (range.least_degC == p->range.least_degC && range.most_degC == p->range.most_degC) {
        return;
    }
    p->range = range;
    for (size_t m = 0; m < s->n_kinds; m++) {
        s->kinds[m].least_H[p->lane] =
            (float)uf_material_H_J_m3(&h->materials[m], range.least_degC);
        s->kinds[m].most_H[p->lane] = (float)uf_material_H_J_m3(&h->materials[m], range.most_degC);
    }
}

void uf_lanes_wait(struct uf_lanes *lanes, struct uf_lanes_place *place)
{
    struct way *way = &lanes->ways[lanes->in_hand];
    take_state(place);
    place->step = place->part = 0;
    place->parts = 1;
    place->asked = true;
    place->beyond = false;
    way->waits = place;
    (void)swapcontext(&way->context, &lanes->home);
}

void uf_lanes_yield(struct uf_lanes *lanes)
{
    (void)swapcontext(&lanes->ways[lanes->in_hand].context, &lanes->home);
}

/* Where a run begins; a pointer comes as two numbers. */
static void begin(unsigned high, unsigned low)
{
    struct uf_lanes *lanes = (struct uf_lanes *)(((uintptr_t)high << 32) | (uintptr_t)low);
    lanes->work(lanes->who, lanes);
    lanes->ways[lanes->in_hand].done = true; /* and home, by uc_link */
}

static bool make_way(struct uf_lanes *lanes, struct way *way)
{
    const size_t page = (size_t)sysconf(_SC_PAGESIZE);
    const uintptr_t at = (uintptr_t)lanes;
    way->stack = aligned_alloc(page, page + STACK_BYTES);
    if (way->stack == NULL || getcontext(&way->context) != 0 ||
        mprotect(way->stack, page, PROT_NONE) != 0) {
        return false;
    }
    way->context.uc_stack.ss_sp = way->stack + page;
    way->context.uc_stack.ss_size = STACK_BYTES;
    way->context.uc_link = &lanes->home;
    makecontext(&way->context, (void (*)(void))begin, 2, (unsigned)(at >> 32),
                (unsigned)(at & 0xFFFFFFFFU));
    return true;
}

static void lanes_free(struct uf_lanes *lanes)
{
    const size_t page = (size_t)sysconf(_SC_PAGESIZE);
    for (size_t i = 0; i < UF_LANES; i++) {
        if (lanes->ways[i].stack != NULL) {
            (void)mprotect(lanes->ways[i].stack, page, PROT_READ | PROT_WRITE);
        }
        free(lanes->ways[i].stack);
    }
    while (lanes->shapes != NULL) {
        struct uf_lanes_shape *s = lanes->shapes;
        lanes->shapes = s->next;
        uf_lanes_shape_free(s);
    }
    free(lanes);
}

/* Every run goes on until it waits or ends; false: all have ended. */
static bool go_on(struct uf_lanes *lanes)
{
    bool some = false;
    for (size_t i = 0; i < UF_LANES; i++) {
        struct way *way = &lanes->ways[i];
        if (way->waits != NULL && !way->waits->asked) {
            way->waits = NULL;
        }
        if (!way->done && way->waits == NULL) {
            lanes->in_hand = i;
            (void)swapcontext(&lanes->home, &way->context);
        }
        some = some || !way->done;
    }
    return some;
}

static bool is_asked(const struct uf_lanes_shape *s)
{
    bool asked = false;
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        asked = asked || s->places[lane].asked;
    }
    return asked;
}

enum uf_status uf_lanes_run(void (*work)(void *who, struct uf_lanes *lanes), void *who,
                            struct uf_error *err)
{
    struct uf_lanes *lanes = calloc(1, sizeof *lanes);
    bool ok = lanes != NULL;
    if (!SWITCHES) {
        free(lanes);
        work(who, NULL);
        return UF_OK;
    }
    for (size_t i = 0; ok && i < UF_LANES; i++) {
        ok = make_way(lanes, &lanes->ways[i]);
    }
    if (!ok) {
        if (lanes != NULL) {
            lanes_free(lanes);
        }
        return uf_fail(err, UF_E_MEMORY, "out of memory for runs beside each other");
    }
    lanes->work = work;
    lanes->who = who;
    while (go_on(lanes)) {
        for (struct uf_lanes_shape *s = lanes->shapes; s != NULL; s = s->next) {
            if (is_asked(s)) {
                uf_lanes_step(s);
            }
        }
    }
    lanes_free(lanes);
    return UF_OK;
}

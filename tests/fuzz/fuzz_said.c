#include "said.h"
#include "small_files.h"

/* A result, or an interrupted run, of which HDF5 says what the fuzzer likes, see said.h: all that is ours
   in reading one, thirty times as quick as through HDF5, which fuzz_result and fuzz_every take.
   The first byte: which of the two, damage under the seal, whether tables are made of it (three bits:
   slow). The second: names that no file of ours has. Then pieces of eight: which thing (2), what of it,
   how, by what (4). */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* From io/result/result_private.h: the sum that ends a file. */
enum { SEAL = 24, SEAL_SUM = 8, HEAD = 2, PIECE = 8, MOST_BYTES = 256 };
void uf_result_seal_make(char seal[SEAL], const void *image, size_t size);

static struct said_file result, every;
static struct said_thing kept[SAID_MOST];
static char texts[MOST_BYTES / PIECE][2 * PIECE];

static double number_of(const uint8_t *piece)
{
    const double rows[] = {NAN, INFINITY, -INFINITY, 1e300, -1e300,    0.0,  1e9,       -1.0,
                           0.5, 1e-300,   1e5,       -1e5,  2932896.5, 1e20, -719162.5, 9e15};
    const int16_t whole = (int16_t)(piece[6] | piece[7] << 8);
    return piece[5] & 16u ? rows[piece[5] & 15u] : whole;
}

static hsize_t size_of(const uint8_t *piece)
{
    const hsize_t rows[] = {0, UINT64_MAX, 2000001, (hsize_t)1 << 33, 70, 16, 33, 2};
    return piece[5] & 16u ? rows[piece[5] & 7u] : piece[6] % 24u;
}

static const char *text_of(char own[2 * PIECE], const uint8_t *piece)
{
    static char lengthy[3000];
    const char *const rows[] = {NULL,         "",          "radius",     "a\nb\n\n\x1b[31m",
                                "9999-12-31", "0001-1-01", "2000-02-30", lengthy};
    memset(lengthy, 'n', sizeof lengthy - 1);
    memcpy(own, piece + 5, 3);
    memcpy(own + 3, piece + 5, 3);
    own[6] = '\0';
    return piece[4] & 16u ? own : rows[piece[4] & 7u];
}

/* A length that several datasets share: all of them, or this thing alone. */
static void resize(struct said_thing *thing, const uint8_t *piece, bool alone)
{
    const hsize_t from = thing->dims[piece[3] % SAID_RANK], to = size_of(piece);
    for (size_t i = 0; i < said_now->n; i++) {
        struct said_thing *other = &said_now->things[i];
        const bool along = !alone && strchr(other->name, '@') == NULL;
        const int edge = strstr(other->name, "_bounds") != NULL; /* two, whatever else is two */
        for (int k = 0; along && k < other->rank - edge; k++) {
            other->dims[k] = other->dims[k] == from ? to : other->dims[k];
        }
    }
    thing->dims[piece[3] % SAID_RANK] = to;
}

static void change(const uint8_t *piece, char own[2 * PIECE])
{
    const size_t at = (piece[0] | (size_t)piece[1] << 8) % (said_now->n + 1);
    struct said_thing *thing = at < said_now->n ? &said_now->things[at] : &said_unknown;
    switch (piece[2] % 8) {
    case 0:
        thing->gone = (piece[3] & 1u) != 0;
        thing->shut = (piece[3] & 2u) != 0;
        thing->unread = (piece[3] & 4u) != 0;
        break;
    case 1:
        thing->kind = (enum said_kind)(piece[3] % SAID_KINDS);
        break;
    case 2:
        thing->rank = piece[3] % (SAID_RANK + 1);
        break;
    case 3:
    case 4:
        resize(thing, piece, piece[2] % 8 == 3);
        break;
    default:
        thing->how = piece[3] % 4;
        thing->number = number_of(piece);
        thing->text = text_of(own, piece);
    }
}

static void begin(void)
{
    (void)H5Eset_auto2(H5E_DEFAULT, NULL, NULL);
    small_file(small_result_write, said_take, &result);
    small_file(small_every_write, said_take, &every);
}

/* Some bytes under a seal that fits them, or one that does not: *must_refuse, where a file of the kind
   needs one. The reader looks no further at them. */
static void seal(uint8_t *image, const uint8_t *data, size_t size, bool strict, bool *must_refuse)
{
    memcpy(image, data, size);
    uf_result_seal_make((char *)image + size, image, size);
    *must_refuse = false;
    if (size > HEAD && (data[0] & 4u) != 0) {
        const size_t at = data[HEAD] % (size + SEAL);
        image[at] ^= (uint8_t)(1u << (data[0] >> 5));
        *must_refuse = strict || at < size || at >= size + SEAL - SEAL_SUM;
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    uint8_t image[MOST_BYTES + SEAL];
    bool must_refuse = false;
    if (result.n == 0) {
        begin();
    }
    if (size < HEAD || size > MOST_BYTES) {
        return -1;
    }
    const bool of_every = (data[0] & 1u) != 0;
    said_now = of_every ? &every : &result;
    memcpy(kept, said_now->things, said_now->n * sizeof kept[0]);
    said_unknown = (struct said_thing){.name = "?", .kind = SAID_TEXT, .text = "?", .how = ALL};
    said_unknown_rest = data[1] & 16u ? data[1] & 15 : -1;
    if (!of_every && (data[1] & 32u) == 0) { /* most do without: half of the time */
        result.things[said_find(&result, "without_board")].gone = true;
    }
    for (size_t at = HEAD, n = 0; at + PIECE <= size; at += PIECE) {
        change(data + at, texts[n++]);
    }
    seal(image, data, size, of_every, &must_refuse);
    if (of_every) {
        small_every_read(image, size + SEAL, must_refuse);
    } else {
        small_result_read(image, size + SEAL, must_refuse, (data[0] & 0x1au) == 0x1au);
    }
    if (said_handles != 0) {
        __builtin_trap(); /* one was not given back */
    }
    memcpy(said_now->things, kept, said_now->n * sizeof kept[0]);
    said_now = NULL;
    return 0;
}

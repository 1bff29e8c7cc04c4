#ifndef UF_SITE_PRIVATE_H
#define UF_SITE_PRIVATE_H

/* What the files of the site reader share; for nobody else. */

#include "io/text/units.h"
#include "site_file.h"

#include <yaml.h>

#include <stdarg.h>

/* Where a value stands. line 0: it was given by --set. */
struct site_place {
    char path[128]; /* "ground[1].to" */
    int line, column;
};

struct site_reader;
struct site_key;

/* A kind of value. read turns a node into what target points at and returns true, or adds
   a fault and returns false. */
typedef bool site_read(struct site_reader *reader, const struct site_key *key,
                       const struct site_place *place, const yaml_node_t *node, void *target);
struct site_kind {
    const char *name; /* for people, such as "a date" */
    site_read *read;
    bool or_block; /* a mapping in its place is read as a block of keys */
};

extern const struct site_kind uf_site_block, uf_site_list; /* walked in site_yaml.c */
extern const struct site_kind uf_site_quantity, uf_site_quantities, uf_site_sheet, uf_site_sheets,
    uf_site_number, uf_site_count, uf_site_yes_no, uf_site_word, uf_site_text, uf_site_date,
    uf_site_price, uf_site_currency; /* site_values.c */
extern const struct site_kind uf_site_soil, uf_site_foam, uf_site_cover, uf_site_winter,
    uf_site_wheel, uf_site_fill_over, uf_site_fill_overs, uf_site_foams, uf_site_left_out,
    uf_site_anchors, uf_site_snow, uf_site_snow_depth, uf_site_letter,
    uf_site_profile; /* site_names.c */

/* A word of a fixed list and what it stands for; ended by NULL. */
struct site_word_row {
    const char *word;
    int value;
};

/* One row of the table of keys. "[]" in a path stands for any row of the list before it.
   Offsets count from the row of the innermost list, or from struct uf_site. */
struct site_key {
    const char *path;
    const struct site_kind *kind;
    const struct uf_measure *measure; /* of quantities */
    const char *unit;                 /* of low and high, and the one to suggest */
    double low, high;                 /* inclusive */
    const char *fallback;             /* default for people; uf_site_needed: must be given */
    const char *help;
    size_t offset;
    size_t room;                   /* bytes of a text, rows of a list */
    size_t row_size, count_offset; /* lists */
    const struct site_word_row *words;
    bool not_yet; /* belongs to work that is not built */
};

#define SITE_NO_OFFSET ((size_t)-1)

extern const char uf_site_needed[]; /* fallback of a key its block cannot do without */
extern const char
    uf_site_own_default[]; /* fallback of a key whose default an init function fills */
extern const struct site_key uf_site_keys[];
extern const size_t uf_site_keys_count;

/* Words of the works' tables; site_works.c. */
extern const struct site_word_row uf_site_works_swell_words[], uf_site_works_grading_words[],
    uf_site_works_reaction_words[], uf_site_works_compaction_words[], uf_site_works_bond_words[];
extern const struct site_word_row uf_site_observed_kinds[]; /* site_observed.c */

/* Keys of which a block takes at most one, or exactly one. */
struct site_group {
    const char *block;    /* path of the block, as in the table */
    const char *names[5]; /* ended by NULL */
    bool needed;
};
extern const struct site_group uf_site_groups[];
extern const size_t uf_site_groups_count;

/* A key that was given and not null. */
struct site_seen {
    struct site_place place;
    const struct site_key *key;
};

/* The state of one reading. */
struct site_reader {
    const char *name; /* of the file, for messages */
    yaml_document_t document;
    int first_set_node; /* nodes from here on came by --set */
    bool *visited;      /* [nodes + 1] */
    struct uf_site *site;
    struct uf_site_faults *faults;
    struct site_seen *seen;
    size_t n_seen;
    bool out_of_memory;
    bool no_units; /* the database of units could not be read */
    char no_units_text[200];
    char currency[8];
    enum uf_units units;
};

/* site_values.c: one quantity of a text, checked against the row; NAN and false after a fault. */
bool uf_site_quantity_of(struct site_reader *reader, const struct site_key *key,
                         const struct site_place *place, const char *text, double *target);

/* site_values.c: a list of values, or one alone; each by `read` into target, row_size apart. */
bool uf_site_each(struct site_reader *reader, const struct site_key *key,
                  const struct site_place *place, const yaml_node_t *node, void *target,
                  site_read *read);

/* site_yaml.c */

/* Adds a fault; what is a printf format. */
void uf_site_blame(struct site_reader *reader, const struct site_place *place, const char *allowed,
                   const char *what, ...) __attribute__((format(printf, 4, 5)));

/* The same in sentences whose numbers keep their kind. */
void uf_site_blame_parts(struct site_reader *reader, const struct site_place *place,
                         const struct uf_message *what, const struct uf_message *allowed);

/* Text of a scalar node, or NULL after adding a fault. */
const char *uf_site_scalar(struct site_reader *reader, const struct site_place *place,
                           const yaml_node_t *node);

/* Place of a node below a path: its own line, or none for a node of --set. */
struct site_place uf_site_place_of(const struct site_reader *reader, const yaml_node_t *node,
                                   const char *path);

/* Steps into a node, once. false after a fault for one that was reached before (an
   alias). A tag is a fault too, but what it stands before is read all the same: so that
   nothing seems to be missing beside it. */
bool uf_site_enter(struct site_reader *reader, const struct site_place *place, int id);

/* Is the node nothing: an empty scalar, "~", "null", {} or []? */
bool uf_site_is_null(const yaml_node_t *node);

/* Reads the whole tree into reader->site, adding what is wrong; false when there are no keys. */
bool uf_site_walk(struct site_reader *reader);

/* The row of a path with [] in it, or NULL. */
const struct site_key *uf_site_find_key(const char *pattern);

/* site_seen.c: notes that a key was given. */
void uf_site_note(struct site_reader *reader, const struct site_key *key,
                  const struct site_place *place);

/* What was given at this exact path, or NULL. */
const struct site_seen *uf_site_given(const struct site_reader *reader, const char *path);

/* Place of the path or of the nearest block above it that was given; line 1 for none. */
struct site_place uf_site_nearest_place(const struct site_reader *reader, const char *path);

/* site_default.c: the default of a key as text, "" for none; text has room for size bytes, 48 do. */
const char *uf_site_default(char *text, size_t size, const struct site_key *key);

/* site_file.c: a site with nothing given, every default filled. name: of its file. */
void uf_site_init(struct uf_site *site, const char *name);

/* site_suggest.c: fills text with what to write in place of an unknown name in a block. */
void uf_site_suggest_key(char *text, size_t size, const char *block, const char *name);
void uf_site_suggest_word(char *text, size_t size, const char *word, const char *const *words);

/* site_units.c: the same for a bare number: itself with the unit in which it is a value to be expected there, in the
   units of the file where it can; else such a value. */
void uf_site_suggest_value(char *text, size_t size, const struct site_reader *reader,
                           const struct site_key *key, const char *number);

/* site_start.c: the value that the start file has at the path, NULL: none. */
const char *uf_site_start_value(const char *path, enum uf_units units);

/* The unit to write in US customary units where the table of keys has this one; the same
   text where it is one in both. */
const char *uf_site_unit(const char *unit, enum uf_units units);

/* site_set.c: grafts key=value onto the document. */
void uf_site_set(struct site_reader *reader, const char *text);

/* site_depth.c: line where blocks and lists stand too deep in one another, 0 where they do not. */
int uf_site_depth_excess(const char *text, size_t size);

/* Loads the one document of a text; false after adding a fault. */
bool uf_site_load(struct site_reader *reader, yaml_document_t *document, const char *text,
                  size_t size, const char *set_key);

/* site_rules.c: what only shows between values. */
void uf_site_rules(struct site_reader *reader);

/* site_observed.c: the same of `observed`; depths from crown and invert are resolved. */
void uf_site_observed_rules(struct site_reader *reader);

/* site_drawing.c: the same of `drawing`; the design's risers get their stations. */
void uf_site_drawing_rules(struct site_reader *reader);

#endif

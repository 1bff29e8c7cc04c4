#include "io/site/site_private.h"

#include <criterion/criterion.h>

#include <ctype.h>
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Every key that a message names exists: the string literals of solver, io and cli are read for
   words such as burial.cover, and those of messages also for single names such as above_crown. */

/* What opens a message: the words between these brackets are told to a person. */
static const char *const tellers[] = {"uf_fail",   "uf_fail_key", "uf_site_blame",
                                      "blame_key", "add_fault",   "note"};

/* Names with an underscore that are no keys: words of the site file, of options and functions. */
static const char *const others[] = {"three_dimensional", "surface_temperature"};

static int n_words;

/* The key of a limit stands for every row of its list: probes.least for probes[].least. */
static bool is_key(const char *path)
{
    char rows[160];
    const size_t n = strcspn(path, ".");
    (void)snprintf(rows, sizeof rows, "%.*s[]%s", (int)n, path, path + n);
    return uf_site_find_key(path) != NULL || uf_site_find_key(rows) != NULL;
}

/* Is the name the last part of a key, or a word that some key takes? */
static bool is_name(const char *name)
{
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        const struct site_key *key = &uf_site_keys[i];
        const char *dot = strrchr(key->path, '.');
        if (strcmp(dot != NULL ? dot + 1 : key->path, name) == 0) {
            return true;
        }
        for (size_t w = 0; key->words != NULL && key->words[w].word != NULL; w++) {
            if (strcmp(key->words[w].word, name) == 0) {
                return true;
            }
        }
    }
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        if (strcmp(others[i], name) == 0) {
            return true;
        }
    }
    return false;
}

/* "probes[%zu].depth" as the table has it, "probes[].depth"; returns what follows the word. */
static const char *take_word(char *word, size_t size, const char *text)
{
    size_t n = 0;
    while (n + 1 < size && (islower((unsigned char)*text) != 0 || *text == '_' || *text == '.' ||
                            *text == '[' || isdigit((unsigned char)*text) != 0)) {
        word[n++] = *text++;
        if (word[n - 1] == '[') {
            const char *close = strchr(text, ']');
            text = close != NULL ? close + 1 : text;
            word[n++] = ']';
        }
    }
    while (n > 0 && word[n - 1] == '.') {
        n--;
    }
    word[n] = '\0';
    return text;
}

/* A word with a dot counts where its first part is a block; a file of that name does not, nor what
   keys of rows begin with. */
static bool is_path(const char *word)
{
    char block[64];
    const size_t n = strlen(word);
    if (n > 2 && strcmp(word + n - 2, "[]") == 0) {
        return false;
    }
    const char *end = word + strcspn(word, ".");
    (void)snprintf(block, sizeof block, "%.*s", (int)(end - word), word);
    char *rows = strstr(block, "[]");
    if (rows != NULL) {
        *rows = '\0';
    }
    return *end == '.' && is_key(block) && strcmp(end, ".yaml") != 0 && strcmp(end, ".h") != 0;
}

/* A bare word outside a message is some other key, of a table or of JSON, but in the site reader. */
static void check_literal(const char *file, const char *text, bool message)
{
    if (strchr(text, ' ') == NULL && !message && strncmp(file, "io/site", 7) != 0) {
        return;
    }
    while (*text != '\0') {
        char word[128];
        const char *start = text;
        if (islower((unsigned char)*text) == 0) {
            const bool code = isalnum((unsigned char)*text) != 0 || strchr("%_-.`", *text) != NULL;
            text++;
            while (code && (isalnum((unsigned char)*text) != 0 || *text == '_')) {
                text++;
            }
            continue;
        }
        text = take_word(word, sizeof word, text);
        text += text == start;
        if (is_path(word)) {
            n_words++;
            cr_expect(is_key(word), "%s names %s", file, word);
        } else if (message && strchr(word, '_') != NULL && strchr(word, '.') == NULL) {
            n_words++;
            cr_expect(is_name(word), "%s names %s", file, word);
        }
    }
}

static bool is_teller(const char *word, size_t n)
{
    for (size_t i = 0; i < sizeof tellers / sizeof tellers[0]; i++) {
        if (strlen(tellers[i]) == n && strncmp(word, tellers[i], n) == 0) {
            return true;
        }
    }
    return false;
}

/* One literal and those that follow it with nothing between. */
static const char *take_literal(char *text, size_t size, const char *c)
{
    size_t n = 0;
    while (*c == '"') {
        for (c++; *c != '"' && *c != '\0'; c++) {
            if (*c == '\\') {
                c++;
                text[n] = ' ';
            } else {
                text[n] = *c;
            }
            n += n + 1 < size;
        }
        const char *next = c + 1 + strspn(c + 1, " \n\t");
        c = *next == '"' ? next : c + 1;
    }
    text[n] = '\0';
    return c;
}

/* Past a comment or a character, or NULL where neither begins. */
static const char *skip(const char *c)
{
    if (c[0] == '/' && c[1] == '*') {
        const char *end = strstr(c, "*/");
        return end != NULL ? end + 2 : c + strlen(c);
    }
    if (c[0] == '\'') {
        return c + (c[1] == '\\' ? 4 : 3);
    }
    return NULL;
}

static void check_source(const char *file, const char *c)
{
    static char text[20000];
    int depth = 0;
    int told_at = -1; /* depth of brackets outside the message */
    while (*c != '\0') {
        const char *after = skip(c);
        if (after != NULL) {
            c = after;
        } else if (*c == '"') {
            c = take_literal(text, sizeof text, c);
            check_literal(file, text, told_at >= 0);
        } else if (isalpha((unsigned char)*c) != 0 || *c == '_') {
            const char *word = c;
            while (isalnum((unsigned char)*c) != 0 || *c == '_') {
                c++;
            }
            const bool called = *c == '(';
            told_at =
                told_at < 0 && called && is_teller(word, (size_t)(c - word)) ? depth : told_at;
        } else {
            depth += (*c == '(') - (*c == ')');
            told_at = *c == ')' && depth <= told_at ? -1 : told_at;
            c++;
        }
    }
}

static void check_files(const char *pattern)
{
    static char text[200000];
    glob_t files;
    cr_assert(glob(pattern, 0, NULL, &files) == 0, "%s", pattern);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        FILE *in = fopen(files.gl_pathv[i], "r");
        cr_assert(in != NULL);
        const size_t n = fread(text, 1, sizeof text - 1, in);
        cr_assert(n < sizeof text - 1);
        text[n] = '\0';
        (void)fclose(in);
        check_source(files.gl_pathv[i] + strlen(UF_SOURCE_DIR) + 1, text);
    }
    globfree(&files);
}

Test(site_keys_named, every_key_that_a_message_names_exists)
{
    check_files(UF_SOURCE_DIR "/solver/*/*.c");
    check_files(UF_SOURCE_DIR "/io/*/*.c");
    check_files(UF_SOURCE_DIR "/cli/*.c");
    check_files(UF_SOURCE_DIR "/cli/*/*.c");
    cr_expect(n_words > 300, "%d words only: are the files read?", n_words);
}

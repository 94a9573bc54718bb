/* own.c - a rule set of the user's own, built from the lines of an INI table.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "rules/ruleset.h"

enum { OWN_ROWS = 64, OWN_BUNDLES = 16 };

/* A set under construction. It starts from the cautious side: a fuse never
 * above the ampacity, no limits of drop. */
struct own_rules {
    struct arena *arena;
    const char *file;
    struct diag_list *diags;
    struct wiring_rules rules;
    struct ampacity_row rows[OWN_ROWS];
    struct bundle_row bundles[OWN_BUNDLES];
    int failed;
};

/* One faulty line; the set is refused in the end, and reading goes on so that all faults are told at once. */
static enum status own_error(struct own_rules *own, const char *section, const char *key, int line,
                             const char *message, const char *hint)
{
    own->failed = 1;
    diag_add(own->diags, &(struct diag){ .severity = DIAG_ERROR,
                                         .file = own->file,
                                         .line = line,
                                         .section = section,
                                         .key = key,
                                         .message = message,
                                         .hint = hint });
    return STATUS_REFUSED;
}

struct own_rules *own_rules_new(struct arena *arena, const char *file, struct diag_list *diags)
{
    struct own_rules *own = arena_zero(arena, sizeof *own);

    if (!own)
        return NULL;
    own->arena = arena;
    own->file = file;
    own->diags = diags;
    own->rules = (struct wiring_rules){
        .name = "own",
        .title = "own table",
        .edition = file,
        .scope = "the user's own choice",
        .series = AREA_METRIC,
        .ampacity = own->rows,
        .bundles = own->bundles,
        .ambient_c = 30,
        .engine_ambient_c = 50,
        .fuse_low = FUSE_NOT_ABOVE,
        .fuse_high = FUSE_NOT_ABOVE,
        .fuse_multiple = 1,
        .drop_formula = "E = constant x I x L / S, L in metres out and back",
    };
    own->rules.ampacity_cite = own->rules.engine_cite = own->rules.bundle_cite = own->rules.drop_cite =
        own->rules.drop_normal_cite = own->rules.drop_critical_cite = own->rules.smallest_cite =
            own->rules.fuse_cite = own->rules.distance_cite = own->rules.breaking_cite =
                (struct cite){ file, NULL, KNOWN_USER };
    return own;
}

/* A number followed by exactly that unit (or nothing else where unit is ""); percent gives a share. */
static int number_of(const char *text, const char *unit, double *value)
{
    char *end;
    double v = strtod(text, &end);

    if (end == text || !isfinite(v) || v < 0)
        return 0;
    if (!span_is(span_trim(span_of(end)), unit))
        return 0;
    *value = strcmp(unit, "%") == 0 ? v / 100 : v;
    return 1;
}

/* A key of [set] that is a number: its unit, where it goes, and what the typed number is multiplied by. */
struct own_key {
    const char *name, *unit;
    size_t offset;
    double scale;
};

#define AT(field) offsetof(struct wiring_rules, field)
static const struct own_key keys[] = {
    { "ambient", "C", AT(ambient_c), 1 },
    { "engine_ambient", "C", AT(engine_ambient_c), 1 },
    { "drop_constant", "ohm mm2/m", AT(drop_constant), 1 },
    { "drop_limit", "%", AT(drop_normal), 1 },
    { "critical_drop_limit", "%", AT(drop_critical), 1 },
    { "smallest", "mm2", AT(smallest_single_m2), 1e-6 },
    { "smallest_sheathed", "mm2", AT(smallest_sheathed_m2), 1e-6 },
    { "fuse_multiple", "%", AT(fuse_multiple), 1 },
    { "fuse_distance", "m", AT(distances[0].limit_m), 1 },
    { "fuse_distance_sheathed", "m", AT(distances[1].limit_m), 1 },
    { "charge_distance", "m", AT(charge_distance_m), 1 },
};
#undef AT

/* 1 where the key is one of the texts. Lists of critical circuits are kept as typed, bars between. */
static int set_text(struct own_rules *own, const char *key, const char *value)
{
    const char *copy = arena_copy(own->arena, value, strlen(value));

    if (strcmp(key, "name") == 0)
        own->rules.title = copy;
    else if (strcmp(key, "edition") == 0)
        own->rules.edition = copy;
    else if (strcmp(key, "critical") == 0)
        own->rules.critical_words = copy;
    else
        return 0;
    return 1;
}

/* The words stand in the order of enum fuse_rule. */
static int set_fuse_rule(struct own_rules *own, const char *value)
{
    static const char *const words[] = { "not above", "next standard", "within multiple" };

    for (int i = 0; i < 3; i++)
        if (strcmp(value, words[i]) == 0) {
            own->rules.fuse_low = own->rules.fuse_high = (enum fuse_rule)i;
            return 1;
        }
    return 0;
}

/* The words stand in the order of enum breaking_rule. */
static int set_breaking(struct own_rules *own, const char *value)
{
    static const char *const words[] = { "backed up", "at place", "not ruled" };

    for (int i = 0; i < 3; i++)
        if (strcmp(value, words[i]) == 0) {
            own->rules.breaking = (enum breaking_rule)i;
            return 1;
        }
    return 0;
}

/* KEY = VALUE under [set]; the second distance of a set is always that of a sheathed conductor. */
static enum status set_line(struct own_rules *own, const char *key, const char *value, int line)
{
    if (set_text(own, key, value))
        return STATUS_OK;
    if (strcmp(key, "feeders_critical") == 0) {
        own->rules.feeders_critical = strcmp(value, "yes") == 0;
        return STATUS_OK;
    }
    if (strcmp(key, "fuse_rule") == 0)
        return set_fuse_rule(own, value) ? STATUS_OK
                                         : own_error(own, "set", key, line, "unknown rule",
                                                     "write not above, next standard or within multiple");
    if (strcmp(key, "breaking") == 0)
        return set_breaking(own, value) ? STATUS_OK
                                        : own_error(own, "set", key, line, "unknown rule",
                                                    "write backed up, at place or not ruled");
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (strcmp(keys[i].name, key) == 0) {
            double v;

            if (!number_of(value, keys[i].unit, &v))
                return own_error(own, "set", key, line, "not a number with its unit", keys[i].unit);
            *(double *)(void *)((char *)&own->rules + keys[i].offset) = v * keys[i].scale;
            own->rules.distances[1].needs_sheath = 1;
            return STATUS_OK;
        }
    return own_error(own, "set", key, line, "unknown key", NULL);
}

/*
 * Column of an insulation rating [C], made where it is new; columns come in rising order. A
 * new one starts with the general factor for engine spaces (ambient_factor), which [engine]
 * may replace. Negative: no room or order.
 */
static int own_column(struct own_rules *own, double rating)
{
    size_t n = own->rules.rating_count;

    for (size_t i = 0; i < n; i++)
        if (own->rules.ratings_c[i] == rating)
            return (int)i;
    if (n == WIRING_RATINGS || (n > 0 && own->rules.ratings_c[n - 1] > rating))
        return -1;
    own->rules.ratings_c[n] = rating;
    own->rules.engine_factor[n] = ambient_factor(rating, own->rules.engine_ambient_c, own->rules.ambient_c);
    own->rules.rating_count++;
    return (int)n;
}

/* Row of an area, put in its place where it is new; NULL: no room. */
static struct ampacity_row *own_row(struct own_rules *own, double area_m2, const char *label)
{
    size_t n = own->rules.ampacity_count, i = 0;

    while (i < n && own->rows[i].area_m2 < area_m2)
        i++;
    if (i < n && own->rows[i].area_m2 == area_m2)
        return &own->rows[i];
    if (n == OWN_ROWS)
        return NULL;
    memmove(&own->rows[i + 1], &own->rows[i], (n - i) * sizeof *own->rows);
    own->rows[i] =
        (struct ampacity_row){ .label = arena_copy(own->arena, label, strlen(label)), .area_m2 = area_m2 };
    own->rules.ampacity_count++;
    return &own->rows[i];
}

/* "35 mm2" or "2/0 AWG" to square metres; negative: neither. */
static double area_of(struct own_rules *own, const char *text, int *awg)
{
    double mm2;
    struct span rest = span_of(text), label;

    if (number_of(text, "mm2", &mm2))
        return mm2 * 1e-6;
    if (span_split(&rest, ' ', &label) && span_is_word(span_trim(rest), "AWG")) {
        const char *name = arena_copy(own->arena, label.at, label.length);
        const struct conductor_size *size = name ? conductor_size_find(AREA_AWG, name) : NULL;

        *awg = 1;
        return size ? size->area_m2 : -1;
    }
    return -1;
}

/* AREA = AMPS under [ampacity RATING]. Columns come in rising order, sizes in any;
 * one AWG size makes the series AWG. */
static enum status ampacity_line(struct own_rules *own, const char *section, const char *key,
                                 const char *value, int line)
{
    double rating, amps;
    int awg = 0, column;
    double area = area_of(own, key, &awg);
    struct ampacity_row *row;

    if (!number_of(section + strlen("ampacity"), "", &rating) || (column = own_column(own, rating)) < 0)
        return own_error(own, section, key, line, "not an insulation rating, or not in rising order",
                         "write [ampacity 60], then [ampacity 90]; at most eight");
    if (area <= 0)
        return own_error(own, section, key, line, "not an area",
                         "write 35 mm2 or 2/0 AWG before the equals sign");
    if (!number_of(value, "A", &amps) || amps <= 0)
        return own_error(own, section, key, line, "not a current", "write 210 A");
    if (!(row = own_row(own, area, key)))
        return own_error(own, section, key, line, "too many sizes", "at most 64");
    row->amps[column] = amps;
    if (awg)
        own->rules.series = AREA_AWG;
    return STATUS_OK;
}

/* RATING = FACTOR under [engine], of a column that the table has already. */
static enum status engine_line(struct own_rules *own, const char *key, const char *value, int line)
{
    double rating, factor;
    int column = -1;

    if (number_of(key, "", &rating))
        column = own_column(own, rating);
    if (column < 0 || !number_of(value, "%", &factor))
        return own_error(own, "engine", key, line, "not a factor for a rating of the table",
                         "write 105 = 85 %");
    own->rules.engine_factor[column] = factor;
    return STATUS_OK;
}

/* "4..6 = 60 %", "3 = 70 %"; "25.. = 40 %" has no upper end, which is kept as 0. */
static enum status bundle_line(struct own_rules *own, const char *key, const char *value, int line)
{
    struct bundle_row row = { 0 };
    char *end;

    row.from = row.to = (double)strtol(key, &end, 10);
    if (strncmp(end, "..", 2) == 0) {
        const char *to = end + 2;

        row.to = (double)strtol(to, &end, 10);
    }
    if (*end || row.from < 1 || (row.to > 0 && row.to < row.from) || !number_of(value, "%", &row.factor) ||
        own->rules.bundle_count == OWN_BUNDLES)
        return own_error(own, "bundle", key, line, "not a number of conductors and a factor",
                         "write 4..6 = 60 %");
    own->bundles[own->rules.bundle_count++] = row;
    return STATUS_OK;
}

enum status own_rules_line(struct own_rules *own, const char *section, const char *key, const char *value,
                           int line)
{
    if (strcmp(section, "set") == 0)
        return set_line(own, key, value, line);
    if (strncmp(section, "ampacity ", 9) == 0)
        return ampacity_line(own, section, key, value, line);
    if (strcmp(section, "engine") == 0)
        return engine_line(own, key, value, line);
    if (strcmp(section, "bundle") == 0)
        return bundle_line(own, key, value, line);
    return own_error(own, section, key, line, "unknown section", "set, ampacity C, engine or bundle");
}

const struct wiring_rules *own_rules_finish(struct own_rules *own)
{
    if (!own->failed && own->rules.ampacity_count == 0)
        own_error(own, NULL, NULL, 0, "the table has no currents",
                  "add a section [ampacity 105] with 35 mm2 = 210 A");
    return own->failed ? NULL : &own->rules;
}

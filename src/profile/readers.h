/* readers.h - one value into its place in the boat.  Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_READERS_H
#define BD_READERS_H

#include "base/range.h"
#include "base/status.h"
#include "boat/boat.h"
#include "profile/keys.h"
#include "profile/lines.h"
#include "profile/values.h"

/* All that reading one profile needs to know. */
struct reading {
    struct arena *arena;
    struct diag_list *diags;
    const struct document *document;
    struct boat *boat;
    void **objects; /* per section of the document, what it describes; NULL: nothing known */
    struct assumption *assumptions;
    size_t assumption_count, assumption_room;
    enum status status; /* STATUS_NO_MEMORY or STATUS_OK */

    /* What is being read now. */
    const struct section *section;
    const struct entry *entry; /* NULL: a default */
    const struct key *key;
    const char *suffix; /* behind the point of the key, else NULL */
};

/* The object of a section of the present document; NULL: its head could not be read. */
void *reading_object(const struct reading *r, const struct section *section);

/* The object of that kind and exact name, NULL where there is none. */
void *reading_find(const struct reading *r, const char *kind, const char *name);

/* The name of that kind most like a misspelt one; NULL where none is near, or there
 * are too many errors to go on helping. */
const char *reading_nearest(const struct reading *r, const char *kind, const char *name);

/*
 * Notes what was taken for want of something better; texts are kept as they are. value as it would be typed.
 */
void reading_assume(struct reading *r, const char *section, const char *key, const char *value,
                    const char *why);

/* Gives a range its origin, line and text, from what is being read now. */
void reading_mark(const struct reading *r, struct range *range);

/* "flooded, agm, gel or lfp" of "flooded|agm|gel|lfp"; in the arena, NULL without memory. */
const char *choice_list(struct reading *r, const char *words);

/*
 * A range of one quantity, both ends within the bounds; whole numbers only where the present key says so.
 *
 *   bounds  as typed, "0..20 kW"; NULL: none
 *   out     set on success, with origin, line and text; [stored unit of quantity]
 *
 * 0: the cursor has the fault. What follows the value is left unread.
 */
int read_bounded(struct reading *r, struct cursor *c, enum quantity quantity, const char *bounds,
                 struct range *out);

/* A span of a day; one that ends when it begins is the whole day, and listed as taken so. 0: the cursor has
 * the fault. */
int read_span(struct reading *r, struct cursor *c, struct time_span *out);

/* Reads a value for the present key into its object: by the type of the row. 0: the cursor has the fault. */
int read_value(struct reading *r, struct cursor *c, void *object);

/*
 * The special ones, each for the key of its name. They read from c into the object of the section,
 * check that nothing is left over, and return 1; 0: the cursor has the fault. What a value may look
 * like stands in `form` of its row in keys.c.
 */
int read_latitude(struct reading *r, struct cursor *c, void *object);
int read_longitude(struct reading *r, struct cursor *c, void *object);
int read_utc_offset(struct reading *r, struct cursor *c, void *object);
int read_start(struct reading *r, struct cursor *c, void *object);
int read_climate(struct reading *r, struct cursor *c, void *object);
int read_weather(struct reading *r, struct cursor *c, void *object); /* weather.c */
int read_plan_days(struct reading *r, struct cursor *c, void *object);
int read_engine_runs(struct reading *r, struct cursor *c, void *object);
int read_shore_times(struct reading *r, struct cursor *c, void *object);
int read_generator_times(struct reading *r, struct cursor *c, void *object);
int read_quiet_hours(struct reading *r, struct cursor *c, void *object);
int read_block_capacity(struct reading *r, struct cursor *c, void *object);
int read_second_rating(struct reading *r, struct cursor *c, void *object);
int read_azimuth(struct reading *r, struct cursor *c, void *object);
int read_generator_fuel(struct reading *r, struct cursor *c, void *object);
int read_fed_by(struct reading *r, struct cursor *c, void *object);
int read_load_draw(struct reading *r, struct cursor *c, void *object);
int read_duty(struct reading *r, struct cursor *c, void *object);
int read_hours(struct reading *r, struct cursor *c, void *object);
int read_times(struct reading *r, struct cursor *c, void *object);
int read_uses(struct reading *r, struct cursor *c, void *object);
int read_surge(struct reading *r, struct cursor *c, void *object);
int read_area(struct reading *r, struct cursor *c, void *object);
int read_return_area(struct reading *r, struct cursor *c, void *object);
int read_fuse(struct reading *r, struct cursor *c, void *object);
int read_rest_volts(struct reading *r, struct cursor *c, void *object);
int read_rules_file(struct reading *r, struct cursor *c, void *object);
int read_rule_set(struct reading *r, struct cursor *c, void *object);

/* Items by comma; "none" or "off" is a list without items. Each item is read by `item` from a cursor of its
 * own. */
typedef int (*item_reader)(struct reading *r, struct cursor *c, void *item);
int read_list(struct reading *r, struct cursor *c, size_t size, item_reader item, void **items,
              size_t *count);

#endif

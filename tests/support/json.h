/* json.h - looks into what the program wrote as JSON.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_JSON_H
#define BD_TEST_JSON_H

#include <jansson.h>

/* Parses; fails the test where it is not JSON. Free with json_decref. */
json_t *json_of(const char *text);

/* Runs the program with --format json behind the arguments, wants exit 0, parses. */
json_t *json_run(const char *const *arguments);
#define JSON_RUN(...) json_run((const char *const[]){ __VA_ARGS__, NULL })

/* "summary.min_charge_percent", "days.0.kind"; fails the test, naming the path, where it leads nowhere. Borrowed. */
json_t *json_at(json_t *root, const char *path);
double number_at(json_t *root, const char *path); /* must be a number */
const char *text_at(json_t *root, const char *path); /* must be a string */

/* Every name, blank-separated, must be a member of the object at the path; "" is the root. */
void json_has(json_t *root, const char *path, const char *names);

#endif

/* json.c - looks into what the program wrote as JSON.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/json.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/run.h"
#include "support/test.h"

json_t *json_of(const char *text)
{
    json_error_t error;
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &error);

    if (!root)
        fail_msg("no JSON: line %d: %s in: %.200s", error.line, error.text, text);
    return root;
}

json_t *json_run(const char *const *arguments)
{
    const char *all[32] = { NULL };
    struct run run;
    size_t n = 0;
    json_t *root;

    while (arguments[n] && n < 28) {
        all[n] = arguments[n];
        n++;
    }
    all[n++] = "--format";
    all[n] = "json";
    run_program(&run, NULL, all);
    if (run.code != 0)
        fail_msg("%s %s: exit %d: %s", all[0], all[1], run.code, run.err);
    root = json_of(run.out);
    run_free(&run);
    return root;
}

/* One step down a path; NULL where there is none. */
static json_t *step(json_t *from, const char *name)
{
    if (isdigit((unsigned char)name[0]))
        return json_array_get(from, (size_t)strtoul(name, NULL, 10));
    return json_object_get(from, name);
}

json_t *json_at(json_t *root, const char *path)
{
    char copy[256], *rest = copy, *name;
    json_t *here = root;

    assert_true(strlen(path) < sizeof copy);
    strcpy(copy, path);
    while (*path && here && (name = strsep(&rest, ".")))
        here = step(here, name);
    if (!here)
        fail_msg("no %s in the JSON", path);
    return here;
}

double number_at(json_t *root, const char *path)
{
    json_t *value = json_at(root, path);

    if (!json_is_number(value))
        fail_msg("%s is no number", path);
    return json_number_value(value);
}

const char *text_at(json_t *root, const char *path)
{
    json_t *value = json_at(root, path);

    if (!json_is_string(value))
        fail_msg("%s is no text", path);
    return json_string_value(value);
}

void json_has(json_t *root, const char *path, const char *names)
{
    json_t *object = json_at(root, path);
    char *copy = strdup(names), *rest = copy, *name;

    assert_non_null(copy);
    while ((name = strsep(&rest, " ")))
        if (!json_object_get(object, name))
            fail_msg("no %s in %s", name, *path ? path : "the JSON");
    free(copy);
}

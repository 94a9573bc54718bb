/* devtools.h - a browser without a window, led through the Chrome DevTools Protocol.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_DEVTOOLS_H
#define BD_TEST_DEVTOOLS_H

#include <jansson.h>

struct devtools;

/* Starts the browser that the variable BROWSER names, with no way to any network; fails the test where it cannot. */
struct devtools *devtools_start(void);
void devtools_stop(struct devtools *tools);

/* One command of the protocol to the page that is open; params are taken over, NULL for none. The result is the caller's to
 * decref; an answer that is an error fails the test. */
json_t *devtools_call(struct devtools *tools, const char *method, json_t *params);

/* Opens a page in a fresh tab and waits until it is loaded. Only then it is `width` by `height` CSS pixels large. */
void devtools_open(struct devtools *tools, const char *path, int width, int height);

/* The value of an expression of JavaScript, evaluated in the page that is open. */
json_t *devtools_value(struct devtools *tools, const char *expression);

/* What the page told since it was opened: an array of {method, params}. Borrowed. */
const json_t *devtools_events(const struct devtools *tools);

/* Writes base64 text, as pictures and documents come in, to a file. */
void devtools_save(const char *base64, const char *path);

#endif

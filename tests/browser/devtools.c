/* devtools.c - a browser without a window, led through the Chrome DevTools Protocol.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "browser/devtools.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "support/run.h"
#include "support/test.h"

enum { PATIENCE_MS = 60000, IN = 3, OUT = 4 }; /* descriptors that the protocol fixes, as the browser sees them */

struct devtools {
    pid_t browser;
    int to, from;
    char *text; /* read and not yet used */
    size_t length, room;
    int number; /* of the last command */
    char *session, *folder;
    json_t *events;
};

/* ---- the browser ---- */

/* In the child, after fork: never returns. */
static void become(const char *program, const char *folder, int in, int out)
{
    char home[600];
    int nowhere = open("/dev/null", O_RDWR);

    snprintf(home, sizeof home, "--user-data-dir=%s", folder);
    in = fcntl(in, F_DUPFD, OUT + 1); /* out of the way of each other */
    out = fcntl(out, F_DUPFD, OUT + 1);
    if (nowhere < 0 || in < 0 || out < 0 || dup2(in, IN) < 0 || dup2(out, OUT) < 0)
        _exit(126);
    dup2(nowhere, 0);
    dup2(nowhere, 1);
    dup2(nowhere, 2);
    closefrom(OUT + 1);
    /* Its sandbox needs what containers and root do not give; the pages are our own. No name leads anywhere. */
    execlp(program, program, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
           "--disable-extensions", "--host-resolver-rules=MAP * ~NOTFOUND", "--remote-debugging-pipe", home, "about:blank", NULL);
    _exit(127);
}

struct devtools *devtools_start(void)
{
    struct devtools *tools = calloc(1, sizeof *tools);
    const char *program = getenv("BROWSER");
    int commands[2], answers[2];

    assert_non_null(tools);
    if (!program || !*program)
        fail_msg("the variable BROWSER names no browser");
    tools->folder = folder_new();
    assert_int_equal(pipe2(commands, O_CLOEXEC), 0);
    assert_int_equal(pipe2(answers, O_CLOEXEC), 0);
    assert_true((tools->browser = fork()) >= 0);
    if (tools->browser == 0)
        become(program, tools->folder, commands[0], answers[1]);
    close(commands[0]);
    close(answers[1]);
    tools->to = commands[1];
    tools->from = answers[0];
    return tools;
}

/* Some of its processes outlive the first by a moment, and write. */
static void folder_clear(char *folder)
{
    char command[700];

    snprintf(command, sizeof command, "for i in 1 2 3 4 5 6 7 8 9; do rm -rf '%s' && exit; sleep 0.1; done", folder);
    if (system(command) != 0)
        fail_msg("%s cannot be removed", folder);
    free(folder);
}

void devtools_stop(struct devtools *tools)
{
    kill(tools->browser, SIGTERM); /* works where it answers no more, too */
    close(tools->to);
    close(tools->from);
    while (waitpid(tools->browser, NULL, 0) < 0)
        assert_int_equal(errno, EINTR);
    folder_clear(tools->folder);
    json_decref(tools->events);
    free(tools->session);
    free(tools->text);
    free(tools);
}

/* ---- messages: JSON, each ended by a NUL ---- */

static void message_send(struct devtools *tools, json_t *message)
{
    char *text = json_dumps(message, JSON_COMPACT);
    size_t length = text ? strlen(text) + 1 : 0;

    assert_non_null(text);
    for (size_t sent = 0; sent < length;) {
        ssize_t n = write(tools->to, text + sent, length - sent);

        assert_true(n > 0);
        sent += (size_t)n;
    }
    free(text);
    json_decref(message);
}

static void read_some(struct devtools *tools)
{
    struct pollfd waited = { .fd = tools->from, .events = POLLIN };
    ssize_t n;

    if (tools->room - tools->length < 65536) {
        tools->room = 2 * tools->room + 65536;
        tools->text = realloc(tools->text, tools->room);
        assert_non_null(tools->text);
    }
    if (poll(&waited, 1, PATIENCE_MS) != 1)
        fail_msg("the browser says nothing");
    n = read(tools->from, tools->text + tools->length, tools->room - tools->length);
    if (n <= 0)
        fail_msg("the browser is gone");
    tools->length += (size_t)n;
}

static json_t *message_next(struct devtools *tools)
{
    size_t looked = 0, used;
    json_t *message;
    char *end;

    while (!tools->length || !(end = memchr(tools->text + looked, '\0', tools->length - looked))) {
        looked = tools->length;
        read_some(tools);
    }
    message = json_loads(tools->text, 0, NULL);
    used = (size_t)(end - tools->text) + 1;
    memmove(tools->text, tools->text + used, tools->length -= used);
    assert_non_null(message);
    if (json_object_get(message, "method") && tools->events)
        json_array_append(tools->events, message);
    return message;
}

json_t *devtools_call(struct devtools *tools, const char *method, json_t *params)
{
    json_t *message = json_pack("{s:i, s:s, s:o*}", "id", ++tools->number, "method", method, "params", params), *result;

    assert_non_null(message);
    if (tools->session)
        json_object_set_new(message, "sessionId", json_string(tools->session));
    message_send(tools, message);
    while (json_integer_value(json_object_get(message = message_next(tools), "id")) != tools->number)
        json_decref(message);
    if (!(result = json_object_get(message, "result")))
        fail_msg("%s: %s", method, json_dumps(message, 0));
    json_incref(result);
    json_decref(message);
    return result;
}

/* ---- pages ---- */

static void wait_for(struct devtools *tools, const char *event)
{
    int seen = 0;

    while (!seen) {
        json_t *message = message_next(tools);
        const char *method = json_string_value(json_object_get(message, "method"));

        seen = method && strcmp(method, event) == 0;
        json_decref(message);
    }
}

static void tab_open(struct devtools *tools)
{
    json_t *tab, *attached;

    if (tools->session) /* the page before this one */
        json_decref(devtools_call(tools, "Page.close", NULL));
    free(tools->session);
    tools->session = NULL;
    tab = devtools_call(tools, "Target.createTarget", json_pack("{s:s}", "url", "about:blank"));
    attached = devtools_call(tools, "Target.attachToTarget",
                             json_pack("{s:O, s:b}", "targetId", json_object_get(tab, "targetId"), "flatten", 1));
    tools->session = strdup(json_string_value(json_object_get(attached, "sessionId")));
    json_decref(tab);
    json_decref(attached);
    json_decref(tools->events);
    tools->events = json_array();
}

void devtools_open(struct devtools *tools, const char *path, int width, int height)
{
    static const char *const watched[] = { "Page.enable", "Runtime.enable", "Log.enable", "Network.enable" };
    char real[PATH_MAX], url[PATH_MAX + 8];

    assert_non_null(realpath(path, real));
    snprintf(url, sizeof url, "file://%s", real);
    tab_open(tools);
    for (size_t i = 0; i < sizeof watched / sizeof watched[0]; i++)
        json_decref(devtools_call(tools, watched[i], NULL));
    json_decref(devtools_call(tools, "Emulation.setDeviceMetricsOverride",
                              json_pack("{s:i, s:i, s:i, s:b}", "width", width, "height", height, "deviceScaleFactor", 1,
                                        "mobile", width < 600)));
    json_decref(devtools_call(tools, "Page.navigate", json_pack("{s:s}", "url", url)));
    wait_for(tools, "Page.loadEventFired");
}

json_t *devtools_value(struct devtools *tools, const char *expression)
{
    json_t *answer = devtools_call(tools, "Runtime.evaluate",
                                   json_pack("{s:s, s:b}", "expression", expression, "returnByValue", 1));
    json_t *value = json_object_get(json_object_get(answer, "result"), "value");

    if (json_object_get(answer, "exceptionDetails") || !value)
        fail_msg("%s: %s", expression, json_dumps(answer, 0));
    json_incref(value);
    json_decref(answer);
    return value;
}

const json_t *devtools_events(const struct devtools *tools)
{
    return tools->events;
}

void devtools_save(const char *base64, const char *path)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    FILE *file = fopen(path, "wb");
    unsigned bits = 0, kept = 0;

    assert_non_null(file);
    for (const char *digit; *base64 && *base64 != '='; base64++) {
        assert_non_null(digit = strchr(digits, *base64));
        bits = bits << 6 | (unsigned)(digit - digits);
        if ((kept += 6) >= 8)
            fputc(bits >> (kept -= 8) & 0xFF, file);
    }
    assert_int_equal(fclose(file), 0);
}

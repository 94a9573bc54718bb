/* cmd_new.c - new: a profile to start from, as it is shipped or with a dozen answers in it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/command.h"
#include "cli/starter.h"
#include "cli/terminal.h"

/*
 * --ask walks through the questions below; the answer is put into the text of the starter
 * profile and the whole text is read again, so that what is refused is refused by the reader
 * of profiles, in its words, at once.
 */

/* One figure that --ask asks for, and where its answer goes. */
struct question {
    const char *section, *key;
    const char *asks;
    const char *unit; /* put behind a bare number; NULL: none is wanted */
};

static const struct question questions[] = {
    { "boat", "name", "What is she called", NULL },
    { "boat", "dc_voltage", "Nominal volts of the house bank: 12, 24 or 48", "V" },
    { "boat", "crew", "How many live on board", NULL },
    { "site", "name", "Where does she lie", NULL },
    { "site", "latitude", "Latitude, such as 38.6 N", NULL },
    { "site", "longitude", "Longitude, such as 20.7 E", NULL },
    { "site", "utc_offset", "Hours that local time is ahead of UTC, such as +3 h", "h" },
    { "bank house", "chemistry", "House bank: flooded, agm, gel or lfp", NULL },
    { "bank house", "block_capacity", "Capacity on the label of one 12 V block, such as 110 Ah at 20 h",
      "Ah at 20 h" },
    { "bank house", "parallel", "How many such blocks (or strings of them) side by side", NULL },
    { "solar davits", "power", "Power of one solar panel", "W" },
    { "solar davits", "count", "How many panels", NULL },
    { "alternator alternator-port", "rated_current", "Current on the label of an alternator", "A" },
    { "inverter inverter", "power", "Continuous power of the inverter", "W" },
};

enum { ANSWER_SIZE = 128, BLOCK_V = 12 };

/* Takes *text. 0, and *text NULL, without memory. */
static int put(char **text, const char *section, const char *key, const char *value)
{
    char *with = *text ? starter_with(*text, section, key, value) : NULL;

    free(*text);
    *text = with;
    return with != NULL;
}

/* A number with its unit as typed text; 0 without memory. */
static int put_number(char **text, const char *section, const char *key, double number, const char *unit)
{
    char value[64];

    snprintf(value, sizeof value, "%g%s", number, unit);
    return put(text, section, key, value);
}

/* What goes with an answer: series and cut-out with the volts, floor with the chemistry, surge with the
 * power. The shipped figures scaled. */
static int put_what_follows(char **text, const struct question *question, const char *answer)
{
    char *unit;
    double number = strtod(answer, &unit);

    if (strcmp(question->key, "dc_voltage") == 0)
        return put_number(text, "bank house", "series", number / BLOCK_V, "") &&
               put_number(text, "bank start", "series", number / BLOCK_V, "") &&
               put_number(text, "inverter inverter", "cut_out", 10.8 * number / BLOCK_V, " V");
    if (strcmp(question->key, "chemistry") == 0)
        return put(text, question->section, "floor", strcmp(answer, "lfp") == 0 ? "20 %" : "50 %");
    if (strcmp(question->key, "rated_current") == 0)
        return put(text, "alternator alternator-starboard", "rated_current", answer);
    if (strcmp(question->section, "inverter inverter") == 0)
        return put_number(text, question->section, "surge_power", 2 * number, unit);
    return 1;
}

/* The text with the answer in it; NULL without memory. */
static char *answered(const char *text, const struct question *question, const char *answer)
{
    char *with = strdup(text);

    if (with && put(&with, question->section, question->key, answer))
        put_what_follows(&with, question, answer);
    return with;
}

/* Says what the reader of profiles has against it. 1: nothing. */
static int reads(const char *text)
{
    struct bd_diag_style errors = { DIAG_ERROR, 0 };
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;
    int right = diags && bd_profile_read_text(&profile, "answer", text, strlen(text), diags) == STATUS_OK;

    if (!right && diags)
        bd_diags_print(stderr, diags, &errors);
    bd_profile_free(profile);
    bd_diags_free(diags);
    return right;
}

/* One line from standard input without blanks at its ends; 0 at its end. */
static int line_read(char answer[ANSWER_SIZE])
{
    size_t length;
    char *start;

    if (!fgets(answer, ANSWER_SIZE, stdin))
        return 0;
    if (!strchr(answer, '\n')) /* what does not fit is not the answer to the next question */
        for (int c = getchar(); c != '\n' && c != EOF; c = getchar())
            ;
    start = answer + strspn(answer, " \t");
    memmove(answer, start, strlen(start) + 1);
    for (length = strlen(answer); length && strchr(" \t\r\n", answer[length - 1]);)
        answer[--length] = '\0';
    return 1;
}

/* A bare number gets the unit that was asked for. */
static void unit_add(char answer[ANSWER_SIZE], const char *unit)
{
    size_t length = strlen(answer);

    if (unit && strspn(answer, "+-0123456789.") == length)
        snprintf(answer + length, ANSWER_SIZE - length, " %s", unit);
}

/* Asks until the answer can be read, or takes what stands there. *text becomes NULL without memory. 0: no
 * more input. */
static int ask(char **text, const struct question *question)
{
    char answer[ANSWER_SIZE], standing[ANSWER_SIZE], *with;

    for (;;) {
        fprintf(stderr, "%s [%s]: ", question->asks,
                starter_value(*text, question->section, question->key, standing));
        if (!line_read(answer))
            return 0;
        if (!*answer)
            return 1;
        unit_add(answer, question->unit);
        with = answered(*text, question, answer);
        if (!with || reads(with)) {
            free(*text);
            *text = with;
            return with != NULL;
        }
        free(with);
    }
}

/* What to do with what was written. */
static void say_next(const struct options *options)
{
    if (options->quiet)
        return;
    if (options->ask)
        fputs("That is all. Take out of the file what she does not have, put in what she has; then\n"
              "  bridgedeck check FILE                  what is wrong with it, and what was assumed\n"
              "  bridgedeck week FILE --plot week.svg   her week, simulated and drawn\n",
              stderr);
    if (terminal_is(stdout))
        fprintf(stderr, "To keep it in a file: bridgedeck new%s > boat.ini\n", options->ask ? " --ask" : "");
}

static enum status run(struct job *job)
{
    job->text = strdup(starter_text);
    if (job->options->ask && job->text)
        fputs("Return alone keeps what stands in brackets. Everything can be changed in the file later.\n",
              stderr);
    for (size_t i = 0; job->options->ask && job->text && i < sizeof questions / sizeof questions[0]; i++)
        if (!ask(&job->text, questions + i))
            break;
    if (job->text)
        say_next(job->options);
    return job->text ? STATUS_OK : STATUS_NO_MEMORY;
}

const struct command command_new = { .name = "new",
                                     .argument = "",
                                     .summary = "a profile to start from: bridgedeck new > boat.ini",
                                     .text = "Write a small profile with a comment on every part of it, to "
                                             "be filled in with your own figures. --ask "
                                             "asks for a dozen of them first, on standard error.",
                                     .takes = TAKES_HELP | TAKES_ASK,
                                     .run = run };

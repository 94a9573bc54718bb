/* test_cables_sheet.c - cables with --sheet and --units, as a user types them, on every shipped boat.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>
#include <string.h>

#include "bridgedeck.h"
#include "support/json.h"
#include "support/run.h"

static const char boat[] = "profiles/cruiser-12v-agm.ini";

static void wants(const struct run *run, int code, const char *out, const char *err)
{
    if (run->code != code || (out && !strstr(run->out, out)) || (err && !strstr(run->err, err)))
        fail_msg("exit %d, wanted %d: %.300s%s", run->code, code, run->out, run->err);
}

struct usage_row {
    const char *sheets, *format, *units;
    int code;
    const char *says;
};

static const struct usage_row usages[] = {
    { "cabels", "text", "metric", 2, "there is no sheet \"cabels\"; did you mean cables?" },
    { "cables,fuse", "text", "metric", 2, "did you mean fuses?" },
    { "cables,", "text", "metric", 2, "there is no sheet \"\"" },
    { "", "text", "metric", 2, "there is no sheet \"\"" },
    { "cables,fuses", "csv", "metric", 2, "csv is one table, so name one sheet" },
    { "cables", "text", "imperial", 2, "it is metric or us" },
    { "cables,fuses", "json", "us", 0, NULL },
    { "bill", "csv", "us", 0, NULL },
};

TEST(sheets_are_named_right_or_refused)
{
    for (size_t i = 0; i < sizeof usages / sizeof *usages; i++) {
        struct run run = { 0 };

        RUN(&run, "cables", boat, "--quiet", "--sheet", usages[i].sheets, "--format", usages[i].format, "--units",
            usages[i].units);
        wants(&run, usages[i].code, NULL, usages[i].says);
        run_free(&run);
    }
}

TEST(every_sheet_of_every_boat)
{
    static const char *const boats[] = { boat, "profiles/induction-24v-lfp.ini", "profiles/simple-12v-flooded.ini",
                                         "profiles/as-found.ini", "profiles/starter.ini" };
    static const char *const formats[] = { "text", "csv", "json", "html" };

    for (size_t b = 0; b < sizeof boats / sizeof *boats; b++)
        for (size_t s = 0; bd_cables_sheet(s); s++)
            for (size_t f = 0; f < sizeof formats / sizeof *formats; f++) {
                struct run run = { 0 };

                RUN(&run, "cables", boats[b], "--quiet", "--sheet", bd_cables_sheet(s), "--format", formats[f]);
                wants(&run, 0, NULL, NULL);
                if (f == 2)
                    json_decref(json_of(run.out));
                for (const char *line = run.out; f == 0 && *line;) {
                    size_t bytes = strcspn(line, "\n"), columns = 0;

                    for (size_t i = 0; i < bytes; i++)
                        columns += ((unsigned char)line[i] & 0xC0) != 0x80;
                    if (columns > 100)
                        fail_msg("%s, %s: %zu columns: %.*s", boats[b], bd_cables_sheet(s), columns, (int)bytes, line);
                    line += bytes + (line[bytes] == '\n');
                }
                run_free(&run);
            }
}

/* Without --sheet csv is what it always was: the table of cables. */
TEST(csv_is_the_cables_unless_another_is_named)
{
    struct run plain = { 0 }, named = { 0 }, labels = { 0 };

    RUN(&plain, "cables", boat, "--quiet", "--format", "csv");
    RUN(&named, "cables", boat, "--quiet", "--format", "csv", "--sheet", "cables");
    RUN(&labels, "cables", boat, "--quiet", "--format", "csv", "--sheet", "labels");
    assert_string_equal(plain.out, named.out);
    wants(&labels, 0, "\"house > main-bus, 95 mm2, 600 A\",95 mm2,red,2,C1,house,house,main-bus,600\r\n", NULL);
    run_free(&plain);
    run_free(&named);
    run_free(&labels);
}

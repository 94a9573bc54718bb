/* test_units.c - the table of units.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/units.h"

#include <string.h>

#include "support/test.h"

TEST(factors)
{
    static const struct {
        const char *symbol;
        enum quantity quantity;
        double typed, stored, tolerance;
        const char *source;
    } rows[] = {
        { "ft", QUANTITY_LENGTH, 1, 0.3048, 0, "international yard and pound agreement, 1959" },
        { "in", QUANTITY_LENGTH, 1, 0.0254, 0, "international yard and pound agreement, 1959" },
        { "lb", QUANTITY_MASS, 1, 0.45359237, 0, "international yard and pound agreement, 1959" },
        { "hp", QUANTITY_POWER, 1, 745.69987158227022, 1e-12, "NIST SP 811, B.8: horsepower (550 ft lbf/s)" },
        { "gal/h", QUANTITY_FUEL_FLOW, 1, 3.785411784, 0, "NIST SP 811, B.8: gallon (US)" },
        { "F", QUANTITY_TEMPERATURE, 32, 0, 1e-13, "NIST SP 811, B.8: degree Fahrenheit" },
        { "F", QUANTITY_TEMPERATURE, 212, 100, 1e-13, "NIST SP 811, B.8: degree Fahrenheit" },
        { "MJ/m2", QUANTITY_IRRADIATION, 3.6, 1, 1e-15, "NIST SP 811, B.8: kilowatt hour" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct unit *unit = unit_find(rows[i].quantity, span_of(rows[i].symbol));

        assert_non_null(unit);
        row_check(rows[i].symbol, rows[i].typed * unit->factor + unit->offset, rows[i].stored,
                  rows[i].tolerance, rows[i].source);
    }
    row_done();
}

TEST(every_row_is_whole)
{
    size_t count;
    const struct unit *units = unit_table(&count);

    for (size_t i = 0; i < count; i++) {
        assert_true(units[i].factor > 0);
        assert_true(units[i].source && *units[i].source);
        assert_ptr_equal(unit_find(units[i].quantity, span_of(units[i].symbol)),
                         &units[i]); /* no twin before it */
        for (const char *p = units[i].symbol; *p; p++)
            assert_null(strchr(" .,+-=;", *p)); /* marks that end a unit */
    }
    for (int q = 0; q < QUANTITIES; q++) {
        assert_non_null(quantity_name((enum quantity)q));
        assert_true(quantity_is_bare((enum quantity)q) == !unit_main((enum quantity)q));
        if (unit_main((enum quantity)q) && q != QUANTITY_RESISTANCE)
            assert_true(unit_main((enum quantity)q)->suggested);
    }
}

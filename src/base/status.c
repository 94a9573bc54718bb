/* status.c - texts of the status codes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/status.h"

const char *status_text(enum status status)
{
    static const char *const texts[] = {
#define X(name, text) [STATUS_##name] = text,
        STATUS_LIST(X)
#undef X
    };
    return (unsigned)status < sizeof texts / sizeof texts[0] ? texts[status] : "unknown status";
}

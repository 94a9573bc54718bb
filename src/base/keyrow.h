/* keyrow.h - one row of the printed key reference.  Layer: base.  Shared by the profile that makes it and the output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_KEYROW_H
#define BD_KEYROW_H

struct key_row {
    const char *section;  /* "bank NAME" */
    const char *key;      /* "block_capacity" */
    const char *form;     /* what may be typed: "W, kW", "agm, gel, ..." */
    const char *fallback; /* default as typed; "required" or "-" */
    const char *bounds;   /* "0..1000 W" */
    const char *meaning;
    const char *source;   /* of the default */
};

#endif

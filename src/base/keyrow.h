/* keyrow.h - one row of the printed key reference, made by the profile, shown by the output.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_KEYROW_H
#define BD_KEYROW_H

/* What "keys" and docs/profile.md say of one key. All texts are ready to print. */
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

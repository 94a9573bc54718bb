/* link.h - does the whole boat make sense?  Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_LINK_H
#define BD_LINK_H

#include "profile/readers.h"

/*
 * Checks what no single value can show: one house bank, names that clash, volts that do not fit each other,
 * links that make no sense, answers about things that are not there.
 *
 * Every fault is a remark at the line that shows it; what is merely odd is a warning. Runs on faulty
 * profiles too, so it asks of every pointer and range whether it is known. Checked: the files of tests/bad,
 * one fault each.
 */
void boat_check(struct reading *r);

#endif

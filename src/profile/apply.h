/* apply.h - a document's values into a boat, row by row of the key table.  Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_APPLY_H
#define BD_APPLY_H

#include "profile/readers.h"

/*
 * Makes the boat's arrays, one object for each section, and fills in all values: those that stand alone
 * first, then those that name other sections, so that the order of sections does not matter; then the plain
 * defaults. Sections that always apply ([boat], [site], [plan], [rules], a kind of day) are added to the
 * document where they are missing.
 */
void document_apply(struct reading *r, struct document *document);

#endif

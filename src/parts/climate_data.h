/* climate_data.h - the rows behind climate.h; for climate.c only.  Layer: parts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CLIMATE_DATA_H
#define BD_CLIMATE_DATA_H

#include "boat/site.h"

extern const struct climate climate_rows[];
extern const size_t climate_row_count;

#endif

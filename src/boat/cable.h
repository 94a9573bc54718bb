/* cable.h - one run of cable, as installed or to be sized.  Layer: boat.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CABLE_H
#define BD_CABLE_H

#include "base/range.h"

enum cable_place { PLACE_CABIN, PLACE_ENGINE };

enum area_series { AREA_METRIC, AREA_AWG, AREA_SAE, AREA_STRANDS };

struct cable {
    const char *name;
    int line;
    const char *from, *to;      /* names of banks, devices, loads or nodes */
    struct range length;        /* [m] one way along the route */
    struct range return_length; /* [m]; unknown: as length */
    struct range area;          /* [m2] metal, one conductor; unknown: to be sized */
    enum area_series area_series;
    const char *area_text;      /* what is printed on it, as typed */
    struct range return_area;   /* [m2]; unknown: as area */
    struct range runs;          /* [-] conductors in parallel per pole */
    struct range insulation;    /* [C] temperature rating */
    enum cable_place place;
    struct range bundle;        /* [-] current-carrying conductors run together */
    struct range drop_limit;    /* [-] share of nominal voltage; unknown: the rule set's */
    struct range joints;        /* [ohm] all joints, switches and lugs of the run */
    struct range fuse;          /* [A]; unknown: none said */
    int unfused;                /* 1: the profile says that there is none */
    const char *fuse_class;     /* as typed behind the amps; NULL */
    struct range fuse_interrupt; /* [A] */
    struct range fuse_distance;  /* [m] from the source along the cable */
    struct range poles;          /* [-] fused or switched poles */
    int sheathed;                /* 1: in a sheath, conduit or trunking */
};

#endif

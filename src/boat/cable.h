/* cable.h - one run of cable, as installed or to be sized.  Layer: boat.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CABLE_H
#define BD_CABLE_H

#include "base/range.h"

/* Where a run lies, for the correction of its ampacity. */
enum cable_place { PLACE_CABIN, PLACE_ENGINE };

/* How its size was named, and so what resistance it has: parts/conductor.h. */
enum area_series { AREA_METRIC, AREA_AWG, AREA_SAE, AREA_STRANDS };

/* A run has a conductor out and one back, each of so many runs in parallel. An unknown area is sized, an
 * unknown fuse chosen. from is the end nearer to the source by habit only; the network does not need it. */
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
    struct range fuse_distance;  /* [m] from the end nearer to the bank, along the cable */
    struct range charge_distance; /* [m] of a charging run: from its charging source to the device there;
                                     unknown: none said */
    struct range poles;          /* [-] fused or switched poles */
    int sheathed;                /* 1: in a sheath, conduit or trunking */
};

#endif

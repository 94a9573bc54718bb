/* sky.h - how much of the sun's power reaches a plane on deck.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SKY_H
#define BD_SKY_H

/* Daily extraterrestrial radiation on the horizontal [kWh/m2 day]; latitude [deg], n day of the year; Spencer. */
double sky_extraterrestrial_day(double latitude, int day_of_year);

/* Extraterrestrial irradiance normal to the beam [W/m2]. */
double sky_extraterrestrial_normal(int day_of_year);

/* Clear-sky global horizontal irradiance [W/m2] after Haurwitz (1945); elevation [deg] apparent. */
double sky_haurwitz(double elevation);

/* Share of the daily total that falls in an hour around hour angle w [1/h] (Collares-Pereira & Rabl 1979);
 * w and the sunset angle ws in [rad]; 0 outside the day. Its sum over a day is near 1, not 1: normalise. */
double sky_hour_share(double w, double ws);

/* Diffuse fraction of the hour from its clearness index (Erbs, Klein & Duffie 1982). */
double sky_diffuse_fraction(double clearness);

/* Daily diffuse fraction (Erbs), ws in [rad]. */
double sky_diffuse_fraction_day(double clearness, double ws);

struct sky_beam {
    double global;  /* [W/m2] horizontal */
    double diffuse; /* [W/m2] horizontal */
    double normal;  /* [W/m2] beam, normal to the sun */
};

/*
 * Splits a horizontal irradiance at a sun elevation [deg] on a day of the year into beam and diffuse (Erbs), with
 * the beam held at what the extraterrestrial normal allows.
 */
struct sky_beam sky_split(double global, double elevation, int day_of_year);

/* cosine of the angle between sun and panel normal; all in [deg]; may be negative */
double sky_incidence(double tilt, double azimuth, double sun_elevation, double sun_azimuth);

/*
 * Mean over all headings of max(0, cos incidence) for a plane of that tilt: closed form.
 * With a = cos(tilt) sin(elevation), b = sin(tilt) cos(elevation): a where a >= b, else (a psi + b sin psi)/pi with psi = acos(-a/b).
 */
double sky_incidence_any_heading(double tilt, double sun_elevation);

/* Sky diffuse on a tilted plane: isotropic (Liu & Jordan), ground or sea reflected, Hay & Davies (1980).
 * cos_incidence is already clipped at 0 by the caller or here; elevation in [deg]. */
double sky_isotropic(double diffuse, double tilt);
double sky_ground(double global, double tilt, double albedo);
double sky_hay_davies(double diffuse, double normal, double extraterrestrial_normal, double tilt,
                      double cos_incidence, double sun_elevation);

/* Loss by the angle of incidence [-], ASHRAE with b0 = 0.05; 0 from 89 deg on. */
double sky_incidence_modifier(double incidence_deg);

/* Optical air mass [-] after Kasten & Young (1989); elevation apparent [deg]. */
double sky_air_mass(double elevation);

#endif

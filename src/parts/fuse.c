/* fuse.c - ratings and families of fuses and breakers.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/fuse.h"
#include "parts/rounding.h"
#include "parts/wiring.h"

#include <ctype.h>
#include <string.h>

/*
 * Three lists: the ratings of each family, the preferred ratings that a rule calls "standard", and the
 * families with what they break at which volts. A rating is chosen first, by rules and current; a family
 * second, by what it must break.
 *
 * Breaking [A] holds up to its volts and not above: a family that is asked for more volts breaks nothing.
 * Sources stand in each row; ratings are from memory, and a profile may name a class to which they do not
 * apply. Held by tests/parts/test_fuse.c.
 */

#define COUNT(array)   (sizeof(array) / sizeof *(array))
#define RATINGS(array) (array), COUNT(array)

const double fuse_continuous_share = 0.8;
const double fuse_sure_multiple = 2;

/* Ratings [A]. All from memory; the open strip's largest sizes differ between makers. */
static const double blade[] = { 1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40 };
static const double blade_large[] = { 20, 25, 30, 40, 50, 60, 70, 80, 100 };
static const double strip_small[] = { 30, 40, 50, 60, 70, 80, 100, 125, 150, 200 };
static const double strip_large[] = { 60, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 500 };
static const double open_strip[] = { 35,  40,  50,  60,  80,  100, 125, 150, 175, 200, 225,
                                     250, 300, 325, 350, 400, 425, 450, 500, 600, 750 };
static const double cube[] = { 30, 40, 50, 60, 75, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300 };
static const double cartridge[] = { 1,   3,   6,   10,  15,  20,  25,  30,  35,  40,  45,
                                    50,  60,  70,  80,  90,  100, 110, 125, 150, 175, 200,
                                    225, 250, 300, 350, 400, 450, 500, 600, 700, 800 };
static const double link_gg[] = { 2,   4,   6,   8,   10,  12,  16,  20,  25,  32,  35,  40,  50,   63,  80,
                                  100, 125, 160, 200, 224, 250, 315, 355, 400, 500, 630, 800, 1000, 1250 };
static const double glass[] = { 0.5, 1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30 };
static const double breaker[] = { 5,  8,  10, 15, 20,  25,  30,  35,  40,  50,
                                  60, 70, 80, 90, 100, 110, 125, 150, 175, 200 };

/* DC: what one family or other above offers over the whole range, without near doubles. */
static const double preferred[] = { 1,  2,   3,   5,   7.5, 10,  15,  20,  25,  30,  35,  40,  50,  60, 70,
                                    80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 500, 600, 800 };

/* AC. NEC 240.6(A) read in part, the rest and IEC 60898-1 and IEC 60269 from memory. */
static const double preferred_120[] = { 15, 20, 25,  30,  35,  40,  45,  50,  60,  70,  80,  90,  100,
                                        110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600 };
static const double preferred_230[] = { 6,  10, 13,  16,  20,  25,  32,  40,  50, 63,
                                        80, 100, 125, 160, 200, 250, 315, 400, 500, 630 };

/* Where the ratings of 230 V begin [V]: between the two mains of the world. */
static const double MAINS_230_FROM_V = 150;

struct series {
    const double *ratings;
    size_t count;
};

static struct series series_of(double volts)
{
    if (volts < wiring_high_from_v)
        return (struct series){ RATINGS(preferred) };
    return volts < MAINS_230_FROM_V ? (struct series){ RATINGS(preferred_120) }
                                    : (struct series){ RATINGS(preferred_230) };
}

static const struct fuse_family families[] = {
    { "blade",
      "regular blade|small blade",
      RATINGS(blade),
      { { 32, 1000 } },
      0,
      { "ISO 8820-3, -4", "voltage and breaking read, ratings from memory", KNOWN_MEMORY } },
    { "blade-large",
      "large blade",
      RATINGS(blade_large),
      { { 32, 1000 } },
      0,
      { "ISO 8820-3", "type E", KNOWN_MEMORY } },
    { "strip",
      "strip-small|bolt-down",
      RATINGS(strip_small),
      { { 32, 2000 }, { 58, 1000 } },
      1,
      { "ISO 8820-5", "M5 screw", KNOWN_MEMORY } },
    { "strip-large",
      "large strip",
      RATINGS(strip_large),
      { { 32, 2000 } },
      1,
      { "ISO 8820-5", "M8 screw; breaking read, ratings from memory", KNOWN_MEMORY } },
    { "cube",
      "post cube|terminal fuse|post",
      RATINGS(cube),
      { { 14, 10000 }, { 32, 5000 }, { 58, 2000 } },
      0,
      { "post-mounted cube fuses", NULL, KNOWN_MEMORY } },
    { "open-strip",
      "limiter|open strip",
      RATINGS(open_strip),
      { { 32, 6000 } },
      1,
      { "stud-mounted open strip limiters", NULL, KNOWN_MEMORY } },
    { "class-t",
      "class t|t|cartridge",
      RATINGS(cartridge),
      { { 125, 20000 } },
      0,
      { "UL 248-15", "20 kA at 125 V DC", KNOWN_MEMORY } },
    { "gG",
      "nh|bs88|bs 88|link",
      RATINGS(link_gg),
      { { 250, 40000 } },
      0,
      { "BS 88, IEC 60269", "40 kA at 250 V DC read, ratings from memory", KNOWN_MEMORY } },
    { "glass",
      "glass cartridge|6.3x32",
      RATINGS(glass),
      { { 32, 200 } },
      0,
      { "glass cartridge 6.3 x 32 mm", "200 to 1000 A", KNOWN_MEMORY } },
    { "breaker",
      "mcb|circuit breaker|thermal breaker",
      RATINGS(breaker),
      { { 32, 3000 }, { 65, 1500 } },
      1,
      { "hydraulic and thermal boat breakers", "check the label", KNOWN_PRACTICE } },
};

/* Families that a choice is made from: those with a small or unsure breaking are left to the user. */
static int offered(const struct fuse_family *family)
{
    return strcmp(family->name, "glass") != 0 && strcmp(family->name, "breaker") != 0;
}

const struct fuse_family *fuse_families(size_t *count)
{
    *count = COUNT(families);
    return families;
}

/* 1 where the first length letters of text are word, case aside. */
static int same_word(const char *text, size_t length, const char *word)
{
    size_t i = 0;

    while (i < length && word[i] && tolower((unsigned char)text[i]) == tolower((unsigned char)word[i]))
        i++;
    return i == length && !word[i];
}

/* 1 where word is the family's name or one of its other words. */
static int family_means(const struct fuse_family *family, const char *word)
{
    const char *at = family->words;

    if (same_word(family->name, strlen(family->name), word))
        return 1;
    while (*at) {
        size_t length = strcspn(at, "|");

        if (same_word(at, length, word))
            return 1;
        at += length + (at[length] == '|');
    }
    return 0;
}

const struct fuse_family *fuse_family_find(const char *word)
{
    for (size_t i = 0; word && i < COUNT(families); i++)
        if (family_means(&families[i], word))
            return &families[i];
    return NULL;
}

double fuse_family_volts(const struct fuse_family *family)
{
    double volts = 0;

    for (size_t i = 0; i < FUSE_BREAKINGS; i++)
        volts = family->breaking[i].volts_v > volts ? family->breaking[i].volts_v : volts;
    return volts;
}

double fuse_breaking_a(const struct fuse_family *family, double volts)
{
    for (size_t i = 0; i < FUSE_BREAKINGS && family->breaking[i].volts_v > 0; i++)
        if (volts <= family->breaking[i].volts_v)
            return family->breaking[i].current_a;
    return 0;
}

/* 0 where nothing so large is made: a caller must not take it for a rating. */
double fuse_rating_up(double current, double volts)
{
    struct series s = series_of(volts);

    for (size_t i = 0; i < s.count; i++)
        if (at_least(s.ratings[i], current))
            return s.ratings[i];
    return 0;
}

double fuse_rating_down(double current, double volts)
{
    struct series s = series_of(volts);

    for (size_t i = s.count; i-- > 0;)
        if (at_most(s.ratings[i], current))
            return s.ratings[i];
    return 0;
}

static int has_rating(const struct fuse_family *family, double rating)
{
    for (size_t i = 0; i < family->rating_count; i++)
        if (family->ratings_a[i] == rating)
            return 1;
    return 0;
}

const struct fuse_family *fuse_family_choose(double rating, double volts, double fault_a, int slow)
{
    for (size_t i = 0; i < COUNT(families); i++) {
        const struct fuse_family *f = &families[i];

        if (offered(f) && has_rating(f, rating) && fuse_breaking_a(f, volts) >= fault_a && (!slow || f->slow))
            return f;
    }
    return NULL;
}

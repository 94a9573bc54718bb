/* lines.c - the safe reader in front of inih.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * inih as packaged gives no line numbers, cuts long lines and reads their tail as a new key, glues an
 * indented key to the one above, drops an unclosed section's keys into the section before it, and stays
 * silent about empty and repeated sections. So it is fed one line at a time by a reader that counts the
 * lines, strips the indent, looks at section heads itself and withholds whatever inih would get wrong. What
 * is left to inih is to take a line apart.
 */
#include "profile/lines.h"

#include <ini.h>
#include <string.h>

#include "base/arena.h"

struct reader {
    struct document *document;
    struct arena *arena;
    struct diag_list *diags;
    struct span rest;        /* text still unread */
    struct place place;      /* of the present line */
    struct section *section; /* the present one; NULL: none yet, or a head that could not be read */
    int head_failed;         /* 1: the head above was faulty, its lines are passed over */
    int told_no_section;     /* 1: said already that lines stand before any section */
    int unheard;             /* 1: the present line went to inih and the handler has not been called for it */
    size_t errors_before;    /* in the list when reading began */
    int spoilt;              /* lines with bytes that are no text */
    enum status status;
};

static int blank(char ch)
{
    return ch == ' ' || ch == '\t' || ch == '\r' || ch == '\v' || ch == '\f';
}

/* --- remarks --- */

/* An error in the present line, at a piece of it; where.at NULL: at no
 * column, for bytes that cannot be counted. */
static void remark(struct reader *r, struct span where, const char *message, const char *hint)
{
    const char *source = r->place.source;

    diag_add(r->diags,
             &(struct diag){
                 .severity = DIAG_ERROR,
                 .file = r->place.file,
                 .line = r->place.line,
                 .source = source,
                 .column = where.at ? (int)text_characters(source, (size_t)(where.at - source)) + 1 : 0,
                 .width = where.at ? (int)text_characters(where.at, where.length) : 0,
                 .section = r->section ? r->section->title : NULL,
                 .message = message,
                 .hint = hint,
             });
}

/* An error at a piece of a line kept earlier. */
static void place_remark(struct diag_list *diags, const struct place *place, const struct section *section,
                         const char *key, struct span where, const char *message, const char *hint)
{
    const char *source = place->source;

    diag_add(diags, &(struct diag){
                        .severity = DIAG_ERROR,
                        .file = place->file,
                        .line = place->line,
                        .source = source,
                        .column = source ? (int)text_characters(source, (size_t)(where.at - source)) + 1 : 0,
                        .width = (int)text_characters(where.at, where.length),
                        .section = section->title,
                        .key = key,
                        .message = message,
                        .hint = hint,
                    });
}

void entry_remark(struct diag_list *diags, const struct section *section, const struct entry *entry,
                  struct span where, const char *message, const char *hint)
{
    const char *source = entry->place.source;
    int inside = where.at && where.at >= source && where.at <= source + strlen(source);

    place_remark(diags, &entry->place, section, entry->key, inside ? where : entry->value, message, hint);
}

void key_remark(struct diag_list *diags, const struct section *section, const struct entry *entry,
                const char *message, const char *hint)
{
    struct span key = { entry->place.source + entry->key_column, strlen(entry->key) };

    place_remark(diags, &entry->place, section, entry->key, key, message, hint);
}

void section_remark(struct diag_list *diags, const struct section *section, const char *message,
                    const char *hint)
{
    struct span head = span_trim(span_of(section->place.source ? section->place.source : ""));

    place_remark(diags, &section->place, section, NULL, head, message, hint);
}

/* --- looking things up --- */

struct section *document_find(const struct document *document, const char *title)
{
    size_t i = name_table_get(&document->titles, title, document->count);

    return i < document->count && !document->sections[i].removed ? &document->sections[i] : NULL;
}

struct section *document_add(struct document *document, struct arena *arena, const struct section *section)
{
    void *items = document->sections;
    struct section *slot = arena_push(arena, &items, &document->count, &document->room, sizeof *slot);

    document->sections = items;
    if (!slot)
        return NULL;
    if (!name_table_set(&document->titles, arena, section->title, document->count - 1)) {
        document->count--;
        return NULL;
    }
    *slot = *section;
    return slot;
}

struct entry *section_find(const struct section *section, const char *key)
{
    for (size_t i = 0; i < section->count; i++)
        if (!section->entries[i].removed && text_same(section->entries[i].key, key))
            return &section->entries[i];
    return NULL;
}

/* --- section heads --- */

/* "  load   fridge " to "load fridge": one blank between words, so that two spellings are
 * one title. NULL without memory. */
static char *title_make(struct arena *arena, struct span inner)
{
    char *title = arena_zero(arena, inner.length + 1);
    size_t n = 0;

    for (size_t i = 0; title && i < inner.length; i++)
        if (!blank(inner.at[i]))
            title[n++] = inner.at[i];
        else if (n && title[n - 1] != ' ')
            title[n++] = ' ';
    if (title && n && title[n - 1] == ' ')
        title[n - 1] = '\0';
    return title;
}

/* What stands between the brackets; NULL span where the head is no head, which has been said. */
static struct span head_inner(struct reader *r, struct span line)
{
    const struct span none = { NULL, 0 };
    const char *close = memchr(line.at, ']', line.length);
    struct span inner, after;

    if (!close) {
        remark(r, line, "a section head without its closing bracket; the lines under it are passed over",
               "write [kind name]");
        return none;
    }
    inner = span_trim((struct span){ line.at + 1, (size_t)(close - line.at - 1) });
    after = span_trim((struct span){ close + 1, (size_t)(line.at + line.length - close - 1) });
    if (after.length && after.at[0] != ';' && after.at[0] != '#') {
        remark(r, after, "something stands behind the section head", "begin a new line for it");
        return none;
    }
    if (inner.length == 0) {
        remark(r, line, "a section head without a name", "write [kind name], as [load fridge]");
        return none;
    }
    if (inner.length > TITLE_LIMIT) {
        remark(r, inner, arena_print(r->arena, "the section head is %zu bytes long", inner.length),
               arena_print(r->arena, "%d are the most; shorten the name", TITLE_LIMIT));
        return none;
    }
    return inner;
}

/* Marks that would clash with lists, keys and comments. */
static int title_clean(struct reader *r, struct span inner)
{
    for (size_t i = 0; i < inner.length; i++)
        if (memchr(",=:;#\"[", inner.at[i], 7)) {
            remark(r, (struct span){ inner.at + i, 1 },
                   arena_print(r->arena, "a name may not hold \"%c\"", inner.at[i]),
                   "letters, digits, blanks, - _ . and the like will do");
            return 0;
        }
    return 1;
}

/* Keeps a section; the second of a title is refused and its lines are passed over. */
static void section_open(struct reader *r, struct span line, struct span inner)
{
    struct document *d = r->document;
    char *title = title_make(r->arena, inner);
    char *name = title ? strchr(title, ' ') : NULL;
    const struct section *twin = title ? document_find(d, title) : NULL;
    struct section opened = { .title = title, .name = name ? name + 1 : "", .place = r->place };

    if (twin) {
        r->section = NULL;
        remark(r, line, arena_print(r->arena, "[%s] stands twice, first in line %d", title, twin->place.line),
               "put its keys under one head, or give this one another name");
        r->head_failed = 1;
        return;
    }
    if (d->count == SECTION_LIMIT) {
        remark(r, line, "is one section too many for a profile",
               arena_print(r->arena, "%d are the most", SECTION_LIMIT));
        r->rest.length = 0;
        return;
    }
    opened.kind = name ? arena_copy(r->arena, title, (size_t)(name - title)) : title;
    if (!opened.kind || !(r->section = document_add(d, r->arena, &opened)))
        r->status = STATUS_NO_MEMORY;
}

/* A head that cannot be read still ends the section above it: its lines must not land there. */
static void head_read(struct reader *r, struct span line)
{
    struct span inner;

    r->section = NULL;
    r->head_failed = 0;
    inner = head_inner(r, line);
    if (!inner.at || !title_clean(r, inner)) {
        r->head_failed = 1;
        return;
    }
    section_open(r, line, inner);
}

/* --- lines --- */

/* 1 where inih may see the line as a key and its value. */
static int key_line_fit(struct reader *r, struct span line)
{
    const char *equals = memchr(line.at, '=', line.length), *colon = memchr(line.at, ':', line.length);
    const char *mark = equals && (!colon || equals < colon) ? equals : colon;
    struct span key;

    if (r->head_failed)
        return 0;
    if (!r->section) {
        if (!r->told_no_section)
            remark(r, line, "stands before any section head", "begin with a head such as [boat]");
        r->told_no_section = 1;
        return 0;
    }
    if (line.length > LINE_LIMIT) {
        remark(
            r, (struct span){ line.at, 1 },
            arena_print(r->arena, "the line is %zu bytes long, and %d are the most", line.length, LINE_LIMIT),
            "shorten it; a long list can go into a file or be split by kinds of day");
        return 0;
    }
    if (!mark) {
        remark(r, line, "is neither a section head, nor \"key = value\", nor a comment",
               "write key = value, or begin the line with # for a comment");
        return 0;
    }
    key = span_trim((struct span){ line.at, (size_t)(mark - line.at) });
    if (key.length == 0) {
        remark(r, line, "has no key before its equals sign", "write key = value");
        return 0;
    }
    if (key.length > KEY_LIMIT) {
        remark(r, key,
               arena_print(r->arena, "the key is %zu bytes long, and %d are the most", key.length, KEY_LIMIT),
               NULL);
        return 0;
    }
    return 1;
}

/* NUL bytes and bad UTF-8 spoil one line only; many such lines, and it is no profile at all. */
static int bytes_fit(struct reader *r, struct span line)
{
    enum { SPOILT_LIMIT = 5 };
    const char *nul = line.length ? memchr(line.at, '\0', line.length) : NULL;
    const char *fault = nul ? NULL : text_utf8_fault(line.at, line.length);

    if (!nul && !fault)
        return 1;
    if (nul)
        remark(r, (struct span){ NULL, 0 },
               arena_print(r->arena, "holds a NUL byte at byte %td of the line", nul - line.at + 1),
               "a profile is plain UTF-8 text; is this the right file?");
    else
        remark(r, (struct span){ NULL, 0 },
               arena_print(r->arena, "holds the byte 0x%02X, which is no UTF-8, at byte %td of the line",
                           (unsigned)(unsigned char)*fault, fault - line.at + 1),
               "save the file as UTF-8");
    if (++r->spoilt == SPOILT_LIMIT) {
        remark(r, (struct span){ NULL, 0 }, "too many such lines: the rest of the file is not read", NULL);
        r->rest.length = 0;
    }
    return 0;
}

/* A line whose bytes cannot be shown is shown with question marks. */
static char *source_copy(struct arena *arena, struct span line)
{
    char *source = arena_copy(arena, line.at, line.length);
    int clean = source && !(line.length && memchr(line.at, '\0', line.length)) &&
                !text_utf8_fault(line.at, line.length);

    for (size_t i = 0; source && !clean && i < line.length; i++)
        if (source[i] == '\0' || (unsigned char)source[i] >= 0x80)
            source[i] = '?';
    return source;
}

/* The next line of the text without its end; 0 at the end of the text. */
static int line_next(struct reader *r, struct span *line)
{
    if (!r->rest.at || r->rest.length == 0 || !span_split(&r->rest, '\n', line))
        return 0;
    if (line->length && line->at[line->length - 1] == '\r')
        line->length--;
    r->place.line++;
    r->place.source = source_copy(r->arena, *line);
    if (!r->place.source)
        r->status = STATUS_NO_MEMORY;
    return r->status == STATUS_OK;
}

/* A lone CR is an old way to end lines: all would be one line. */
static int carriage_fit(struct reader *r, struct span line)
{
    const char *cr = line.length ? memchr(line.at, '\r', line.length) : NULL;

    if (cr)
        remark(r, (struct span){ NULL, 0 }, "holds a carriage return inside the line",
               "end lines with a line feed, or with carriage return and line feed");
    return !cr;
}

/* 1 where the line is to go to inih, trimmed, as *fit. */
static int line_fit(struct reader *r, struct span raw, struct span *fit)
{
    struct span shown = { r->place.source, raw.length };

    if (!bytes_fit(r, raw) || !carriage_fit(r, raw))
        return 0;
    *fit = span_trim(shown);
    if (fit->length == 0 || fit->at[0] == '#' || fit->at[0] == ';')
        return 0;
    if (fit->at[0] == '[') {
        head_read(r, *fit);
        return 0;
    }
    return key_line_fit(r, *fit);
}

/* inih gives up a line without a word where a comment begins before the equals sign. */
static void unheard_check(struct reader *r)
{
    if (r->unheard)
        remark(r, span_trim(span_of(r->place.source)), "has no value: its equals sign stands in a comment",
               "write key = value, then the comment");
    r->unheard = 0;
}

/* 1, and a last remark, where there are so many errors that reading on is of no use. */
static int enough_errors(struct reader *r)
{
    if (r->diags->errors - r->errors_before < ERROR_LIMIT)
        return 0;
    if (r->rest.length)
        remark(r, (struct span){ NULL, 0 }, "too many errors: the rest of the file is not read", NULL);
    r->rest.length = 0;
    return 1;
}

/* inih's reader: one fit line, or an empty one in place of any other. */
static char *feed(char *buffer, int size, void *stream)
{
    struct reader *r = stream;
    struct span raw, fit;

    unheard_check(r);
    if (r->status != STATUS_OK || enough_errors(r) || !line_next(r, &raw))
        return NULL;
    r->unheard = line_fit(r, raw, &fit);
    if (!r->unheard || fit.length + 1 >= (size_t)size)
        fit.length = 0;
    if (fit.length)
        memcpy(buffer, fit.at, fit.length);
    buffer[fit.length] = '\0';
    return buffer;
}

/* --- entries --- */

/* Where inih's value stands in the line as typed: behind the key's mark. It is a piece of that line, trimmed.
 */
static struct span value_in_source(const struct place *place, size_t key_column, const char *key,
                                   const char *value)
{
    const char *p = place->source + key_column + strlen(key);

    while (blank(*p))
        p++;
    p += *p == '=' || *p == ':';
    while (blank(*p))
        p++;
    return (struct span){ p, strnlen(p, strlen(value)) };
}

/* inih takes " ;" for the start of a comment, and " #" not: a trap, so said, and the value ends there. */
static void comment_check(struct reader *r, struct entry *e)
{
    const char *end = e->value.at + e->value.length;

    for (const char *p = e->value.at; p + 1 < end; p++)
        if (blank(p[0]) && p[1] == '#') {
            entry_remark(r->diags, r->section, e, (struct span){ p + 1, (size_t)(end - p - 1) },
                         "\"#\" begins a comment only at the start of a line",
                         "write ; for a comment behind a value");
            e->value.length = (size_t)(p - e->value.at);
            e->value = span_trim(e->value);
            return;
        }
}

/* Appends an empty entry to the present section, or says that there are too many. */
static struct entry *entry_push(struct reader *r, const char *key)
{
    struct section *s = r->section;
    void *items = s->entries;
    struct entry *e;

    if (s->count == ENTRY_LIMIT) {
        remark(r, span_trim(span_of(r->place.source)), "is one key too many for a section", NULL);
        r->rest.length = 0;
        return NULL;
    }
    e = arena_push(r->arena, &items, &s->count, &s->room, sizeof *e);
    s->entries = items;
    if (!e || !(e->key = arena_copy(r->arena, key, strlen(key)))) {
        r->status = STATUS_NO_MEMORY;
        return NULL;
    }
    return e;
}

/* inih's handler. Always 1, "go on": faults are remarks of ours, and inih's
 * own list of bad lines is not used. */
static int take(void *user, const char *inih_section, const char *key, const char *value)
{
    struct reader *r = user;
    const struct entry *twin;
    struct entry *e;
    int twin_line;

    (void)inih_section; /* heads never reach inih: head_read keeps them */
    r->unheard = 0;
    if (!r->section || r->status != STATUS_OK)
        return 1;
    twin = section_find(r->section, key);
    twin_line = twin ? twin->place.line : 0;
    if (!(e = entry_push(r, key)))
        return 1;
    e->place = r->place;
    e->key_column = strspn(r->place.source, " \t\r\v\f");
    e->value = value_in_source(&e->place, e->key_column, key, value);
    if (twin_line) {
        key_remark(r->diags, r->section, e,
                   arena_print(r->arena, "is given twice, first in line %d", twin_line),
                   "leave one of them out");
        r->section->count--;
    } else if (e->value.length == 0) {
        key_remark(r->diags, r->section, e, "has no value", "write key = value, or leave the line out");
        r->section->count--;
    } else
        comment_check(r, e);
    return 1;
}

/* -2 is all that inih says of itself: out of memory. Lines it would call faulty never reach it. */
enum status document_read(struct document *out, struct arena *arena, const char *file, struct span text,
                          struct diag_list *diags)
{
    struct document document = { .file = file };
    struct reader r = { .document = &document,
                        .arena = arena,
                        .diags = diags,
                        .rest = text,
                        .place = { .file = file },
                        .errors_before = diags->errors };

    if (text.length >= 3 && memcmp(text.at, "\xEF\xBB\xBF", 3) == 0) {
        r.rest.at += 3; /* a byte order mark is no fault in UTF-8 */
        r.rest.length -= 3;
    }
    if (ini_parse_stream(feed, &r, take, &r) == -2)
        r.status = STATUS_NO_MEMORY;
    if (r.status == STATUS_OK)
        *out = document;
    return r.status;
}

/* page.c - looks into HTML with expat.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/page.h"

#include <expat.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/run.h"
#include "support/test.h"

/* The parser's state while it reads. */
struct reading {
    struct page_seen *seen;
    struct page_cell *cell; /* open one; NULL: none */
    char part[32], table[64], row[80];
    int in_row_head;
    int in_drawing, in_unit, last_heading;
};

static void *grow(void *items, size_t *count, size_t *room, size_t size)
{
    if (*count == *room) {
        *room = *room ? 2 * *room : 64;
        items = realloc(items, *room * size);
        assert_non_null(items);
    }
    (*count)++;
    return items;
}

static const char *attribute(const char **attributes, const char *name)
{
    for (; *attributes; attributes += 2)
        if (strcmp(attributes[0], name) == 0)
            return attributes[1];
    return NULL;
}

static void keep(char (**list)[64], size_t *count, size_t *room, const char *text)
{
    *list = grow(*list, count, room, sizeof **list);
    snprintf((*list)[*count - 1], 64, "%s", text);
}

static void see_links(struct page_seen *seen, const char **attributes)
{
    static const char *const leading[] = { "href", "src", "xlink:href", "action", "data", "srcset" };
    const char *id = attribute(attributes, "id");

    if (id)
        keep(&seen->ids, &seen->id_count, &seen->id_room, id);
    for (size_t i = 0; i < sizeof leading / sizeof leading[0]; i++) {
        const char *to = attribute(attributes, leading[i]);

        if (to && to[0] == '#')
            keep(&seen->targets, &seen->target_count, &seen->target_room, to + 1);
        else
            seen->outside += to != NULL;
    }
}

static void see_heading(struct reading *r, int level)
{
    r->seen->headings[level]++;
    r->seen->heading_skips += level > r->last_heading + 1;
    r->last_heading = level;
}

static void see_cell(struct reading *r, const char **attributes)
{
    struct page_seen *seen = r->seen;
    const char *name = attribute(attributes, "data-name"), *class = attribute(attributes, "class");

    if (!name)
        return;
    seen->cells = grow(seen->cells, &seen->cell_count, &seen->cell_room, sizeof *seen->cells);
    r->cell = seen->cells + seen->cell_count - 1;
    memset(r->cell, 0, sizeof *r->cell);
    snprintf(r->cell->part, sizeof r->cell->part, "%s", r->part);
    snprintf(r->cell->table, sizeof r->cell->table, "%s", r->table);
    snprintf(r->cell->row, sizeof r->cell->row, "%s", r->row);
    r->cell->number = seen->tables;
    r->cell->right = class && class[0] == 'n' && (!class[1] || class[1] == ' ');
    snprintf(r->cell->name, sizeof r->cell->name, "%s", name);
}

static void XMLCALL element_begins(void *data, const char *name, const char **attributes)
{
    struct reading *r = data;
    struct page_seen *seen = r->seen;
    const char *table = attribute(attributes, "data-table"), *class = attribute(attributes, "class");

    see_links(seen, attributes);
    if (strcmp(name, "section") == 0 && attribute(attributes, "id"))
        snprintf(r->part, sizeof r->part, "%s", attribute(attributes, "id"));
    if (strcmp(name, "tr") == 0)
        r->row[0] = '\0';
    r->in_row_head = strcmp(name, "th") == 0 && attribute(attributes, "scope") &&
                     strcmp(attribute(attributes, "scope"), "row") == 0;
    if (strcmp(name, "table") == 0) {
        seen->tables++;
        snprintf(r->table, sizeof r->table, "%s", table ? table : "");
    }
    seen->captions += strcmp(name, "caption") == 0;
    seen->heads += strcmp(name, "th") == 0 && attribute(attributes, "scope");
    seen->heads_without_scope += strcmp(name, "th") == 0 && !attribute(attributes, "scope");
    seen->scripts += strcmp(name, "script") == 0;
    seen->drawings += strcmp(name, "svg") == 0;
    r->in_drawing += strcmp(name, "svg") == 0;
    seen->drawing_titles += r->in_drawing && strcmp(name, "title") == 0;
    seen->drawing_texts += r->in_drawing && strcmp(name, "desc") == 0;
    r->in_unit |= class && strcmp(class, "unit") == 0;
    if (name[0] == 'h' && name[1] >= '1' && name[1] <= '6' && !name[2])
        see_heading(r, name[1] - '0');
    if (strcmp(name, "td") == 0)
        see_cell(r, attributes);
}

static void XMLCALL element_ends(void *data, const char *name)
{
    struct reading *r = data;

    r->in_drawing -= strcmp(name, "svg") == 0;
    if (strcmp(name, "span") == 0)
        r->in_unit = 0;
    if (strcmp(name, "td") == 0)
        r->cell = NULL;
    if (strcmp(name, "th") == 0)
        r->in_row_head = 0;
    if (strcmp(name, "section") == 0)
        r->part[0] = '\0';
}

static void XMLCALL text_comes(void *data, const char *text, int length)
{
    struct reading *r = data;
    size_t used;

    used = strlen(r->row);
    if (r->in_row_head)
        snprintf(r->row + used, sizeof r->row - used, "%.*s", length, text);
    if (!r->cell || r->in_unit)
        return;
    used = strlen(r->cell->text);
    snprintf(r->cell->text + used, sizeof r->cell->text - used, "%.*s", length, text);
}

void page_read(struct page_seen *seen, const char *html, size_t length)
{
    XML_Parser parser = XML_ParserCreate("UTF-8");
    struct reading r = { .seen = seen };

    memset(seen, 0, sizeof *seen);
    XML_SetUserData(parser, &r);
    XML_SetElementHandler(parser, element_begins, element_ends);
    XML_SetCharacterDataHandler(parser, text_comes);
    if (XML_Parse(parser, html, (int)length, 1) != XML_STATUS_OK)
        fail_msg("line %lu: %s", XML_GetCurrentLineNumber(parser), XML_ErrorString(XML_GetErrorCode(parser)));
    XML_ParserFree(parser);
}

void page_of_report(struct page_seen *seen, const char *profile, const char *change)
{
    struct run run;

    if (change)
        RUN(&run, "report", profile, "--change", change);
    else
        RUN(&run, "report", profile);
    assert_int_equal(run.code, 0);
    page_read(seen, run.out, run.out_length);
    run_free(&run);
}

void page_free(struct page_seen *seen)
{
    free(seen->cells);
    free(seen->ids);
    free(seen->targets);
}

int page_has_id(const struct page_seen *seen, const char *id)
{
    for (size_t i = 0; i < seen->id_count; i++)
        if (strcmp(seen->ids[i], id) == 0)
            return 1;
    return 0;
}

const char *page_text(const struct page_seen *seen, const char *table, const char *name)
{
    for (size_t i = 0; i < seen->cell_count; i++)
        if (strcmp(seen->cells[i].name, name) == 0 && (!table || strcmp(seen->cells[i].table, table) == 0))
            return seen->cells[i].text;
    fail_msg("no cell %s in a table \"%s\"", name, table ? table : "of any name");
    return NULL;
}

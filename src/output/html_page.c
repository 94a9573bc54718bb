/* html_page.c - the frame of every page: head, style sheet, foot.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/html.h"

#include <string.h>

/*
 * Black on white, one column, rules instead of boxes. Two reds and greens at most, always beside a word or a
 * sign; every text is at least 7 : 1 against its ground (WCAG 2.1, 1.4.6). Wide tables scroll sideways
 * within themselves on a phone and are set smaller on paper; heads of tables are repeated on every sheet,
 * rows and figures are never cut.
 */
static const char style[] =
    ":root{color-scheme:light}\n"
    "*{box-sizing:border-box}\n"
    "html{font:16px/1.5 system-ui,sans-serif;color:#1a1a1a;background:#fff;-webkit-text-size-adjust:100%}\n"
    "body{margin:0 auto;max-width:62rem;padding:1.5rem 1.25rem 4rem}\n"
    "h1{font-size:1.9rem;line-height:1.15;font-weight:650;margin:0 0 .3rem;letter-spacing:-.01em}\n"
    "h2{font-size:1.35rem;line-height:1.2;font-weight:650;margin:3.2rem 0 .8rem;padding-top:.7rem;"
    "border-top:2px solid #1a1a1a}\n"
    "h3{font-size:1.05rem;margin:2rem 0 .4rem}\n"
    "p{margin:.4rem 0 .8rem;max-width:44rem}\n"
    "p,figcaption,li{text-wrap:pretty}\n"
    "a{color:inherit;text-decoration-thickness:1px;text-underline-offset:.18em}\n"
    ".kind,.of,.unit,figcaption{color:#4d4d4d}\n"
    ".kind{margin:0 0 .2rem;font-size:.9rem;letter-spacing:.04em}\n"
    ".lead{font-size:1.1rem;margin-bottom:.1rem}\n"
    ".verdict{font-size:1.3rem;line-height:1.4;margin:.6rem 0 1.2rem}\n"
    "nav ol{margin:.4rem 0 0;padding:0;list-style:none;columns:14rem;column-gap:2rem}\n"
    "nav li{margin:0 0 .3rem;break-inside:avoid}\n"
    "nav a{display:inline-block;padding:.15rem 0}\n"
    ".wide{overflow-x:auto;margin:1.4rem 0}\n"
    "table{border-collapse:collapse;font-size:.92rem;font-variant-numeric:tabular-nums lining-nums;"
    "width:100%}\n"
    "table.many{font-size:.86rem}\n"
    "table.list{width:auto;min-width:min(100%,17rem)}\n"
    "caption{text-align:left;font-weight:600;font-size:1rem;padding:0 0 .35rem}\n"
    "th,td{text-align:left;vertical-align:top;padding:.28rem .9rem .28rem 0;"
    "border-bottom:1px solid #dadada}\n"
    "th:last-child,td:last-child{padding-right:0}\n"
    "thead th{vertical-align:bottom;border-bottom:1px solid #1a1a1a;font-weight:600;line-height:1.25}\n"
    "thead .unit{font-weight:400;white-space:nowrap}\n"
    "tbody th{font-weight:400}\n"
    "th.n,td.n{text-align:right;white-space:nowrap}\n"
    ".many thead th{white-space:normal}\n"
    "th.s,td.s{white-space:nowrap}\n"
    "table.list td.n{text-align:left}\n"
    ".good{color:#00563c}\n"
    ".bad{color:#8a2600;font-weight:600}\n"
    ".holds{display:grid;grid-template-columns:minmax(0,1fr) auto;gap:0 3rem;align-items:start}\n"
    "div.list{display:inline-block;vertical-align:top;margin-right:2.5rem;max-width:100%}\n"
    ".holds div.list{margin-right:0}\n"
    "figure{margin:1.4rem 0}\n"
    "figure svg{display:block;width:100%;height:auto}\n"
    "figcaption{font-size:.88rem;max-width:44rem;margin-top:.3rem}\n"
    "ul.notes{padding-left:1.1rem;max-width:44rem}\n"
    "ul.notes li{margin-bottom:.35rem}\n"
    "@media(max-width:52rem){.holds{display:block}}\n"
    "@media(max-width:40rem){html{font-size:15px}body{padding:1rem .9rem 3rem}h1{font-size:1.5rem}"
    "h2{font-size:1.2rem;"
    "margin-top:2.4rem}.verdict{font-size:1.12rem}th.long{min-width:11rem}td,th{max-width:17rem}"
    "table:has(thead):not(:has(.long)){width:max-content;min-width:100%}"
    "caption{max-width:calc(100vw - 1.8rem)}table.many{width:max-content;max-width:none}"
    "table.many th.long{min-width:13rem}"
    "table.many tr>th:first-child{position:sticky;left:0;max-width:9rem;overflow-wrap:anywhere;"
    "background:#fff}"
    "figure{overflow-x:auto}figure svg{min-width:42rem}}\n"
    "@page{margin:15mm 14mm 17mm;@bottom-right{content:counter(page) \" / \" counter(pages);"
    "font:8pt sans-serif;color:#4d4d4d}}\n"
    "@media print{html{font-size:9.5pt;line-height:1.35}body{max-width:none;padding:0}nav{display:none}"
    "a{text-decoration:none}"
    ".wide{overflow:visible;margin:.9rem 0}div.list{margin-right:1.6rem}table{font-size:8.2pt}"
    "table.many{font-size:7.3pt}"
    ".list th{max-width:11rem}"
    "th,td{padding:.13rem .6rem .13rem 0}thead{display:table-header-group}"
    "tr,figure,caption,ul.notes li{break-inside:avoid}"
    "caption,h2,h3,.lead{break-after:avoid}tbody tr:first-child,tbody tr:nth-child(2){break-before:avoid}"
    ".holds{display:grid;gap:0 1.6rem}h2{margin-top:1.6rem;padding-top:.5rem}"
    ".sheet{break-before:page}section{orphans:1;widows:1}.sheet>h2{margin-top:0}p{orphans:3;widows:3}}\n";

/* Text within a quoted string of a style sheet: what means something to CSS, HTML or XML as its number (CSS
 * Syntax 4.3.7). */
static void css_text(FILE *out, const char *text)
{
    for (; *text; text++)
        if (strchr("\"\\'&<>", *text) || (unsigned char)*text < 0x20)
            fprintf(out, "\\%x ", (unsigned char)*text);
        else
            fputc(*text, out);
}

void html_begin(FILE *out, const char *title)
{
    fputs("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n"
          "<meta charset=\"utf-8\"/>\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>",
          out);
    html_text(out, title);
    fputs("</title>\n<style>\n", out);
    fputs(style, out);
    fputs("@page{@bottom-left{content:\"", out); /* sheets get mixed up: each says whose it is */
    css_text(out, title);
    fputs("\";font:8pt sans-serif;color:#4d4d4d}}\n", out);
    fputs("</style>\n</head>\n<body>\n", out);
}

void html_end(FILE *out)
{
    fputs("</body>\n</html>\n", out);
}

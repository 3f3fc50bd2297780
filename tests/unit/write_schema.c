/* write_schema.c - prints rules/journal.rng or rules/profile.rng from the reader's tables
 *
 * Elements, attributes and word lists come from the tables; what a quantity, a time or an id looks like is written
 * down here a second time, as patterns, without the reader's code. `make schemas` writes the files,
 * tests/handbook/schema.t compares them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "journal/tables.h"

enum { MOST = 128 };

#define N "([0-9]+(\\.[0-9]*)?|\\.[0-9]+)"
#define SIGN "[+\\-]?"
#define SUM "(" N " ?y ?)?(" N " ?mo ?)?(" N " ?wk ?)?(" N " ?d ?)?(" N " ?h ?)?(" N " ?min ?)?(" N " ?s)?"
#define NEARLY "([Aa]bout|[Aa]round|[Rr]oughly|[Aa]pproximately|[Aa]pprox\\.?|[Pp]erhaps|[Mm]aybe|" \
	"[Pp]robably|[Cc]irca|[Cc]a\\.?|~|[Aa]lmost|[Nn]early|" \
	"<=?|>=?|≤|≥|[Bb]elow|[Uu]nder|[Ll]ess than|[Aa]t most|[Uu]p to|[Aa]bove|[Oo]ver|[Mm]ore than|" \
	"[Aa]t least|[Nn]o (more|less) than|[Nn]ot (more|less) than)"
#define ROUGH "(" NEARLY " *)*"
#define DASH "( *(-|–) *| +(to|or) +)"
#define OR_SO "( [Oo]r (so|less|under|below|more|over|above|longer))?"
#define SPELLED "(s|secs?|seconds?|min|minutes?|h|hrs?|hours?|d|days?|wks?|weeks?|mo|mths?|months?|y|yrs?|years?)\\.?"
#define COUNTED "([Aa] few|[Ff]ew|[Aa] couple( of)?|[Cc]ouple of|[Hh]alf " \
	"an?|[Aa]n?|[Oo]ne|[Tt]wo|[Tt]hree|[Ff]our|[Ff]ive|[Ss]ix|[Ss]even|[Ee]ight|[Nn]ine|[Tt]en|[Tt]welve)"
#define NIGHT "([Oo]ver ?night|[Aa] night|[Oo]ne night)"
#define PACKAGING "([Pp]ackag(e|ed|ing)|[Bb]ottl(ed|ing)|[Kk]egg(ed|ing))"
#define CURRENCY "($|R$|£|€|¥|₹|₩|₽|₺|₪|kr|zł|Kč|Ft|Fr|[A-Z]{3})"
#define COMMON_DAY "(19|2[0-9])[0-9]{2}" \
	"-((0[13578]|1[02])-(0[1-9]|[12][0-9]|3[01])|(0[469]|11)-(0[1-9]|[12][0-9]|30)|02-(0[1-9]|1[0-9]|2[0-8]))"
#define LEAP_DAY "((19|2[0-9])(0[48]|[2468][048]|[13579][26])|2000|2400|2800)-02-29"
#define DAY "(" COMMON_DAY "|" LEAP_DAY ")"
#define CLOCK "[T ]([01][0-9]|2[0-3]):[0-5][0-9]"
#define ID "[A-Za-z0-9._\\-]{1,64}"

static const char *const dim_names[AB_DIM_MAX_] = {
	[AB_DIM_NONE] = "number", [AB_DIM_VOLUME] = "volume", [AB_DIM_MASS] = "mass", [AB_DIM_TEMP] = "temperature",
	[AB_DIM_TEMP_DIFF] = "difference", [AB_DIM_TIME] = "duration", [AB_DIM_PRESSURE] = "pressure",
	[AB_DIM_GRAVITY] = "gravity",
	[AB_DIM_LENGTH] = "length", [AB_DIM_SHARE] = "share", [AB_DIM_CO2] = "carbonation",
	[AB_DIM_CONC] = "concentration",
	[AB_DIM_DOSE] = "dose", [AB_DIM_CELLS] = "cells", [AB_DIM_BITTERNESS] = "bitterness",
	[AB_DIM_PH] = "ph", [AB_DIM_AREA] = "area",
	[AB_DIM_PACKS] = "packs", [AB_DIM_MONEY] = "money",
};

static const struct ab_record_doc *doc;
static const struct ab_elem_spec *elems[MOST];
static size_t n_elems;
static bool dims_used[AB_DIM_MAX_];

static const char *list_name(const char *const *words)
{
	for (const struct ab_word_list *l = ab_word_lists; l->name != NULL; l++)
		if (l->words == words)
			return l->name;
	fprintf(stderr, "a word list in the tables is not in ab_word_lists\n");
	exit(EXIT_FAILURE);
}

/* Elements of one name must be alike, for a name is all the schema knows them by. */
static void collect(const struct ab_elem_spec *specs)
{
	for (; specs != NULL && specs->name != NULL; specs++) {
		size_t i = 0;
		while (i < n_elems && strcmp(elems[i]->name, specs->name) != 0)
			i++;
		if (i < n_elems) {
			if (elems[i]->attrs != specs->attrs || elems[i]->children != specs->children) {
				fprintf(stderr, "two kinds of <%s>\n", specs->name);
				exit(EXIT_FAILURE);
			}
			continue;
		}
		elems[n_elems++] = specs;
		collect(specs->children);
	}
}

/* ---- attributes ---- */

/* The reader refuses a pitch told relative to pitching; in a profile's habits there is nothing to resolve. */
static bool is_origin(const struct ab_elem_spec *e, const struct ab_attr_spec *a)
{
	return doc == &ab_journal_doc && strcmp(e->name, "pitch") == 0 && strcmp(a->name, "at") == 0;
}

static void type_of(const struct ab_elem_spec *e, const struct ab_attr_spec *a)
{
	switch (a->kind) {
	case AB_ATTR_TEXT:
		printf(a->required ? "<ref name=\"said\"/>" : "<text/>");
		break;
	case AB_ATTR_ID:
		printf("<ref name=\"id\"/>");
		break;
	case AB_ATTR_IDS:
		printf("<ref name=\"ids\"/>");
		break;
	case AB_ATTR_QUANTITY:
		printf("<ref name=\"quantity-%s\"/>", dim_names[a->dim]);
		dims_used[a->dim] = true;
		break;
	case AB_ATTR_NUMBER:
		printf(
		    "<data type=\"decimal\"><param name=\"minInclusive\">%g</param>"
		    "<param name=\"maxInclusive\">%g</param></data>",
		    a->lo, a->hi);
		break;
	case AB_ATTR_WORD:
		printf("<ref name=\"words-%s\"/>", list_name(a->words));
		break;
	case AB_ATTR_YESNO:
		printf("<ref name=\"yes-no\"/>");
		break;
	case AB_ATTR_WHEN:
		printf("<ref name=\"%s\"/>", is_origin(e, a) ? "moment-told" : "moment");
		break;
	case AB_ATTR_DATE:
		printf("<ref name=\"date\"/>");
		break;
	}
}

/* libxml2's validator takes time exponential in the number of optional attributes present on one element (from
 * about 12 on it is felt), whichever way they are written; jing and editors do not. */
static void attributes(const struct ab_elem_spec *e)
{
	for (const struct ab_attr_spec *a = e->attrs; a != NULL && a->name != NULL; a++) {
		printf("      %s<attribute name=\"%s\">", a->required ? "" : "<optional>", a->name);
		type_of(e, a);
		printf("</attribute>%s\n", a->required ? "" : "</optional>");
	}
	if (e->may_guess)
		printf("      <optional><attribute name=\"guess\"><ref name=\"yes-no\"/></attribute></optional>\n");
	printf("      <zeroOrMore><ref name=\"other-attribute\"/></zeroOrMore>\n");
}

/* ---- elements ---- */

static void children(const struct ab_elem_spec *e)
{
	if (e->has_text) {
		printf("      <mixed><zeroOrMore><ref name=\"foreign\"/></zeroOrMore></mixed>\n");
		return;
	}
	if (e->children == NULL) {
		printf("      <zeroOrMore><ref name=\"foreign\"/></zeroOrMore>\n");
		return;
	}
	printf("      <interleave>\n");
	for (const struct ab_elem_spec *c = e->children; c->name != NULL; c++)
		printf(c->many ? "        <zeroOrMore><ref name=\"%s\"/></zeroOrMore>\n"
			       : "        <optional><ref name=\"%s\"/></optional>\n",
		    c->name);
	printf("        <zeroOrMore><ref name=\"foreign\"/></zeroOrMore>\n      </interleave>\n");
}

static void element(const struct ab_elem_spec *e)
{
	printf("  <define name=\"%s\">\n    <element name=\"%s\">\n      <a:documentation>%s</a:documentation>\n",
	    e->name, e->name, e->says);
	attributes(e);
	children(e);
	printf("    </element>\n  </define>\n\n");
}

static void start(void)
{
	const char *root = doc->root->name;
	printf("  <start>\n");
	if (doc->wrapper != NULL)
		printf(
		    "    <choice>\n      <ref name=\"%s\"/>\n      <element name=\"%s\">\n        <zeroOrMore>"
		    "<ref name=\"other-attribute\"/></zeroOrMore>\n"
		    "        <zeroOrMore><choice><ref name=\"%s\"/><ref name=\"foreign\"/></choice>"
		    "</zeroOrMore>\n      </element>\n    </choice>\n",
		    root, doc->wrapper, root);
	else
		printf("    <ref name=\"%s\"/>\n", root);
	printf("  </start>\n\n");
}

/* ---- what values look like ---- */

static void pattern(const char *name, const char *more, const char *text)
{
	printf(
	    "  <define name=\"%s\">\n    <data type=\"string\">"
	    "<param name=\"pattern\">\\s*%s\\s*</param>%s</data>\n  </define>\n",
	    name, text, more);
}

static void alternative(const char *more, const char *text)
{
	printf("      <data type=\"string\"><param name=\"pattern\">\\s*%s\\s*</param>%s</data>\n", text, more);
}

/* As text of XML. */
static const char *escaped(const char *text)
{
	static char to[8192];
	size_t n = 0;
	for (; *text != '\0' && n + 8 < sizeof to; text++)
		n += (size_t)snprintf(to + n, sizeof to - n,
		    *text == '<'       ? "&lt;"
			: *text == '>' ? "&gt;"
				       : "%c",
		    *text);
	to[n] = '\0';
	return to;
}

static void quantity(enum ab_dim dim)
{
	char name[64], text[512], units[128], whole[4096];
	snprintf(name, sizeof name, "quantity-%s", dim_names[dim]);
	snprintf(units, sizeof units, "%s", ab_dim_units(dim));
	if (dim == AB_DIM_TIME) {
		printf("  <define name=\"%s\">\n    <choice>\n", name);
		alternative("<param name=\"pattern\">[\\s\\S]*[0-9][\\s\\S]*</param>", SIGN SUM);
		alternative("",
		    escaped(ROUGH "((between " N "( ?" SPELLED ")? +and +|" N "( ?" SPELLED ")?" DASH ")?" N
				  " *" SPELLED "|" COUNTED " +" SPELLED "|" NIGHT ")" OR_SO));
		alternative("<param name=\"pattern\">[\\s\\S]*[0-9][\\s\\S]*</param>", escaped(ROUGH SUM OR_SO));
		printf("    </choice>\n  </define>\n");
		return;
	}
	if (dim == AB_DIM_MONEY) {
		pattern(name, "", "(" CURRENCY " ?" SIGN N "|" SIGN N "( ?" CURRENCY ")?)");
		return;
	}
	size_t n = (size_t)snprintf(text, sizeof text, "(");
	for (char *u = strtok(units, ","); u != NULL; u = strtok(NULL, ",")) {
		u += *u == ' ';
		if (strcmp(u, "or none") != 0)
			n += (size_t)snprintf(text + n, sizeof text - n, "%s%s", text[n - 1] == '(' ? "" : "|", u);
	}
	snprintf(text + n, sizeof text - n, dim == AB_DIM_PH ? ")?" : ")");
	snprintf(whole, sizeof whole,
	    ROUGH "((between " SIGN N "( ?%s)? +and +|" SIGN N "( ?%s)?" DASH ")?" SIGN N " ?%s)" OR_SO, text, text,
	    text);
	pattern(name, "", escaped(whole));
}

/* For an editor the plain words; for a hand also capitals, blanks and underscores, as the reader takes them. */
static void word(const char *text)
{
	for (const char *c = text; *c != '\0'; c++) {
		if (*c == '-' || *c == ' ')
			printf("[ _\\-]+");
		else if (*c >= 'a' && *c <= 'z')
			printf("[%c%c]", *c, *c - 'a' + 'A');
		else
			putchar(*c);
	}
}

/* What people also say is taken and not offered. */
static void words(const char *name, const char *const *list)
{
	printf("  <define name=\"%s\">\n    <choice>\n", name);
	for (size_t i = 0; list[i] != NULL; i++)
		printf("      <value>%s</value>\n", list[i]);
	printf("      <data type=\"string\"><param name=\"pattern\">\\s*(");
	for (size_t i = 0; list[i] != NULL; i++) {
		printf("%s", i > 0 ? "|" : "");
		word(list[i]);
	}
	for (size_t t = 0; t < 2; t++)
		for (const struct ab_alias *a = ab_by_hand.aliases[t]; a->said != NULL; a++)
			if (a->list == list) {
				putchar('|');
				word(a->said);
			}
	printf(")\\s*</param></data>\n    </choice>\n  </define>\n");
}

static bool list_used(const char *const *list)
{
	for (size_t i = 0; i < n_elems; i++)
		for (const struct ab_attr_spec *a = elems[i]->attrs; a != NULL && a->name != NULL; a++)
			if (a->words == list)
				return true;
	return false;
}

static void values(void)
{
	static const char *const yes_no[] = { "yes", "no", NULL };
	printf("  <!-- what values look like -->\n\n");
	printf(
	    "  <define name=\"said\">\n    <data type=\"string\">"
	    "<param name=\"pattern\">[\\s\\S]*\\S[\\s\\S]*</param></data>\n  </define>\n");
	pattern("id", "", ID);
	if (doc == &ab_profile_doc)
		printf("  <define name=\"ids\">\n    <data type=\"string\"><param name=\"pattern\">[\\s,]*(" ID
		       "([\\s,]+" ID ")*)?[\\s,]*</param></data>\n"
		       "  </define>\n");
	pattern("date", "", DAY);
	pattern("moment-told", "", DAY "(" CLOCK ")?");
	printf(
	    "  <define name=\"moment\">\n    <choice>\n      <ref name=\"moment-told\"/>\n      <data "
	    "type=\"string\"><param name=\"pattern\">"
	    "\\s*(" PACKAGING " *)?\\+" SUM
	    "\\s*</param><param name=\"pattern\">[\\s\\S]*[0-9][\\s\\S]*</param></data>\n    </choice>\n  </define>\n");
	words("yes-no", yes_no);
	for (int d = 0; d < AB_DIM_MAX_; d++)
		if (dims_used[d])
			quantity((enum ab_dim)d);
	for (const struct ab_word_list *l = ab_word_lists; l->name != NULL; l++) {
		char name[64];
		snprintf(name, sizeof name, "words-%s", l->name);
		if (list_used(l->words))
			words(name, l->words);
	}
}

static void others(void)
{
	printf(
	    "\n  <!-- everything of other namespaces is passed over -->\n\n"
	    "  <define name=\"other-attribute\">\n"
	    "    <attribute><anyName><except><nsName ns=\"\"/></except></anyName></attribute>\n"
	    "  </define>\n"
	    "  <define name=\"foreign\">\n"
	    "    <element><anyName><except><nsName/><nsName ns=\"\"/></except></anyName><ref name=\"anything\"/>"
	    "</element>\n"
	    "  </define>\n"
	    "  <define name=\"anything\">\n"
	    "    <zeroOrMore>\n      <choice>\n        <attribute><anyName/></attribute>\n        <text/>\n"
	    "        <element><anyName/><ref name=\"anything\"/></element>\n      </choice>\n    </zeroOrMore>\n"
	    "  </define>\n");
}

int main(int argc, char **argv)
{
	bool journal = argc == 2 && strcmp(argv[1], "journal") == 0;
	if (!journal && !(argc == 2 && strcmp(argv[1], "profile") == 0)) {
		fprintf(stderr, "usage: write_schema journal|profile\n");
		return EXIT_FAILURE;
	}
	doc = journal ? &ab_journal_doc : &ab_profile_doc;
	elems[n_elems++] = doc->root;
	collect(doc->root->children);
	printf(
	    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
	    "<!-- %s.rng - the schema of %s, for editors. Written by tests/unit/write_schema.c (make schemas); "
	    "not by hand.\n"
	    "     Ranges of quantities and what must fit together are beyond a schema: afterboil check tells of "
	    "those.\n"
	    "     SPDX-License-Identifier: GPL-3.0-or-later -->\n"
	    "<grammar xmlns=\"http://relaxng.org/ns/structure/1.0\" "
	    "xmlns:a=\"http://relaxng.org/ns/compatibility/annotations/1.0\"\n"
	    "    ns=\"%s\" datatypeLibrary=\"http://www.w3.org/2001/XMLSchema-datatypes\">\n\n",
	    argv[1], journal ? "batch journals" : "brewery profiles", doc->ns);
	start();
	for (size_t i = 0; i < n_elems; i++)
		element(elems[i]);
	values();
	others();
	printf("</grammar>\n");
	return EXIT_SUCCESS;
}

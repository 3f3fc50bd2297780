/* entrycase.c - what tests of typed lines share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "entrycase.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/journal.h>

struct entry_case ec;
const struct ab_alias ec_malts[] = {
	{ "2-row", "pale", ab_words_malt }, { "two-row", "pale", ab_words_malt },
	{ "maris otter", "pale", ab_words_malt }, { "pale ale malt", "pale", ab_words_malt },
	{ "caramel", "crystal", ab_words_malt }, { "chocolate malt", "roasted", ab_words_malt },
	{ "flaked barley", "adjunct", ab_words_malt },
	{ "biscuit malt", "other", ab_words_malt }, { "aromatic", "other", ab_words_malt },
};
const size_t ec_n_malts = sizeof ec_malts / sizeof *ec_malts;

void ec_setup(void)
{
	ec.arena = ab_arena_new();
	ck_assert_ptr_nonnull(ec.arena);
}

void ec_teardown(void)
{
	ab_arena_free(ec.arena);
}

const char *ec_word(void *ctx, const char *attr, const char *said)
{
	static const char *const ales[] = { "ale", "US ale", "clean-ale" };

	(void)ctx;
	for (size_t i = 0; strcmp(attr, "class") == 0 && i < sizeof ales / sizeof *ales; i++)
		if (strcmp(said, ales[i]) == 0)
			return "clean-ale";
	return NULL;
}

const char *ec_choice(void *ctx, const char *attr, size_t i)
{
	(void)ctx;
	return i > 0                     ? NULL
	    : strcmp(attr, "class") == 0 ? "clean-ale"
	    : strcmp(attr, "kind") == 0  ? "hydrometer-in-water"
					 : NULL;
}

struct ab_when ec_when(const char *text)
{
	struct ab_when when = { 0 };
	char why[200];

	ck_assert(text == NULL || ab_when_read(text, &when, why, sizeof why));
	return when;
}

enum ab_status ec_say(char units, const char *words, const char *now_text, const char *pitched_text)
{
	const struct ab_when now = ec_when(now_text), pitched = ec_when(pitched_text);
	const struct ab_entry_help help = { .units = units == 'm' ? 1 : units == 'u' ? 2 : 0, .now = &now,
		.pitched = pitched_text != NULL ? &pitched : NULL, .word = ec_word, .choice = ec_choice,
		.doubt = &ec.doubt, .words = ec_malts,
		.n_words = ec_n_malts, .last_sg = 1.020 };

	ab_diag_init(&ec.diag);
	return ab_entry_read(words, &now, &help, ec.arena, &ec.entry, &ec.diag);
}

void ec_elements(char *to, size_t size)
{
	to[0] = '\0';
	for (const struct ab_entry *e = ec.entry; e != NULL; e = e->next)
		for (const struct ab_entry *x = e; x != NULL; x = x->also) {
			size_t used = strlen(to);
			snprintf(to + used, size - used, "%s", x->element);
		}
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

/* What goes into the batch's own tag is no element in it. */
static void one_reads(const struct ab_entry *e, const char *words)
{
	struct ab_batch *batch = NULL;
	char text[2000];

	snprintf(text, sizeof text,
	    "<batch xmlns=\"urn:afterboil:journal:1\" id=\"a\" brewed=\"2031-03-01\">%s%s%s</batch>",
	    e->inside != NULL ? "<recipe>" : "", strcmp(e->name, "batch") == 0 ? "" : e->element,
	    e->inside != NULL ? "</recipe>" : "");
	ab_diag_init(&ec.diag);
	ck_assert_msg(
	    ab_journal_read_memory(text, strlen(text), "t", NULL, ec.arena, keep, &batch, &ec.diag) == AB_OK,
	    "%s: %s", words, ec.diag.text);
}

void ec_reads(const char *words)
{
	for (const struct ab_entry *e = ec.entry; e != NULL; e = e->next)
		for (const struct ab_entry *x = e; x != NULL; x = x->also)
			one_reads(x, words);
}

void ec_takes(char units, const char *words, const char *elements)
{
	char found[1000];

	ck_assert_msg(ec_say(units, words, NOW, PITCHED) == AB_OK, "%s: %s", words, ec.diag.text);
	ec_elements(found, sizeof found);
	ck_assert_msg(strcmp(found, elements) == 0, "%s\nwanted %s\nfound  %s", words, elements, found);
	ck_assert_uint_eq(ec.doubt.n, 0);
	ec_reads(words);
}

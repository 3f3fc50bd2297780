/* tiny.c - a small world of facts and rules for tests
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "tiny.h"

#include <check.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *const words_control[] = { "none", "room", "fridge", NULL };
static const char *const words_family[] = { "plain", "odd", NULL };
static const char *const words_agent[] = { "none", "acid", NULL };
static const char *const words_bottle[] = { "longneck", "heavy", NULL };
static const char *const words_gear[] = { "bucket", "jars", NULL };
static const char *const words_malt[] = { "pale", "dark", "other", NULL };
static const char *const words_space[] = { "none", "drawer", "cupboard", "floor", NULL };

static const struct ab_fact_def defs[T_FACTS] = {
	[T_OVER] = { "t.over", AB_FACT_NUMBER, "K", NULL, -40, 50, "warmth over the range", "How warm was it?",
	0, false },
	[T_OVER_MEAN] = { "t.over-mean", AB_FACT_NUMBER, "K", NULL, -40, 50, "mean warmth", NULL, 0, false },
	[T_PEAK] = { "t.peak", AB_FACT_NUMBER, "K", NULL, -40, 50, "peak warmth", NULL, 0, false },
	[T_CONTROL] = { "t.control", AB_FACT_WORD, "", words_control, 0, 0, "temperature control",
	"How is it cooled?", 1, false },
	[T_SEALED] = { "t.sealed", AB_FACT_FLAG, "", NULL, 0, 1, "sealed", "Was it sealed?", 0, true },
	[T_ODD] = { "t.odd", AB_FACT_FLAG, "", NULL, 0, 1, "an odd yeast", NULL, 0, false },
	[T_SHARE] = { "t.share", AB_FACT_NUMBER, "share", NULL, 0, 1, "a share", NULL, 0, false },
};
const struct ab_fact_table tiny_facts = { defs, T_FACTS };
const struct ab_vocabulary tiny_vocabulary = { words_family, words_agent, words_bottle, words_space, words_gear,
	NULL, words_malt };
/* Those that the tests of small worlds look at. */
static const double numbers[AB_NUMBERS] = { [AB_NUM_STILL_D] = 2.6,
	[AB_NUM_TOGETHER_D] = 14,
	[AB_NUM_MISSED_JUDGED] = 0.2,
	[AB_NUM_MISSED_UNSAID] = 0.6,
	[AB_NUM_MISSED_PLAIN] = 0.75,
	[AB_NUM_GONE_ANYWAY] = 0.3,
	[AB_NUM_DONE_RIGHT] = 0.85 };

const char tiny_body[] =
    "<fault id='butter' severity='3' source='estimate'><title>Butter</title><word>buttery</word><word>popcorn</word>\n"
    "  <leak noticeable='0.02' strong='0.005' source='estimate'/><caution>mind the butter</caution></fault>\n"
    "<fault id='apple' severity='2' source='estimate'><title>Green apple</title><word>green apples</word>"
    "<word>cidery</word>\n"
    "  <leak noticeable='0.03' strong='0.01' source='estimate'/>\n"
    "  <leak noticeable='0.09' strong='0.02' source='estimate'><when fact='t.odd' is='yes'/></leak>\n"
    "  <confused with='butter' share='0.1' source='estimate'/></fault>\n"
    "<cause id='warm' side='cold' stage='ferment'><title>Too warm</title><why>yeast hurries</why>"
    "<caution>mind the heat</caution>\n"
    "  <prior p='0.2' source='estimate'/><prior p='0.05' source='a survey'><when fact='t.control' is='fridge'/>"
    "</prior>\n"
    "  <gate says='it cannot'><when fact='t.sealed' is='yes'/><when fact='t.control' is='fridge'/></gate>\n"
    "  <sign fact='t.over' unit='K' group='heat' source='a book' for='it was warm' against='it was cool'>\n"
    "    <at x='-1' ratio='0.3'/><at x='1' ratio='1'/><at x='3' ratio='5'/><at x='6' ratio='15'/></sign>\n"
    "  <sign fact='t.peak' unit='K' group='heat' source='estimate'><at x='0' ratio='1'/><at x='6' ratio='8'/></sign>\n"
    "  <sign fact='t.control' source='estimate'><is word='none' ratio='2'/><is word='room' ratio='1.2'/></sign>\n"
    "  <gives fault='butter' noticeable='0.6' strong='0.2' source='estimate'/>\n"
    "  <gives fault='apple' noticeable='0.4' moderate='0.3' strong='0.1' source='a paper'/>\n"
    "  <gives fault='apple' noticeable='0.8' strong='0.4' source='estimate'><when fact='t.control' is='none'/>"
    "</gives></cause>\n"
    "<cause id='cold' side='cold' stage='ferment'><title>Too cold</title><why>yeast sleeps</why>\n"
    "  <prior p='0.1' source='a survey'/><gives fault='butter' noticeable='0.3' strong='0.05' source='a paper'/>"
    "</cause>\n"
    "<cause id='meant' side='cold' stage='pitch' kind='benign' expects='yes'><title>Meant to be so</title>"
    "<why>the yeast</why>\n"
    "  <prior p='0.3' source='estimate'/>\n"
    "  <gives fault='apple' noticeable='0.5' strong='0.2' source='estimate'><when fact='t.odd' is='yes'/>"
    "</gives></cause>\n"
    "<change id='cool' kind='habit' side='cold' stage='ferment' source='estimate'><title>Keep it cool</title>"
    "<how>so</how>\n"
    "  <sets fact='t.over' at-most='1 K' source='estimate'/><sets fact='t.control' to='room' source='estimate'/>\n"
    "  <prevents cause='warm' share='0.4' source='estimate'/>"
    "<prevents cause='cold' share='0.1' source='estimate'/></change>\n"
    "<change id='fridge' kind='upgrade' side='cold' stage='ferment' cost='120' running='1' "
    "running-per-year='10' minutes='5'\n"
    "  once-minutes='60' attend='12 h' space='drawer' noisy='yes' group='boxes' source='shops'>"
    "<title>A fridge</title><how>so</how>\n"
    "  <sets fact='t.over' at-most='0' source='estimate'/><prevents cause='warm' share='0.8' source='estimate'/>\n"
    "  <needs change='cool'/><only-for><when fact='t.odd' is='no'/></only-for><not-for>"
    "<when fact='t.share' over='0.5'/></not-for></change>\n"
    "<check id='smell' minutes='5' cost='1' wait='2 d' base='0.1' source='estimate'>"
    "<title>Does it smell warm?</title><how>sniff</how>\n"
    "  <yes cause='warm' p='0.7' source='estimate'/></check>\n"
    "<family id='odd'><title>odd ones</title><expects fault='apple' up-to='moderate' source='estimate'/>\n"
    "  <hurts fault='butter' factor='1.5' source='estimate'/><carbonation low='2 vol' high='3 vol' source='estimate'/>"
    "<freshness fading='60' stale='150' long-stale='500' source='estimate'/></family>\n"
    "<family id='plain'><title>plain ones</title><carbonation low='2.2 vol' high='2.6 vol' source='estimate'/>"
    "<freshness fading='60' stale='150' long-stale='500' source='estimate'/></family>\n"
    "<yeast id='ale' title='ale' stands-in='yes' low='17 C' high='20 C' tolerated-low='60 F' "
    "tolerated-high='22 C' attenuation-low='73 %'\n"
    "  attenuation-high='80 %' pitch-rate='0.75' rest='18 C' primary='7 d' clean='3 d' lag='24 h' fruity='yes' "
    "source='estimate'/>\n"
    "<sanitiser agent='acid' contact='1 min' keeps='28 d' no-rinse='yes' source='label'/>\n"
    "<bottle kind='heavy' limit='3.5 vol' limit-pressure='3 bar' source='estimate'/>\n";

enum { MOST_FOLDERS = 64 };
static char folders[MOST_FOLDERS][64];
static size_t n_folders;
static struct ab_arena *arenas[MOST_FOLDERS];
static size_t n_arenas;

void tiny_file(const char *folder, const char *name, const char *text)
{
	char path[256];
	snprintf(path, sizeof path, "%s/%s", folder, name);
	FILE *out = fopen(path, "w");
	ck_assert_ptr_nonnull(out);
	ck_assert_int_ge(fputs(text, out), 0);
	ck_assert_int_eq(fclose(out), 0);
}

const char *tiny_folder(const char *text, const char *more)
{
	size_t size = strlen(text) + strlen(more) + sizeof TINY_OPEN + sizeof TINY_CLOSE;
	char *whole = malloc(size), *folder = folders[n_folders];
	ck_assert(n_folders < MOST_FOLDERS);
	strcpy(folder, "/tmp/afterboil-test-XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(folder));
	n_folders++;
	snprintf(whole, size, "%s%s%s%s", TINY_OPEN, text, more, TINY_CLOSE);
	tiny_file(folder, "rules.xml", whole);
	free(whole);
	return folder;
}

void tiny_clean(void)
{
	while (n_folders > 0) {
		const char *folder = folders[--n_folders];
		char path[512];
		struct dirent *e;
		DIR *dir = opendir(folder);
		while (dir != NULL && (e = readdir(dir)) != NULL) {
			snprintf(path, sizeof path, "%s/%s", folder, e->d_name);
			if (e->d_name[0] != '.')
				unlink(path);
		}
		if (dir != NULL)
			closedir(dir);
		rmdir(folder);
	}
	while (n_arenas > 0)
		ab_arena_free(arenas[--n_arenas]);
}

struct ab_knowledge *tiny_read(const char *text, const char *more)
{
	const char *folder = tiny_folder(text, more);
	struct ab_knowledge *k = NULL;
	struct ab_diag diag;
	ab_diag_init(&diag);
	ck_assert(n_arenas < MOST_FOLDERS);
	struct ab_arena *arena = arenas[n_arenas++] = ab_arena_new();
	enum ab_status st = ab_knowledge_read(&folder, 1, &tiny_facts, &tiny_vocabulary, arena, &k, &diag);
	ck_assert_msg(st == AB_OK, "%s:%ld: %s", diag.source, diag.line, diag.text);
	for (size_t i = 0; i < AB_NUMBERS; i++)
		k->norms.numbers[i] = k->norms.numbers[i] > 0 ? k->norms.numbers[i] : numbers[i];
	return k;
}

struct ab_knowledge *tiny_rules(const char *more)
{
	return tiny_read(tiny_body, more);
}

struct ab_fact tiny_fact(double value)
{
	return (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = value };
}

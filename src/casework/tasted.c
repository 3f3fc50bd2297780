/* tasted.c - what was tasted, in a brewer's own words: "buttery 3, a bit of cardboard, not sour"
 *
 * Words are the vocabulary's; numbers and adverbs of strength become intensities. A word that no fault has is
 * answered with those that look like it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"
#include "casework/interviewing.h"

enum { MOST_PIECES = 12 };

/* One thing named. */
struct piece { const char *word; char text[CASE_LINE]; int intensity; bool absent; };

static const struct ab_tasting *last_tasting(const struct ab_interview *iv)
{
	const struct ab_list *tastings = &iv->now.batch->tastings;
	return tastings->n == 0 ? NULL : (const struct ab_tasting *)tastings->items + tastings->n - 1;
}

/* Complete: "that is all" was said. What stood in the journal before is taken as it stands. */
bool iv_is_tasted(const struct ab_interview *iv)
{
	const struct ab_tasting *t = last_tasting(iv);
	return iv->was_tasted || (t != NULL && t->complete == AB_YES);
}

static bool is_any(const char *text, const char *const *list)
{
	for (; *list != NULL; list++)
		if (strcmp(text, *list) == 0)
			return true;
	return false;
}

static bool is_all(const char *text)
{
	static const char *const all[] = { "", "no", "none", "nothing else", "that is all", "that's all", "thats all",
		"that is it", "that's it", "done", "all", "nothing more", "no more", "nope", "n", "end", "nothing",
		NULL };
	return is_any(text, all);
}

static bool is_nothing(const char *text)
{
	static const char *const nothing[] = { "nothing", "nothing wrong", "nothing is wrong", "none", "no fault", "fine",
		"it is fine", "it's fine", "all good", "good", "it is good", "it tastes good", "tastes good",
		"tastes fine", "ok", "okay", "nothing really", "no faults", "nothing at all", "great", NULL };
	return is_any(text, nothing);
}

static bool is_word(const struct ab_interview *iv, const char *text)
{
	size_t n;
	return text[0] != '\0' && ab_fault_word(iv->setup.k, text, NULL, 0, &n) >= 0;
}

/* ---- one piece ---- */

/* "it tastes like butter" to "butter". */
static const char *without_filler(const char *text)
{
	static const char *const fillers[] = { "it tastes", "tastes", "taste", "it smells", "smells", "smell", "it is",
		"it's", "its", "there is", "there's", "i taste", "i get", "i smell", "like", "of", "the beer is",
		"beer is", "has", "it has", "and", "also", "but", NULL };
	for (size_t i = 0; fillers[i] != NULL; i++) {
		size_t n = strlen(fillers[i]);
		if (strncmp(text, fillers[i], n) == 0 && text[n] == ' ')
			return without_filler(text + n + 1);
	}
	return text;
}

/* A number 1 to 5 at the end, after a blank, "=", ":" or in brackets, "/5" behind it or not: cut off. */
static int cut_intensity(char *text)
{
	size_t n = strlen(text);
	if (n > 2 && strcmp(text + n - 2, "/5") == 0)
		n -= 2;
	if (n > 1 && text[n - 1] == ')')
		n--;
	if (n < 2 || text[n - 1] < '1' || text[n - 1] > '5' || strchr(" =(:", text[n - 2]) == NULL)
		return 0;
	int intensity = text[n - 1] - '0';
	for (n--; n > 0 && strchr(" =(:", text[n - 1]) != NULL; n--)
		;
	text[n] = '\0';
	return intensity;
}

/* "5 buttery" too. */
static int lead_intensity(const char **text)
{
	if ((*text)[0] < '1' || (*text)[0] > '5' || (*text)[1] != ' ')
		return 0;
	*text += 2;
	return (*text)[-2] - '0';
}

/* As it stands first: "no head" is a fault and not a head that is absent. */
static bool read_piece(const struct ab_interview *iv, struct piece *p)
{
	p->intensity = cut_intensity(p->text);
	p->word = without_filler(p->text);
	int lead = lead_intensity(&p->word), strength = case_strength(&p->word);
	p->intensity = p->intensity > 0 ? p->intensity : lead > 0 ? lead : strength;
	p->word = without_filler(p->word);
	if (is_word(iv, p->word))
		return true;
	static const char *const nots[] = { "not too ", "not ", "no ", "without ", NULL };
	for (size_t i = 0; nots[i] != NULL; i++) {
		size_t n = strlen(nots[i]);
		if (strncmp(p->word, nots[i], n) == 0 && is_word(iv, p->word + n)) {
			p->word += n;
			p->absent = true;
			return true;
		}
	}
	return false;
}

/* ---- a line ---- */

/* Splits at commas, semicolons and "and"; a phrase that is one word of the vocabulary stays whole. */
static size_t split(const struct ab_interview *iv, const char *text, struct piece *pieces)
{
	size_t n = 0;
	struct piece whole = { .word = NULL };
	snprintf(whole.text, sizeof whole.text, "%s", text);
	if (read_piece(iv, &whole)) {
		pieces[0] = (struct piece){ .word = NULL };
		snprintf(pieces[0].text, sizeof pieces[0].text, "%s", text);
		return 1;
	}
	while (*text != '\0' && n < MOST_PIECES) {
		size_t len = strcspn(text, ",;+&");
		const char *and = strstr(text, " and ");
		size_t step = len + (text[len] != '\0');
		if (and != NULL && (size_t)(and - text) < len) {
			len = (size_t)(and - text);
			step = len + strlen(" and ");
		}
		pieces[n] = (struct piece){ .word = NULL };
		snprintf(pieces[n].text, sizeof pieces[n].text, "%.*s", (int)len, text);
		char *end = pieces[n].text + strlen(pieces[n].text);
		while (end > pieces[n].text && end[-1] == ' ')
			*--end = '\0';
		n += pieces[n].text[0] != '\0';
		text += step;
		text += strspn(text, " ");
	}
	return n;
}

static void say_unknown(struct ab_interview *iv, const char *word, struct ab_reply *reply)
{
	reply->n_near = 0;
	ab_fault_word(iv->setup.k, word, reply->near, sizeof reply->near / sizeof *reply->near, &reply->n_near);
	if (reply->n_near > sizeof reply->near / sizeof *reply->near)
		reply->n_near = sizeof reply->near / sizeof *reply->near;
	snprintf(iv->says, sizeof iv->says, "\"%.60s\" is no word I know for a fault.", word);
	reply->says = iv->says;
}

static void say_how(struct ab_interview *iv, struct ab_reply *reply)
{
	snprintf(iv->says, sizeof iv->says, "Name one thing in your own words, such as \"buttery\" or \"wet cardboard 4\"; "
	    "\"nothing\" when nothing is wrong; \"off\" when it is bad and you cannot say how.");
	reply->says = iv->says;
}

static void write_piece(struct iv_writing *w, const struct piece *p)
{
	char target[64];
	if (p->absent) {
		iv_set(w, "+tasting/absent fault", p->word, false);
		return;
	}
	if (p->intensity > 0)
		snprintf(target, sizeof target, "+tasting/found(intensity=%d) fault", p->intensity);
	iv_set(w, p->intensity > 0 ? target : "+tasting/found fault", p->word, false);
}

static enum ab_status push(struct ab_interview *iv, struct iv_writing *w, struct ab_reply *reply,
    struct ab_diag *diag)
{
	size_t len;
	char *text = iv_done(w, &len);
	enum ab_status st = text == NULL ? w->st : iv_push(iv, text, len, iv_now(iv)->asked, -1, diag);
	reply->taken = st == AB_OK;
	return st;
}

/* "I cannot say": no fault is made up for it. */
static bool ends_it(struct ab_interview *iv, const char *text)
{
	const struct ab_tasting *t = last_tasting(iv);
	bool some = t != NULL && t->found.n + t->absent.n > 0;
	return some ? is_all(text) || is_nothing(text) || case_is_unknown(text) : is_nothing(text);
}

enum ab_status iv_answer_taste(struct ab_interview *iv, const char *said, struct ab_reply *reply,
    struct ab_diag *diag)
{
	struct ab_edit_place place = iv_place(iv);
	struct piece pieces[MOST_PIECES];
	struct iv_writing w;
	char text[CASE_LINE];
	case_plain(said, text);
	iv_begin(&w, &place, iv->setup.today, diag);
	if (ends_it(iv, text)) {
		iv_set(&w, "tasting complete", "yes", false);
		return push(iv, &w, reply, diag);
	}
	if (case_is_unknown(text) || text[strcspn(text, "abcdefghijklmnopqrstuvwxyz\200")] == '\0') {
		say_how(iv, reply);
		return AB_OK;
	}
	size_t n = split(iv, text, pieces);
	for (size_t i = 0; i < n; i++)
		if (!read_piece(iv, &pieces[i])) {
			say_unknown(iv, pieces[i].word, reply);
			return AB_OK;
		}
	for (size_t i = 0; i < n; i++)
		write_piece(&w, &pieces[i]);
	struct ab_diag why;
	ab_diag_init(&why);
	enum ab_status st = push(iv, &w, reply, &why);
	if (st == AB_EIMPOSSIBLE || st == AB_EINPUT || st == AB_ELIMIT) {
		snprintf(iv->says, sizeof iv->says, "%.600s", why.text);
		reply->says = iv->says;
		return AB_OK;
	}
	return st == AB_OK ? AB_OK : ab_fail(diag, st, why.source, why.line, "%s", why.text);
}

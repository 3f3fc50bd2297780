/* taste_extent.c - who has it, as it is said: some bottles, every one, the tap alone, the first glass
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/taste_words.h"

#include <string.h>

/* "in one bottle only": at either end of what was said, or all of it. Of two that fit the longer is meant. */
static const struct { const char *said, *extent; } extents[] = {
	{ "one bottle only", "some-bottles" }, { "only one bottle", "some-bottles" },
	{ "in one bottle only", "some-bottles" }, { "only in one bottle", "some-bottles" },
	{ "in only one bottle", "some-bottles" }, { "just one bottle", "some-bottles" },
	{ "in just one bottle", "some-bottles" }, { "just in one bottle", "some-bottles" },
	{ "in one bottle", "some-bottles" }, { "one of the bottles", "some-bottles" },
	{ "in one of the bottles", "some-bottles" }, { "some bottles", "some-bottles" },
	{ "in some bottles", "some-bottles" }, { "some bottles only", "some-bottles" },
	{ "in some bottles only", "some-bottles" }, { "only some bottles", "some-bottles" },
	{ "only in some bottles", "some-bottles" }, { "in some of the bottles", "some-bottles" },
	{ "some of the bottles", "some-bottles" }, { "a few bottles", "some-bottles" },
	{ "in a few bottles", "some-bottles" }, { "only a few bottles", "some-bottles" },
	{ "a few bottles only", "some-bottles" }, { "not all bottles", "some-bottles" },
	{ "not in all bottles", "some-bottles" }, { "not every bottle", "some-bottles" },
	{ "not in every bottle", "some-bottles" }, { "every bottle", "every-bottle" },
	{ "in every bottle", "every-bottle" }, { "all bottles", "every-bottle" },
	{ "in all bottles", "every-bottle" }, { "in all the bottles", "every-bottle" },
	{ "in each bottle", "every-bottle" }, { "tap only", "tap-only" }, { "only tap", "tap-only" },
	{ "from the tap only", "tap-only" }, { "only from the tap", "tap-only" },
	{ "only from tap", "tap-only" }, { "only at the tap", "tap-only" }, { "only on tap", "tap-only" },
	{ "just from the tap", "tap-only" }, { "from the faucet only", "tap-only" },
	{ "only from the faucet", "tap-only" }, { "first pour only", "first-pour-only" },
	{ "only first pour", "first-pour-only" }, { "only the first pour", "first-pour-only" },
	{ "only in the first pour", "first-pour-only" }, { "first glass only", "first-pour-only" },
	{ "only the first glass", "first-pour-only" },
	{ "only in the first glass", "first-pour-only" }, { "in the first glass only", "first-pour-only" },
	{ "in the first pour only", "first-pour-only" },
};

const char *case_cut_extent(char *text)
{
	const char *found = NULL;
	size_t len = strlen(text), longest = 0, from = 0;

	for (size_t i = 0; i < sizeof extents / sizeof *extents; i++) {
		size_t n = strlen(extents[i].said);
		bool ends = n <= len && strcmp(text + len - n, extents[i].said) == 0 &&
		    (n == len || text[len - n - 1] == ' ');
		bool begins = n < len && strncmp(text, extents[i].said, n) == 0 && strchr(" :", text[n]) != NULL;
		if (n <= longest || !(ends || begins))
			continue;
		longest = n;
		from = ends ? len - n : 0;
		found = extents[i].extent;
	}
	if (found == NULL)
		return NULL;
	size_t behind = from + longest, past = from > 0 ? 0 : strspn(text + behind, " :");
	memmove(text + from, text + behind + past, strlen(text + behind + past) + 1);
	for (size_t end = strlen(text); end > 0 && text[end - 1] == ' ';)
		text[--end] = '\0';
	return found;
}

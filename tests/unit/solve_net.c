/* solve_net.c - reads a network from a plain text file and prints its marginals, for checks against other programs
 *
 * Lines: "cause P", "fault LEAK1 LEAK2 LEAK3 found GRADE|absent SENSITIVITY|unknown 0", "link CAUSE FAULT TAIL1
 * TAIL2 TAIL3" (numbers from 0; P a probability), "#" to the end of a line is a remark. Prints "evidence X", then
 * "present I X", "blame I X", then "story I 0|1" and "share X". Exit 3 for a line it cannot read.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/network.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "brute.h"

static int read_fault(struct brute_net *b, const char *line)
{
	struct ab_tail *t = &b->leak[b->net.n_faults];
	struct ab_finding *f = &b->finding[b->net.n_faults];
	char how[16];
	double x;

	t->at[0] = 1;
	if (sscanf(line, "fault %lf %lf %lf %15s %lf", &t->at[1], &t->at[2], &t->at[3], how, &x) != 5)
		return 0;
	*f = (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
	if (strcmp(how, "found") == 0)
		*f = (struct ab_finding){ AB_SEEN_FOUND, (int)x, 0 };
	else if (strcmp(how, "absent") == 0)
		*f = (struct ab_finding){ AB_SEEN_ABSENT, 0, x };
	b->net.n_faults++;
	return 1;
}

static int read_line(struct brute_net *b, const char *line)
{
	struct ab_link_to k = { 0, 0, { { 1, 0, 0, 0 } } };
	double p;

	if (b->net.n_causes == BRUTE_CAUSES || b->net.n_faults == BRUTE_FAULTS || b->net.n_links == BRUTE_LINKS)
		return 0;
	if (sscanf(line, "cause %lf", &p) == 1) {
		b->log_odds[b->net.n_causes++] = log(p / (1 - p));
		return 1;
	}
	if (sscanf(line, "link %d %d %lf %lf %lf", &k.cause, &k.fault, &k.tail.at[1], &k.tail.at[2],
		&k.tail.at[3]) == 5) {
		b->links[b->net.n_links++] = k;
		return 1;
	}
	return read_fault(b, line);
}

static int read_net(struct brute_net *b, const char *path)
{
	FILE *in = fopen(path, "r");
	char line[256];
	int ok = in != NULL;

	brute_bind(b, 0, 0, 0);
	while (ok && fgets(line, sizeof line, in) != NULL) {
		line[strcspn(line, "#\n")] = '\0';
		if (line[strspn(line, " \t")] != '\0' && !read_line(b, line)) {
			fprintf(stderr, "%s: cannot read: %s\n", path, line);
			ok = 0;
		}
	}
	if (in != NULL)
		fclose(in);
	return ok;
}

int main(int argc, char **argv)
{
	static struct brute_net b;
	static double present[BRUTE_CAUSES], blame[BRUTE_CAUSES];
	static unsigned char story[BRUTE_CAUSES];
	struct ab_beliefs beliefs = { .present = present, .blame = blame, .story = story };
	struct ab_diag diag;

	ab_diag_init(&diag);
	if (argc != 2 || !read_net(&b, argv[1]))
		return 3;
	if (ab_net_solve(&b.net, &beliefs, &diag) != AB_OK) {
		fprintf(stderr, "%s: %s\n", argv[1], diag.text);
		return 1;
	}
	printf("evidence %.17g\n", exp(beliefs.log_evidence));
	for (size_t i = 0; i < b.net.n_causes; i++)
		printf("present %zu %.17g\nblame %zu %.17g\n", i, present[i], i, blame[i]);
	for (size_t i = 0; i < b.net.n_causes; i++)
		printf("story %zu %d\n", i, story[i]);
	printf("share %.17g\n", beliefs.story_share);
	return 0;
}

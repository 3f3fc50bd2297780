/* making.h - one run of "new": all that is decided before anything is written
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_MAKING_H
#define AB_CLI_MAKING_H

#include "cli/cli.h"
#include <afterboil/newbatch.h>

enum { MOST_TRIALS = 4, MOST_NOTES = MOST_TRIALS + 2 };

struct making {
	struct cli *cli;
	const char *beer;               /* as typed */
	struct ab_newbatch b;
	char *like_text;                /* for ab_free */
	const char *stem;
	const char *next_time; const struct ab_batch *next_of;
	const struct ab_changed *trials[MOST_TRIALS]; size_t n_trials;
	const char *notes[MOST_NOTES];
	struct ab_num volume;
	bool settled;                   /* which beer it is was asked, or is plain */
};

/* Fails with the beers there are, newest first, for who did not say which. */
enum ab_status new_which_beer(struct cli *cli);
/* Which beer the name means, what the journal is to be like, its title, line, stem and family; a name like one that
 * is there may be a slip: asked before anything is written, and where nobody can be asked it must be said
 * (AB_EUSAGE). */
enum ab_status new_choose_beer(struct making *m);

#endif

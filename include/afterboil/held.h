/* held.h - how much a change keeps a cause away here, learned from the batches brewed without and with it
 *
 * The model. How often the cause would strike without the change is one unknown rate for all batches, with a
 * Beta prior worth AB_HELD_RATE_BATCHES batches about what the rules expect. With the change in force each
 * strike that would have come is held off with an unknown chance, the change's share, with a Beta prior worth
 * AB_HELD_SHARE_BATCHES strikes about the share that was expected (both worths are estimates). Of each batch one
 * number is known: how many times likelier all that was seen of it is with the cause in it than without. All
 * is summed over every way the cause can have struck and been held off (Polya's urn: beta-binomial sums, positive
 * terms only), so it is exact for the model. With batches that are sure it is the beta-binomial of the textbooks.
 * Assumed: batches are alike but for the change; what is seen of one does not hang on another.
 *
 * Two things of the real brewery come in through the ratio, so that the sums stay exact. A batch long ago tells of
 * today with some chance only, else of nothing: its chance after is drawn towards that before. And where other
 * changes hold off a part as well, what they held off looks as if nothing had come.
 *
 * The ratio serves the verdicts looked at again too (revise.h); the share serves advice (advice.h, learned).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_HELD_H
#define AFTERBOIL_HELD_H

#include <stdbool.h>
#include <stddef.h>

/* Of a longer row the newest count. */
enum { AB_HELD_MOST = 60, AB_HELD_RATE_BATCHES = 2, AB_HELD_SHARE_BATCHES = 4 };

/* A brewer gets better (or worse) by themselves, too. From batch to batch the logarithm of how often the cause
 * would come moves by an unknown step, normal about 0 with this standard deviation (estimate: of three brewers two
 * see it at most halve or double by itself within four batches: ln 2 / 4). With fewer batches than
 * AB_HELD_DRIFT_LEAST hardly anything but this prior tells the two apart: then it must be said that a change may
 * only have come along with it. */
#define AB_HELD_DRIFT 0.17
enum { AB_HELD_DRIFT_LEAST = 8 };

/* ratio: P(what was seen | the cause struck) / P(what was seen | it did not); 0 = surely not, INFINITY = surely.
 * with: brewed with the change in force. */
struct ab_exposed { double ratio; bool with; };

/* prior: the share expected. It struck in `struck` of the batches without the change (mean); of those with it it
 * would have struck in `would`, and was held off in `held` of them. share, sd: what to believe now, and its standard
 * deviation. log_evidence: of all that was seen, against its chance were the cause in none. */
struct ab_share_learned { double prior, struck, would, held, share, sd, log_evidence; };

/* The ratio of a batch from the chance of the cause before anything of it was known and after; 1 = told nothing,
 * also where the cause was impossible from the start (before is 0 or 1). */
double ab_exposed_ratio(double before, double after);
/* The same of a batch that tells of today with the chance `tells` (0 to 1) only. */
double ab_exposed_faded(double before, double after, double tells);
/* The ratio where other changes leave but the share `left` (0 to 1) of the strikes. */
double ab_exposed_beside(double ratio, double left);

/* share, rate: strictly between 0 and 1, moved inside when they are not. Batches oldest first. With no batch
 * `with`, share is prior to the last bit. */
struct ab_share_learned ab_held_share(double share, double rate, const struct ab_exposed *batches, size_t n);

/* The same, the drift above allowed for: summed over its steps (every half standard deviation, to four), each
 * weighed by how well it explains the batches; rate is then the mean over these. So a change is credited with what
 * came beyond a steady drift, and of what both explain with its part. place: of each batch in the order of brewing.
 * At most AB_HELD_MOST batches, of which the newest count; struck, would and held are means as well. */
struct ab_share_learned ab_held_share_drifting(
    double share, double rate, const struct ab_exposed *batches, const double *place, size_t n);

#endif

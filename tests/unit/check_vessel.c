/* check_vessel.c - vessels, transfers, dry hops, sights
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"

static const struct fact_row rows[] = {
	{ .title = "kind of the first", "<vessel kind='bucket'/><vessel kind='glass' second='yes'/>", "vessel.kind", 0, 0, .word = "bucket" },
	{ .title = "oldest", "<vessel age='1 y'/><vessel age='4 y'/>", "vessel.age", 4 * 365.25, 1e-6 },
	{ .title = "scratched", "<vessel scratched='no'/><vessel scratched='yes'/>", "vessel.scratched", 1, 0 },
	{ .title = "smelling bucket among the gear", "<gear item='fermenter' smells='yes'/>", "vessel.scratched", 1, 0 },
	{ .title = "a bucket that does not smell is not judged by it", "<gear item='fermenter' smells='no'/>", "vessel.scratched", AB_SILENT },
	{ .title = "a smelling hose is no vessel", "<gear item='hose' smells='yes'/>", "vessel.scratched", AB_SILENT },
	{ .title = "sealed", "<vessel sealed='yes'/>", "vessel.sealed", 1, 0 },
	{ .title = "one not sealed", "<vessel sealed='yes'/><vessel sealed='no'/>", "vessel.sealed", 0, 0 },
	{ .title = "flies", "<vessel flies='yes'/>", "vessel.flies", 1, 0 },
	{ .title = "held sour", "<vessel held-sour='no'/>", "vessel.held-sour", 0, 0 },
	{ .title = "hose shared with sours", "<vessel held-sour='no'/><gear item='hose' shared-sour='yes'/>", "vessel.held-sour", 1, 0 },
	{ .title = "second", "<vessel second='yes'/>", "vessel.second", 1, 0 },
	{ .title = "one of two is the second", "<vessel second='no'/><vessel second='yes'/>", "vessel.second", 1, 0 },
	{ .title = "and in the other order", "<vessel second='yes'/><vessel second='no'/>", "vessel.second", 1, 0 },
	{ .title = "second by a move", "<vessel id='a'/><vessel id='b'/><transfer to='b'/>", "vessel.second", 1, 0, NULL, AB_ORIGIN_DERIVED },
	{ .title = "a move to the first is none", "<vessel id='a'/><vessel id='b'/><transfer to='a'/>", "vessel.second", AB_SILENT },
	{ .title = "second's air", "<vessel second='yes' headspace='3 L'/>", "vessel.second-headspace", 3, 0 },
	{ .title = "second's air by volumes", "<recipe volume='19 L'/><vessel second='yes' volume='23 L'/>", "vessel.second-headspace", 4, 1e-9 },
	{ .title = "first's air is CO2", "<vessel headspace='3 L'/>", "vessel.second-headspace", AB_SILENT },
	{ .title = "open", "<opened for='5 min'/><opened for='1 min'/>", "vessel.open-time", 6, 1e-9 },
	{ .title = "a look", "<opened/>", "vessel.open-time", 2, 1e-9, .u = 1.4 },
	{ .title = "most light", "<vessel light='dark'/><vessel light='window'/>", "vessel.light", 0, 0, .word = "window" },
	{ .title = "crash", "<crash at='+8d' airlock='blow-off' sucked-back='yes'/>", "crash.airlock", 0, 0, .word = "blow-off" },
	{ .title = "sucked back", "<crash at='+8d' airlock='airlock' sucked-back='yes'/>", "crash.sucked-back", 1, 0 },
	/* transfers */
	{ .title = "splashed", "<transfer splashed='yes'/>", "transfer.splashed", 1, 0 },
	{ .title = "poured", "<transfer how='poured'/>", "transfer.splashed", 1, 0, NULL, AB_ORIGIN_DERIVED },
	{ .title = "siphoned", "<transfer how='siphon'/>", "transfer.splashed", AB_SILENT },
	{ .title = "by mouth", "<transfer by-mouth='yes'/>", "transfer.by-mouth", 1, 0 },
	{ .title = "worst target", "<transfer target='purged'/><transfer target='air-filled'/>", "transfer.target", 0, 0, .word = "air-filled" },
	/* dry hops */
	{ .title = "load", "<recipe volume='20 L'/><dry-hop at='+5d' amount='60 g'/><dry-hop at='+7d' amount='40 g'/>", "hops.dry-load", 5, 1e-9 },
	{ .title = "load by the plan", "<recipe volume='20 L'><hop use='dry' amount='80 g'/><hop use='bittering' amount='20 g'/></recipe>", "hops.dry-load", 4, 1e-9 },
	{ .title = "no dry hops told", "<recipe volume='20 L'/>", "hops.dry-load", AB_SILENT },
	{ .title = "contact as told", "<dry-hop at='+5d' contact='3 d'/>", "hops.dry-contact", 3, 1e-9 },
	{ .title = "contact to packaging", "<dry-hop at='+5d'/><package at='+9d'/>", "hops.dry-contact", 4, 1e-9 },
	{ .title = "contact to the crash", "<dry-hop at='+5d'/><crash at='+7d'/><package at='+9d'/>", "hops.dry-contact", 2, 1e-9 },
	{ .title = "opened worst", "<dry-hop at='+5d' opened='purged'/><dry-hop at='+6d' opened='open-lid'/>", "hops.dry-opened", 0, 0, .word = "open-lid" },
	{ .title = "last to packaging", "<dry-hop at='+3d'/><dry-hop at='+7d'/><package at='+9d'/>", "hops.dry-to-package", 2, 1e-9 },
	{ .title = "no dry hop, no days", "<package at='+9d'/>", "hops.dry-to-package", AB_SILENT },
	/* sights */
	{ .title = "still", "<looks airlock-still='yes'/>", "looks.airlock-still", 1, 0 },
	{ .title = "still once", "<looks airlock-still='yes'/><looks airlock-still='no'/>", "looks.airlock-still", 1, 0 },
	{ .title = "ring once", "<looks neck-ring='no'/><looks neck-ring='yes'/>", "looks.neck-ring", 1, 0 },
	{ .title = "nearby once", "<looks smell-nearby='yes'/><looks smell-nearby='no'/>", "looks.smell-nearby", 1, 0 },
	{ .title = "film seen once", "<looks film='no'/><looks film='yes'/>", "looks.film", 1, 0 },
	{ .title = "ring", "<looks neck-ring='no'/>", "looks.neck-ring", 0, 0 },
	{ .title = "nearby", "<looks smell-nearby='yes'/>", "looks.smell-nearby", 1, 0 },
};

int main(void)
{
	return fact_rows_run("vessel", rows, sizeof rows / sizeof *rows, NULL);
}

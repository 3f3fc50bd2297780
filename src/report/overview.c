/* overview.c - the report page: its order, and its look
 *
 * What to do next comes first, then how it goes, then the newest batches, then the plan; whoever reads on
 * finds the reasons.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/overview.h>

#include <string.h>

#include "report/figures.h"
#include "report/reports.h"
#include "report/saying.h"

/* Our own look: paper and ink, teal for what is well, plum for what is not, amber for care. The figures'
 * shapes differ too, for eyes that do not tell these apart, and in print. */
static const char STYLE[] =
    "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n"
    "<style>:root{--ink:#222;--soft:#5c5c5c;--paper:#fdfcf8;--rule:#d9d5c8;--good:#06606c;--bad:#8a1f6b;--calm:#3d5a80;--care:#7a4d00;"
    "--range:#dcebe4;--guess:#e3dccb;--whisk:#8a8578}"
    "@media(prefers-color-scheme:dark){:root{--ink:#e9e6de;--soft:#b0aca0;--paper:#1b1a17;--rule:#45423a;--good:#6cc5cf;--bad:#e08cc8;"
    "--calm:#9db8dc;--care:#e8b75c;--range:#24403a;--guess:#3d382c;--whisk:#8f8a7c}}"
    "@media print{:root{--ink:#000;--soft:#333;--paper:#fff;--rule:#bbb;--good:#06606c;--bad:#8a1f6b;--calm:#3d5a80;--care:#7a4d00;"
    "--range:#e4efe9;--guess:#eee8da;--whisk:#777}.slider{display:none}figure,section{break-inside:avoid}}"
    "body{color:var(--ink);background:var(--paper)}nav a,summary{color:var(--good)}"
    ".quiet,figcaption{color:var(--soft)}.good{color:var(--good)}.bad{color:var(--bad)}.careful{color:var(--care)}"
    "section{margin:2.2em 0}h3{font-size:1em;margin:.6em 0 .2em}figure{margin:1em 0 1.6em}figcaption{font-size:.92em;max-width:46em}"
    "svg{display:block;width:100%;max-width:40em;height:auto;font:13px sans-serif;fill:var(--ink)}"
    "svg .grid{stroke:var(--rule);stroke-width:.7}svg .axis{stroke:var(--soft);stroke-width:1}svg .tick,svg .unit,svg .note{fill:var(--soft);font-size:12px}"
    "svg .line{fill:none;stroke-width:1.8;stroke:var(--calm)}svg .line.beer{stroke:var(--ink)}svg .line.room{stroke:var(--soft);stroke-dasharray:2 3}"
    "svg .line.guessed{stroke:var(--care);stroke-dasharray:7 3}svg .line.now{stroke:var(--soft);stroke-dasharray:3 3}svg .line.thin{stroke-width:.9}"
    "svg polygon.guess{fill:var(--guess)}svg rect.range{fill:var(--range)}"
    "svg circle{fill:var(--ink)}svg circle.ring{fill:var(--paper);stroke:var(--soft);stroke-width:1.5}svg circle.good.ring{stroke:var(--good)}"
    "svg .fill.bad{fill:var(--bad)}svg .fill.good{fill:var(--good)}svg .fill.calm{fill:var(--calm)}"
    "svg .fill.limit{fill:none;stroke:var(--ink);stroke-width:1.3;stroke-dasharray:4 2}svg circle.touch{fill:var(--calm)}"
    "svg .whisker{stroke:var(--whisk);stroke-width:1.6;fill:none}svg .mark{stroke:var(--good);stroke-width:1.2}svg .mark.soft{stroke:var(--soft);stroke-dasharray:2 3}"
    "td{overflow-wrap:break-word}td.r{white-space:nowrap}.tab{overflow-x:auto}.slider{margin:.4em 0 1.4em}.slider input{width:min(24em,90%);accent-color:var(--good)}"
    "details{margin:.3em 0}.next{border-left:4px solid var(--good);padding:.2em 0 .2em 1em;margin:1em 0}</style>\n";

/* The page reads without it; it only wakes the slider. */
static const char SCRIPT[] =
    "<script>(function(){var s=document.getElementById('budget');if(!s)return;var o=document.getElementById('budget-says'),"
    "t=s.dataset.steps.split(';').map(function(x){return x.split('|')});function f(){var x=t[+s.value];"
    "o.textContent=(x[0]==='nothing'?'Free changes alone':'The best use of '+x[0])+' leaves a flaw load of '+x[1];}"
    "s.parentNode.hidden=false;s.addEventListener('input',f);f();})();</script>\n";

static void open_section(struct page *p, const char *id)
{
	page_end(p);
	ab_str_addf(&p->out, "<section id=\"%s\">\n", id);
}

static void close_section(struct page *p)
{
	page_end(p);
	ab_str_add(&p->out, "</section>\n");
}

static void say_next_step(struct page *p, const struct ab_overview *o)
{
	const struct ab_advice *a = o->advice;

	page_end(p);
	ab_str_add(&p->out, "<div class=\"next\">\n");
	page_begin(p, 0);
	page_say(p, LOUD, "Do this next: ");
	if (a == NULL || a->n_plan == 0 || a->next < 0) {
		page_say(p, PLAIN, "nothing new. Brew the same beer again and keep notes.");
	} else {
		const struct ab_item *item = &a->items[a->next];
		page_say(p, PLAIN,
		    page_text(p, "%s (%s). ", o->k->changes[item->change].title,
			item->cost > 0 ? say_money(p, item->cost) : "free"));
		page_say(
		    p, PLAIN, o->k->changes[item->change].how != NULL ? o->k->changes[item->change].how : "");
	}
	page_end(p);
	ab_str_add(&p->out, "</div>\n");
}

static void say_summary(struct page *p, const struct ab_overview *o)
{
	size_t tasted = 0, clean = 0;

	for (size_t i = 0; i < o->n_cases; i++) {
		tasted += o->cases[i]->tasted;
		clean += o->cases[i]->tasted && !(o->cases[i]->load > 0);
	}
	page_title(p, "Your beer");
	page_para(p, 0, PLAIN,
	    page_text(p, "%s, brewed from %s to %s; %zu tasted, %zu of them clean.",
		say_count(p, o->n_cases, "batch", "batches"), say_date(p, o->cases[0]->batch->brewed.s),
		say_date(p, o->cases[o->n_cases - 1]->batch->brewed.s), tasted, clean));
	say_next_step(p, o);
}

static void tell_batch(struct page *p, const struct ab_overview *o, size_t which, int n)
{
	const struct batch_figures b = { p, o->k, o->profile, o->cases[which], n };

	open_section(p, page_text(p, "batch-%d", n));
	report_diagnosis_text(p, o->k, b.c);
	if (!b.c->diagnosis->nothing_found)
		figure_causes(&b);
	figure_temperature(&b);
	figure_gravity(&b);
	figure_touches(&b);
	figure_oxygen(&b);
	figure_pressure(&b);
	close_section(p);
}

static void tell_trend(struct page *p, const struct ab_overview *o)
{
	if (o->trend == NULL || o->n_batches == 0)
		return;
	open_section(p, "trend");
	report_trend_text(p, o->k, o->batches, o->n_batches, o->trend, o->promises, o->n_promises);
	figure_loads(p, o->k, o->batches, o->n_batches);
	close_section(p);
}

static void tell_plan(struct page *p, const struct ab_overview *o)
{
	if (o->advice == NULL)
		return;
	open_section(p, "plan");
	report_advice_text(p, o->k, o->advice);
	figure_plan(p, o->k, o->advice);
	figure_frontier(p, o->k, o->advice);
	close_section(p);
}

static void put_contents(struct page *p, const struct ab_overview *o)
{
	page_end(p);
	ab_str_add(&p->out, "<nav aria-label=\"On this page\">On this page: ");
	if (o->trend != NULL && o->n_batches > 0)
		ab_str_add(&p->out, "<a href=\"#trend\">the trend</a>");
	for (size_t i = 0; i < o->n_shown; i++) {
		ab_str_addf(&p->out, "%s<a href=\"#batch-%zu\">batch ",
		    i > 0 || o->trend != NULL ? " \302\267 " : "", i + 1);
		page_escaped(p, o->cases[o->shown[i]]->batch->id);
		ab_str_add(&p->out, "</a>");
	}
	if (o->advice != NULL)
		ab_str_add(&p->out, " \302\267 <a href=\"#plan\">the plan</a>");
	ab_str_add(&p->out, "</nav>\n<main>\n");
}

enum ab_status ab_report_overview(const struct ab_overview *o, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	struct ab_look html = *look;
	struct page p;

	html.format = AB_HTML;
	html.unicode = true;
	page_start_with(&p, &html, "Your beer: a report", STYLE);
	if (o->n_cases > 0)
		say_summary(&p, o);
	put_contents(&p, o);
	p.level = 1;
	tell_trend(&p, o);
	for (size_t i = 0; i < o->n_shown; i++)
		tell_batch(&p, o, o->shown[i], (int)i + 1);
	tell_plan(&p, o);
	page_end(&p);
	ab_str_add(&p.out, "</main>\n");
	ab_str_add(&p.out, SCRIPT);
	return page_finish(&p, out, diag);
}

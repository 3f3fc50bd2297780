// numbers.js - what the page's tables say is what the other commands give as data
//
// Rounding is done here again, from the data: halves away from zero, as a reader of the data would.
//
// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';
const fs = require('fs');
const path = require('path');

function fixed(x, digits) {
	const whole = Math.floor(Math.abs(x) * 10 ** digits + 0.5);
	return (x < 0 && whole > 0 ? '-' : '') + (whole / 10 ** digits).toFixed(digits);
}
const percent = (x) => (x <= 0 ? '0 %' : x < 0.005 ? 'under 1 %' : x >= 0.995 ? 'over 99 %' : Math.floor(100 * x + 0.5) + ' %');
const money = (x, none) => (x > 0 ? '$' + (Math.abs(x - Math.round(x)) < 0.005 ? Math.round(x) : fixed(x, 2)) : none);
const short = (x, digits) => fixed(x, digits).replace(/(\.\d*?)0+$/, '$1').replace(/\.$/, '');

// The rows behind a figure (or in a folded table) of this id, without the heads.
const rows_of = (p, id) => p.evaluate((name) => {
	const title = document.getElementById(name + '-t'), place = title ? title.closest('figure') : document.getElementById(name);
	return place === null ? null : [...place.querySelectorAll('tbody tr')].map((r) => [...r.cells].map((c) => c.textContent.trim()));
}, id);

const first = (rows, n) => rows.map((r) => r.slice(0, n));

async function compare(p, folder, say) {
	const data = (name) => JSON.parse(fs.readFileSync(path.join(folder, name + '.json')));
	const diagnose = data('diagnose'), advise = data('advise'), trend = data('trend'), brews = data('compare');
	const hold = async (title, id, wanted, columns) => {
		const rows = await rows_of(p, id), said = rows === null ? null : columns ? rows.map((r) => columns.map((c) => r[c])) : rows;
		say('as the data: ' + title, wanted.length > 0 && JSON.stringify(said) === JSON.stringify(wanted) ? []
			: [`wanted ${JSON.stringify(wanted)}`, `found ${JSON.stringify(said)}`]);
	};

	await hold('loads', 'loads', trend.batches.map((b) => [b.id, b.brewed.slice(0, 10), !b.tasted ? 'not tasted' : b.load > 0 ? fixed(b.load, 1) : 'none']), [0, 1, 2]);
	const faults = await rows_of(p, 'faults') || [];
	const wanted = trend.batches.map((b) => Object.values(b.faults || {}).filter((x) => x > 0).map((x) => fixed(x, 1)).sort());
	say('as the data: fault by fault', faults.length === trend.batches.length && faults.length > 0
		? faults.flatMap((r, i) => (r[0] === trend.batches[i].id && r.slice(1).filter((x) => x !== '' && x !== 'not tasted').every((x) => wanted[i].includes(x)) ? [] : [r.join(' ')]))
		: [`${faults.length} rows`]);
	const load = (x, n) => (n === 0 ? 'not tasted' : `${fixed(x, 1)} (${n})`);
	// from eight tasted batches on with a steady drift taken out
	const chance = (c) => (c.n_before + c.n_after >= 8 && c.allowed_p_better !== null ? [c.allowed_p_better, c.allowed_low, c.allowed_high] : [c.p_better, c.low, c.high]);
	await hold('before and after, and promises', 'changes', trend.changes.map((c) => [c.date.slice(0, 10), load(c.before, c.n_before), load(c.after, c.n_after),
		c.p_better === null ? 'cannot tell' : percent(chance(c)[0]), c.p_better === null ? '' : `${fixed(chance(c)[1], 1)} to ${fixed(chance(c)[2], 1)}`,
		c.promised === null ? '' : `${fixed(c.promised.before, 1)} to ${fixed(c.promised.after, 1)}`]), [1, 2, 3, 4, 5, 6]);
	say('one of them was promised', trend.changes.some((c) => c.promised !== null) ? [] : ['none']);
	for (let i = 0; i < trend.charts.length; i++) {
		const rows = await rows_of(p, `habit-${i + 1}`) || [], points = trend.charts[i].points;
		const wrong = points.filter((point, n) => rows[n] === undefined || rows[n][0] !== point.batch || Math.abs(Number(rows[n][1]) - point.value) > 0.0501 ||
			(rows[n][2] === 'stands out') !== point.odd);
		say(`as the data: ${trend.charts[i].fact}`, rows.length === points.length && points.length > 0 ? wrong.map((w) => w.batch) : [`${rows.length} rows`]);
	}
	await hold('what is shared', 'common', trend.common.slice(0, 12).map((c) => [`${c.bad} of ${c.bad_all}`, `${c.good} of ${c.good_all}`, percent(c.p_adjusted)]), [1, 2, 3]);
	const strength = (x) => (x > 0 ? short(x, 1) : 'not found');
	await hold('two brews', 'brews', brews.faults.map((f) => [strength(f.a), strength(f.b)]), [1, 2]);

	await hold('the plan', 'plan', advise.plan.map((i) => [i.title, fixed(i.joint_gain, 2), i.unused ? 'owned' : money(i.cost, 'free'), fixed(i.minutes, 0), percent(i.stays)]));
	const spent = (i) => i.cost + i.running_cost * advise.horizon_years;   // to buy and to run
	const title = (id) => advise.ranked.find((i) => i.id === id).title;
	await hold('the frontier', 'frontier', advise.frontier.map((s) => [money(s.cost, 'nothing'), fixed(s.load, 2), s.buys.map(title).join('; ')]));
	say('and what is bought costs just that', advise.frontier.filter((s) => Math.abs(s.buys.reduce((sum, id) => sum + spent(advise.ranked.find((i) => i.id === id)), 0) - s.cost) > 0.005).map((s) => s.cost));
	const paid = advise.plan.filter((i) => spent(i) > 0);
	const unit = 10 ** Math.max(0, Math.floor(Math.log10(Math.max(...paid.map(spent))) - 0.5)), per = (i) => Math.max(0, i.joint_gain) / spent(i) * unit;
	await hold('what money brings', 'worth', paid.sort((a, b) => per(b) - per(a)).map((i) => [i.title, fixed(i.joint_gain, 2), money(spent(i), 'nothing'), fixed(per(i), 3)]));

	const shown = await p.evaluate(() => [...document.querySelectorAll('nav a[href^="#batch-"]')].map((a) => [a.hash.slice(7), a.textContent.replace('Batch ', '')]));
	say('three batches are told in full', shown.length === 3 ? [] : [shown.length]);
	for (const [n, id] of shown) {
		const d = diagnose.find((x) => x.batch === id);
		if (d.found.length > 0)
			await hold(`causes of ${id}`, `b${n}-causes`, d.causes.slice(0, 6).map((c) => [c.title, percent(c.blame), `${percent(c.blame_low)} to ${percent(c.blame_high)}`, percent(c.present)]));
	}
	// the last word of the frontier's text equivalent is drawn where it says
	const dots = await p.evaluate(() => [...document.getElementById('frontier-t').closest('svg').querySelectorAll('circle')].map((c) => Number(c.getAttribute('cy'))));
	say('a lower load is drawn lower', first(advise.frontier.map((s, i) => [s.load, dots[i]]), 2).every(([l, y], i, a) => i === 0 || l > a[i - 1][0] === y < a[i - 1][1] || l === a[i - 1][0]) ? [] : [dots]);
}

module.exports = { compare, fixed };

// look.js FOLDER - looks at the pages in the folder and prints, a line each: yes or no, what was looked at, what was found
//
// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';
const fs = require('fs');
const path = require('path');
const modules = path.join(process.env.modules, 'node_modules');
const { chromium } = require(path.join(modules, 'playwright-core'));
const { HtmlValidate, StaticConfigLoader } = require(path.join(modules, 'html-validate'));
const axe = fs.readFileSync(path.join(modules, 'axe-core', 'axe.min.js'), 'utf8');
const numbers = require('./numbers.js');
const folder = process.argv[2];
const page = (name) => path.join(folder, name + '.html');

function say(title, wrong) {
	const detail = [].concat(wrong || []).map(String).join(' | ').replace(/\s+/g, ' ').slice(0, 600);
	console.log([detail === '' ? 'yes' : 'no', title, detail].join('\t'));
}

// ---- judges: each returns what is wrong, an empty list when nothing is ----

async function seen_by_axe(p) {
	await p.evaluate(axe);   // what is inside a drawing is one picture to it; contrast() looks there
	const r = await p.evaluate(() => window.axe.run({ exclude: ['svg > *'] }, { resultTypes: ['violations'] }));
	return r.violations.map((v) => `${v.id}: ${v.nodes.length}, ${v.nodes[0].html.slice(0, 80)}`);
}

// What axe does not look at: letters and strokes of drawings against the paper (WCAG 2.1, 1.4.3 and 1.4.11).
function contrast() {
	const rgb = (c) => (c.match(/[\d.]+/g) || []).map(Number);
	const part = (v) => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
	const light = (c) => 0.2126 * part(c[0]) + 0.7152 * part(c[1]) + 0.0722 * part(c[2]);
	const ratio = (a, b) => { const l = [light(a), light(b)].sort((x, y) => y - x); return (l[0] + 0.05) / (l[1] + 0.05); };
	const ground = rgb(getComputedStyle(document.body).backgroundColor);
	const wrong = new Set();
	for (const e of document.querySelectorAll('svg text, svg .line, svg .whisker, svg .mark, svg .fill, svg circle, svg .promise')) {
		const style = getComputedStyle(e), letters = e.tagName === 'text';
		const hollow = e.matches('.ring, .fill.good, .fill.limit');
		const colour = letters ? style.fill : hollow || !e.matches('.fill, circle') ? style.stroke : style.fill;
		if (ratio(rgb(colour), ground) < (letters ? 4.5 : 3))
			wrong.add(`${e.tagName}.${e.getAttribute('class')} ${colour}`);
	}
	return [...wrong];
}

// Letters of a drawing that leave it are cut off; a pixel is rounding.
function cut_off() {
	const wrong = [];
	for (const svg of document.querySelectorAll('svg')) {
		const room = svg.getBoundingClientRect();
		for (const t of svg.querySelectorAll('text')) {
			const b = t.getBoundingClientRect();
			if (b.left < room.left - 1 || b.right > room.right + 1 || b.top < room.top - 1 || b.bottom > room.bottom + 1)
				wrong.push(t.textContent);
		}
	}
	return wrong;
}

// Letters over letters cannot be read.
function overlapping() {
	const wrong = [];
	for (const svg of document.querySelectorAll('svg')) {
		const boxes = [...svg.querySelectorAll('text')].filter((t) => t.textContent !== '').map((t) => [t.textContent, t.getBBox()]);
		for (let i = 0; i < boxes.length; i++)
			for (let j = 0; j < i; j++) {
				const a = boxes[i][1], b = boxes[j][1], slack = 1;
				if (a.x + slack < b.x + b.width && b.x + slack < a.x + a.width && a.y + slack < b.y + b.height && b.y + slack < a.y + a.height)
					wrong.push(`${boxes[j][0]} / ${boxes[i][0]}`);
			}
	}
	return wrong;
}

function sideways() {
	const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
	return wide > 0 ? [`${wide} px too wide`] : [];
}

async function markup(file) {
	const judge = new HtmlValidate(new StaticConfigLoader({ extends: ['html-validate:recommended'] }));
	const r = await judge.validateFile(file);
	return r.results.flatMap((f) => f.messages.map((m) => `${m.line}: ${m.ruleId}: ${m.message}`));
}

// ---- a page in one guise ----

async function open(browser, file, guise) {
	const context = await browser.newContext({ viewport: { width: guise.width || 1280, height: guise.height || 800 },
		colorScheme: guise.scheme || 'light', javaScriptEnabled: guise.script !== false });
	const p = await context.newPage();
	p.asked = [];
	p.errors = [];
	p.on('pageerror', (e) => p.errors.push(e.message));
	p.on('console', (m) => m.type() === 'error' && p.errors.push(m.text()));
	p.on('dialog', (d) => { p.errors.push('a dialog'); d.dismiss(); });
	await context.route('**', (route) => { p.asked.push(route.request().url()); return route.request().url().startsWith('file:') ? route.continue() : route.abort(); });
	await p.goto('file://' + file);
	if (guise.media)
		await p.emulateMedia({ media: guise.media });
	return p;
}

const unfold = (p) => p.evaluate(() => document.querySelectorAll('details').forEach((d) => { d.open = true; }));

// axe-core is slow: it looks at the whole once in light and once in dark.
const guises = [
	{ name: 'desktop', width: 1280, axe: true }, { name: 'desktop, dark', width: 1280, scheme: 'dark' },
	{ name: 'phone', width: 360, height: 740 }, { name: 'phone, dark', width: 360, height: 740, scheme: 'dark', axe: true },
	{ name: 'paper', width: 794, media: 'print' },
];

async function in_guise(browser, name, guise) {
	const p = await open(browser, page(name), guise), title = `${name}, ${guise.name}: `;
	say(title + 'nothing is fetched', p.asked.filter((u) => u !== 'file://' + page(name)));
	// What is folded is not laid out: nothing in it could be seen to be cut off.
	await p.evaluate(() => document.querySelectorAll('details.part').forEach((d) => { d.open = true; }));
	say(title + 'no letters are cut off', await p.evaluate(cut_off));
	say(title + 'no letters over letters', await p.evaluate(overlapping));
	say(title + 'no scrolling sideways', await p.evaluate(sideways));
	await unfold(p);
	say(title + 'nor with all unfolded', await p.evaluate(sideways));
	say(title + 'drawings stand out from the paper', await p.evaluate(contrast));
	if (guise.axe)
		say(title + 'axe-core finds nothing', await seen_by_axe(p));
	say(title + 'no error in its script', p.errors);
	await p.context().close();
}

// ---- what moves ----

async function slider(browser) {
	const p = await open(browser, page('page'), {});
	const steps = JSON.parse(fs.readFileSync(path.join(folder, 'advise.json'))).frontier;
	const at = p.locator('#budget'), wrong = [];
	await at.focus();
	for (let i = 0; i < steps.length; i++) {
		const said = await p.locator('#budget-says').textContent();
		if (!said.includes(numbers.fixed(steps[i].load, 2)) || (steps[i].cost > 0 && !said.includes(String(steps[i].cost))))
			wrong.push(`step ${i}: ${said}`);
		if (said !== (await at.getAttribute('aria-valuetext')) + '.')
			wrong.push(`step ${i} is read aloud otherwise`);
		await p.keyboard.press('ArrowRight');
	}
	say('the slider says what each budget leaves', wrong);
	await at.click({ position: { x: 2, y: 5 } });
	say('and follows the mouse', (await at.inputValue()) === '0' ? [] : [await at.inputValue()]);
	const folded = p.locator('figure details').first(), table = folded.locator('table');
	const before = await table.isVisible();
	await folded.locator('summary').click();
	const after = await table.isVisible();
	await p.keyboard.press('Enter');
	say('a table unfolds by a click and folds by a key', before || !after || await table.isVisible() ? ['it does not'] : []);
	const bar = p.locator('svg rect.fill.bad').first();
	const stroke = () => bar.evaluate((e) => getComputedStyle(e).stroke);
	const still = await stroke();
	await bar.hover();
	say('a bar answers the mouse', still === await stroke() ? ['nothing changes'] : []);
	say('and says what it is', /flaw load/.test(await bar.locator('title').textContent()) ? [] : ['no words']);
	await p.context().close();
}

async function without_script(browser) {
	const p = await open(browser, page('page'), { script: false });
	say('without script: the sleeping slider is not shown', await p.locator('#budget').isVisible() ? ['shown'] : []);
	say('without script: what to do next is there', await p.locator('.next').isVisible() ? [] : ['not there']);
	await p.locator('figure summary').first().click();
	say('without script: tables unfold', await p.locator('figure table').first().isVisible() ? [] : ['they do not']);
	await p.context().close();
}

// Who opens the page sees what to do without scrolling, on a phone after one flick at most, and when, and why.
async function first_sight(browser) {
	for (const guise of [guises[0], guises[2]]) {
		const p = await open(browser, page('page'), guise);
		const box = await p.locator('.next .big').boundingBox();
		say(`${guise.name}: what to do next is seen at once`, box.y + box.height <= (guise.height || 800) ? [] : [`at ${box.y}`]);
		const said = await p.locator('.next').innerText();
		say(`${guise.name}: with when and why`, ['When', 'Against', 'Costs', 'Brings'].filter((w) => !said.includes(w)));
		await p.context().close();
	}
}

async function on_paper(browser) {
	const p = await open(browser, page('page'), { media: 'print' });
	say('on paper: no slider, no links to places', await p.locator('.slider').isVisible() || await p.locator('nav').isVisible() ? ['there'] : []);
	const pdf = (await p.pdf({ format: 'A4' })).toString('latin1');
	const sheets = (pdf.match(/\/Type\s*\/Page\b(?!s)/g) || []).length;
	say('on paper: a few sheets', sheets >= 2 && sheets <= 12 ? [] : [`${sheets} sheets`]);
	await p.context().close();
}

// The long part of a batch is folded on the screen, unfolds by a click, and is whole on paper, without script as well.
async function long_parts(browser) {
	const seen = (p) => p.locator('details.part svg').evaluateAll((all) => all.filter((s) => s.checkVisibility({ contentVisibilityAuto: true }) && s.getBoundingClientRect().height > 40).length);
	for (const script of [true, false]) {
		const title = `long parts, ${script ? 'with' : 'without'} script: `;
		const p = await open(browser, page('page'), { script });
		const all = await p.locator('details.part svg').count();
		const shut = await seen(p);
		say(title + 'folded on the screen', all > 5 && shut === 0 ? [] : [`${shut} of ${all} seen`]);
		await p.locator('details.part:has(svg) > summary').first().click();
		const unfolded = await seen(p);
		say(title + 'a click unfolds one', unfolded > 0 && unfolded < all ? [] : [`${unfolded} of ${all} seen`]);
		await p.emulateMedia({ media: 'print' });
		const printed = await seen(p);
		say(title + 'all on paper', printed === all ? [] : [`${printed} of ${all} seen`]);
		await p.context().close();
	}
}

// Nothing is told by colour alone: what is well is hollow, what is not is full, a guess is dashed.
async function in_grey(browser) {
	const p = await open(browser, page('page'), {});
	const of = (selector, what) => p.locator(selector).first().evaluate((e, w) => getComputedStyle(e)[w], what);
	const paper = await p.evaluate(() => getComputedStyle(document.body).backgroundColor);
	say('in grey: what is well is hollow', await of('svg .fill.good', 'fill') === paper ? [] : ['full']);
	say('in grey: what is not is full', await of('svg .fill.bad', 'fill') === paper ? ['hollow'] : []);
	say('in grey: a limit is dashed', await of('svg .fill.limit', 'strokeDasharray') === 'none' ? ['drawn through'] : []);
	await p.context().close();
}

async function strangers(browser) {
	const p = await open(browser, page('evil'), {});
	const all = await p.evaluate(() => ({ pwned: window.pwned, scripts: document.scripts.length, text: document.body.textContent,
		tags: [...new Set([...document.querySelectorAll('*')].map((e) => e.localName))], handlers: [...document.querySelectorAll('*')].some((e) => [...e.attributes].some((a) => a.name.startsWith('on'))) }));
	say('strangers: nothing of theirs runs', all.pwned || all.scripts !== 1 || all.handlers ? ['it does'] : []);
	say('strangers: no element of theirs', all.tags.filter((t) => ['img', 'iframe', 'b', 'object', 'link'].includes(t)));
	say('strangers: their words are there as words', all.text.includes('<script>window.pwned=1</script>') ? [] : ['lost']);
	// eslint-disable-next-line no-control-regex
	say('strangers: no sign that turns or hides letters', /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/.test(all.text) ? ['one is left'] : []);
	await p.context().close();
}

async function as_the_data(browser) {
	const p = await open(browser, page('page'), {});
	await numbers.compare(p, folder, say);
	await p.context().close();
}

// The judges themselves: each finds out a page that is not right.
async function judges(browser) {
	const file = path.join(folder, 'bad.html');
	fs.writeFileSync(file, `<!DOCTYPE html><html><head><meta charset="utf-8"><title>t</title><style>svg text{fill:#eee}</style></head><body style="background:#fff">
		<p style="width:3000px;color:#ddd">pale</p><img src="http://127.0.0.1:9/x.png"><p><div></p>
		<svg viewBox="0 0 100 20" width="200"><text x="90" y="10">much too long</text><text x="88" y="10">over it</text></svg></body></html>`);
	const p = await open(browser, file, { width: 360 });
	const found = (title, wrong) => say('a bad page is found out: ' + title, wrong.length > 0 ? [] : ['it is not']);
	found('fetched', p.asked.filter((u) => !u.startsWith('file:')));
	found('wide', await p.evaluate(sideways));
	found('cut off', await p.evaluate(cut_off));
	found('overlapping', await p.evaluate(overlapping));
	found('pale letters', await p.evaluate(contrast));
	found('axe', await seen_by_axe(p));
	found('markup', await markup(file));
	await p.context().close();
}

// For who waits: where the time went, when asked.
async function timed(what, work) {
	const from = Date.now();
	await work();
	if (process.env.TIMED)
		console.error(`${what}: ${Date.now() - from} ms`);
}

async function main() {
	const root = process.getuid && process.getuid() === 0;
	const browser = await chromium.launch({ executablePath: process.env.browser, args: root ? ['--no-sandbox'] : [] });
	try {
		for (const guise of guises)
			await timed(guise.name, () => in_guise(browser, 'page', guise));
		for (const name of ['evil', 'us', 'young', 'one'])
			await timed(name, () => in_guise(browser, name, guises[2]));
		for (const name of ['page', 'evil', 'us', 'young', 'one'])
			await timed('markup', async () => say(`${name}: html-validate finds nothing`, await markup(page(name))));
		for (const look of [slider, without_script, first_sight, on_paper, long_parts, in_grey, strangers, as_the_data, judges])
			await timed(look.name, () => look(browser));
	} finally {
		await browser.close();
	}
}
main().catch((e) => { console.error(e); process.exit(1); });

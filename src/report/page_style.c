/* page_style.c - how the report page looks, and the little that moves on it
 *
 * Our own look: paper and ink, teal for what is well, plum for what is not, amber for care. Shapes differ as
 * well, for eyes that do not tell these apart and for grey print: what is well is hollow, what is not is full,
 * what is only guessed is dashed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/page_style.h"

#include <stddef.h>

#define LIGHT ":root{--ink:#222;--soft:#5c5c5c;--paper:#fdfcf8;--sheet:#f3f0e6;--rule:#d9d5c8;--good:#06606c;" \
	"--bad:#8a1f6b;" \
    "--calm:#3d5a80;--care:#7a4d00;--alarm:#f7ead0;--range:#dcebe4;--guess:#e3dccb}"
#define DARK ":root{--ink:#e9e6de;--soft:#b0aca0;--paper:#1b1a17;--sheet:#26241f;--rule:#45423a;--good:#6cc5cf;" \
	"--bad:#e08cc8;" \
    "--calm:#9db8dc;--care:#e8b75c;--alarm:#3a2f18;--range:#24403a;--guess:#3d382c}"
#define PAPER ":root{--ink:#000;--soft:#333;--paper:#fff;--sheet:#fff;--rule:#bbb;--good:#06606c;--bad:#8a1f6b;" \
    "--calm:#3d5a80;--care:#7a4d00;--alarm:#fff;--range:#e4efe9;--guess:#eee8da}"

static const char words[] =
    "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n<style>" LIGHT
    "@media(prefers-color-scheme:dark){" DARK "}@media print{" PAPER "}\n"
    /* the page */
    "html{color-scheme:light dark}body{color:var(--ink);background:var(--paper);max-width:72em;margin:1.2em auto}"
    "a,summary{color:var(--good)}summary{cursor:pointer}a:focus-visible,summary:focus-visible,"
    "input:focus-visible{outline:3px solid var(--care);outline-offset:2px}"
    "h1{font-size:1.7em;margin:.3em 0 .1em}h2{font-size:1.3em;margin:0 0 .4em}h3{font-size:1.02em;margin:1.1em "
    "0 .2em}h4{font-size:1em;margin:.8em 0 .2em}"
    ".quiet,figcaption,.soft{color:var(--soft)}.good{color:var(--good)}.bad{color:var(--bad)}"
    ".careful{color:var(--care)}"
    "main>section{margin:1.8em 0 0;padding:.8em 0 0;border-top:3px double var(--rule)}nav{margin:1.2em 0 0}nav "
    "a{display:inline-block;padding:.15em 0;margin-right:.9em}"
    "body{overflow-wrap:break-word}.up{text-align:right;font-size:.92em}"
    /* what to do next, and what can hurt */
    ".next{background:var(--sheet);border-left:6px solid var(--good);padding:.7em 1em .9em;margin:1em 0}.next "
    "h2{margin:0 0 .3em}"
    ".next p.big{font-size:1.15em;font-weight:bold;margin:.1em 0 .3em}.next p+p.big{margin-top:.8em}"
    ".next dl{display:grid;grid-template-columns:max-content 1fr;gap:.15em 1em;margin:.6em 0 0}.next "
    "dt{color:var(--soft)}.next dd{margin:0}"
    ".alarm{background:var(--alarm);border-left:6px solid var(--care);padding:.5em 1em .7em;margin:1em 0}"
    /* figures and words side by side where there is room */
    ".two{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,28em),1fr));gap:0 2.6em;align-items:start}"
    ".few{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,21em),1fr));gap:0 2em;"
    "align-items:start}.two>*,.few>*{min-width:0}"
    "figure{margin:.4em 0 1.3em}figure h3{margin-top:.4em}figcaption{font-size:.92em}figcaption p{max-width:46em}"
    ".wide{overflow-x:auto}details{margin:.3em 0}details.words{margin:1em 0}details table{font-size:.95em}"
    "td:last-child,th:last-child{padding-right:0}td.o{color:var(--calm);white-space:nowrap}";

static const char drawings[] =
    "svg{display:block;width:100%;max-width:33rem;height:auto;font:13px sans-serif;fill:var(--ink)}"
    "svg .name{paint-order:stroke;stroke:var(--paper);stroke-width:4}svg .grid{stroke:var(--rule);"
    "stroke-width:.7}svg .axis{stroke:var(--soft);stroke-width:1}svg .tick,svg .unit,svg .note{fill:var(--soft);"
    "font-size:12px}"
    "svg .line{fill:none;stroke-width:1.8;stroke:var(--calm)}svg .line.beer{stroke:var(--ink)}svg "
    ".line.room{stroke:var(--soft);stroke-dasharray:2 3}"
    "svg .line.guessed{stroke:var(--care);stroke-dasharray:7 3}svg .line.now{stroke:var(--soft);"
    "stroke-dasharray:3 3}svg .line.thin{stroke-width:.9}"
    "svg polygon.guess{fill:var(--guess)}svg rect.range{fill:var(--range)}"
    "svg circle{fill:var(--ink)}svg circle.ring{fill:var(--paper);stroke:var(--soft);stroke-width:1.8}svg "
    "circle.good.ring{stroke:var(--good)}"
    "svg circle.odd.ring{stroke:var(--bad);stroke-width:2.4}svg circle:hover,svg "
    "rect.fill:hover{stroke:var(--care);stroke-width:3}"
    "svg .fill.bad{fill:var(--bad)}svg .fill.good{fill:var(--paper);stroke:var(--good);stroke-width:2}svg "
    ".fill.calm{fill:var(--calm)}"
    "svg .fill.limit{fill:none;stroke:var(--ink);stroke-width:1.3;stroke-dasharray:4 2}svg "
    "circle.touch{fill:var(--calm)}"
    "svg .whisker{stroke:var(--ink);stroke-width:1.5;fill:none}svg .inlaid{stroke:var(--paper);stroke-width:1.5;"
    "fill:none}svg .mark{stroke:var(--good);stroke-width:1.4}svg .mark.soft{stroke:var(--soft);stroke-dasharray:2 3}"
    ".few svg{font-size:17px}.few svg .tick,.few svg .unit,.few svg .note{font-size:16px}svg .promise{fill:none;"
    "stroke:var(--care);stroke-width:3}"
    ".slider{margin:.2em 0 1.4em}.slider input{display:block;width:min(26em,100%);accent-color:var(--good)}\n";

static const char paper_and_phone[] =
    "@media print{body{margin:0;max-width:none;font-size:10.5pt}.slider,nav,.up{display:none}figure,.next,"
    ".alarm,tr{break-inside:avoid}h2,h3{break-after:avoid}"
    "h2+p,h3+p{break-after:avoid;break-inside:avoid}.two{grid-template-columns:repeat(auto-fit,minmax(22em,"
    "1fr));column-gap:2em}"
    "svg{max-width:26rem}svg,.few svg{font-size:16px}svg .tick,svg .unit,svg .note,.few svg .tick,.few svg "
    ".unit,.few svg .note{font-size:15px}"
    "details.words,details:not([open]):not(.part){display:none}"
    ".part::details-content{content-visibility:visible;block-size:auto}"
    "@supports selector(::details-content){.part>summary{display:none}}details td.r{white-space:normal}"
    "[id=brews]{display:inline-block;width:100%}.next,.alarm{border:1px solid var(--ink);border-left-width:6px}"
    "*{print-color-adjust:exact;-webkit-print-color-adjust:exact}}"
    "@media(max-width:34em){body{margin:.4em auto;padding:0 .7em}.next dl{grid-template-columns:1fr;gap:0}.next "
    "dt{margin-top:.4em}"
    "td,th{padding-right:.6em}td.o{white-space:normal}.in2,.in3{margin-left:1em}}"
    "@media screen and (max-width:30em){svg,.few svg{font-size:17px}svg .tick,svg .unit,svg .note,.few svg "
    ".tick,.few svg .unit,.few svg .note{font-size:16.5px}}</style>\n";

const char *const page_style[] = { words, drawings, paper_and_phone, NULL };

const char page_script[] =
    "<script>(function(){"
    /* what is folded only to be short is printed whole, by browsers that cannot be told so in the style as well */
    "addEventListener('beforeprint',function(){[].forEach.call(document.querySelectorAll('details.part'),"
    "function(d){d.open=true})});"
    "var s=document.getElementById('budget');if(!s)return;var o=document.getElementById('budget-says'),"
    "t=[].map.call(document.getElementById('frontier-t').closest('figure').querySelectorAll('tbody tr'),function(r){"
    "return [].map.call(r.cells,function(c){return c.textContent.trim()})});function f(){var x=t[+s.value],"
    "w=(x[0]==='nothing'?'Free changes alone leave':'The best use of '+x[0]+' leaves')+' a flaw load of '+x[1]+"
    "(x[2]?'; it buys: '+x[2]:'');o.textContent=w+'.';s.setAttribute('aria-valuetext',w);}"
    "s.parentNode.hidden=false;s.addEventListener('input',f);f();})();</script>\n";

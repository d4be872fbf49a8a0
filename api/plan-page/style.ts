import { sha256 } from '../sha256.ts';

/** Styles of the plan page, for screen and print. */
export const STYLE = `
:root { color-scheme: light; --paper: #fbf8f1; --ink: #24211b; --quiet: #5d574b; --rule: #d9d2c2; --shut: #e4dfd2; --alarm: #a80f0f; }
* { box-sizing: border-box; }
body { margin: 0; padding: 1.25rem clamp(.75rem, 3vw, 2rem) 3rem; background: var(--paper); color: var(--ink); font: 1rem/1.45 system-ui, "Noto Sans", sans-serif; }
h1 { font-size: 1.6rem; margin: 0; } h2 { font-size: 1.2rem; margin: 2rem 0 .5rem; } h3 { font-size: 1.05rem; margin: 1.75rem 0 .35rem; }
p { margin: .25rem 0; } .quiet, caption { color: var(--quiet); }
nav { display: flex; gap: .5rem; flex-wrap: wrap; margin: .75rem 0; }
nav a { padding: .35rem .8rem; border: 1px solid var(--ink); border-radius: 3px; color: inherit; text-decoration: none; }
nav a:hover, nav a:focus-visible { background: var(--ink); color: var(--paper); }
a { color: inherit; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
caption { text-align: start; padding: 0 0 .35rem; }
th, td { padding: .25rem .6rem; border: 1px solid var(--rule); text-align: start; vertical-align: top; }
thead th { background: #f1ecdf; white-space: nowrap; }
.full td { text-align: end; }
.wide { overflow-x: auto; max-width: 100%; } .wide:focus-visible { outline: 2px solid var(--ink); outline-offset: 2px; }
.alarm { border-inline-start: 5px solid var(--alarm); padding-inline-start: .8rem; }
.alarm h2 { color: var(--alarm); margin-top: 1rem; }
.kept { border-inline-start: 5px solid #2f6b3c; padding-inline-start: .8rem; }
details { margin: .4rem 0 0; } summary { cursor: pointer; }
.today h3 { text-decoration: underline; text-underline-offset: .25em; }
.marks { position: absolute; }
.legend { display: flex; flex-wrap: wrap; gap: .35rem 1.4rem; list-style: none; padding: 0; margin: .5rem 0; }
.legend li { display: flex; align-items: center; gap: .45rem; }
svg { display: block; } svg text { font: 12px system-ui, "Noto Sans", sans-serif; fill: var(--ink); }
svg text.tick { font-size: 11px; fill: var(--quiet); }
.shut { fill: var(--shut); } .open { fill: #fff; } .hour { stroke: var(--rule); }
.down-ground { fill: #cfc7b4; } .down-stripe { fill: #7d7462; }
.bar rect { stroke: #fff; stroke-width: .75; }
.bar .batch { stroke: #fff; stroke-opacity: .75; stroke-dasharray: 3 2; }
.bar .late { fill: none; stroke: var(--alarm); stroke-width: 2; } .bar .late-cap { fill: var(--alarm); stroke: none; }
.key { gap: .1rem .9rem; font-size: .85rem; }
.bar .begun { fill: #ffd23f; stroke: none; }
svg text.label { fill: #fff; font-weight: 600; pointer-events: none; } svg text.sideways { font-size: 9.5px; }
.hue-0 { fill: #1d5c88; } .hue-1 { fill: #7a4591; } .hue-2 { fill: #2c683a; } .hue-3 { fill: #95461a; }
.hue-4 { fill: #5a591d; } .hue-5 { fill: #9c3166; } .hue-6 { fill: #12676a; } .hue-7 { fill: #474c6c; }
.bar.set-up > rect:first-of-type { fill-opacity: .38; }
.bar.finished > rect:first-of-type { fill-opacity: .22; stroke: currentColor; stroke-width: 1; } .bar.finished text.label { fill: var(--ink); }
.crew .busy { fill: #8d8468; } .crew .there { fill: none; stroke: var(--ink); stroke-width: 1.5; stroke-dasharray: 5 3; }
.now line { stroke: var(--alarm); stroke-width: 2; }
.load-0 { background: #fff; } .load-1 { background: #f6f0df; } .load-2 { background: #eee2bf; } .load-3 { background: #e5d29a; } .load-4 { background: #dcc176; }
td.none { background: var(--shut); color: var(--quiet); }
@media print { body { background: #fff; padding: 0; } nav, summary { display: none; } .day { break-inside: avoid; } .wide { overflow: visible; } .wide svg { max-width: 100%; height: auto; } }
`;

/** The page's content security policy: this style sheet and nothing else. */
export const PLAN_PAGE_POLICY = [
  "default-src 'none'",
  `style-src 'sha256-${sha256(STYLE, 'base64')}'`,
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

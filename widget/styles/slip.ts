import { css } from 'lit';

/** The sheet: a paper slip beside the drawing, with the answer at its foot. */
export const slipStyles = css`
  .root {
    display: grid;
    gap: 20px;
    grid-template-columns: minmax(0, 1fr);
    background: var(--desk);
    padding: 12px;
    border-radius: var(--radius);
  }
  @container platen (min-width: 700px) {
    .root {
      grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
      padding: 20px;
      align-items: start;
    }
    .drawing {
      position: sticky;
      inset-block-start: 12px;
    }
  }
  @container platen (min-width: 1080px) {
    .root {
      grid-template-columns: minmax(0, 1fr) 430px;
      gap: 28px;
      padding: 28px;
    }
  }
  .drawing {
    min-width: 0;
  }
  .views {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 14px;
    margin: 8px 2px 0;
    padding: 0;
    border: 0;
  }
  .views .view {
    display: flex;
    align-items: center;
    gap: 6px;
    min-height: 28px;
    font-size: 14px;
    cursor: pointer;
  }
  .views input {
    width: 16px;
    height: 16px;
    margin: 0;
    accent-color: var(--accent);
  }
  .stage-room {
    aspect-ratio: 1 / 0.97;
    min-height: 240px;
    padding: 24px 0 0 30px;
    background: var(--paper);
    border: 1px solid var(--rule);
    border-radius: 3px;
  }
  .stage-room svg {
    display: block;
    width: 100%;
    height: 100%;
  }
  .stage-room :is(.cloth, .trim, .seam) {
    vector-effect: non-scaling-stroke;
    stroke-width: 1.2;
  }
  .stage-room .seam {
    stroke-dasharray: 5 4;
  }
  .stage-room .cast {
    opacity: 0.1;
  }
  .stage-room .area {
    vector-effect: non-scaling-stroke;
    stroke: var(--focus);
    stroke-width: 1.4;
    stroke-dasharray: 6 4;
  }
  .skeleton {
    min-height: 520px;
  }
  .slip {
    position: relative;
    min-width: 0;
    background: var(--paper);
    box-shadow:
      0 1px 0 var(--paper-edge),
      0 10px 26px -14px rgb(40 30 10 / 0.35);
    padding: 0 20px;
  }
  @container platen (max-width: 420px) {
    .slip {
      padding: 0 14px;
    }
  }
  .slip::before {
    content: '';
    display: block;
    height: 9px;
    margin: 0 -20px;
    background: radial-gradient(circle at 7px -1px, var(--desk) 5px, transparent 5.5px) repeat-x 0 0 / 14px 9px;
  }
  .slip-head {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 10px;
    padding: 12px 0 10px;
    border-bottom: 2px solid var(--ink);
  }
  .slip-head h2 {
    font: 600 22px/1.2 var(--font-heading);
    margin: 0;
    flex: 1 1 auto;
  }
  .piece {
    padding: 0 0 10px;
    border-bottom: 1px solid var(--rule);
    margin: 0;
  }
  .piece-head {
    display: flex;
    align-items: baseline;
    gap: 10px;
    padding: 14px 0 2px;
  }
  .number {
    font: 600 15px/1 var(--font-figures);
    color: var(--accent);
    min-width: 20px;
  }
  .piece-head h3 {
    font: 600 17px/1.3 var(--font-heading);
    margin: 0;
    flex: 1;
    min-width: 0;
    overflow-wrap: anywhere;
  }
  .row {
    border: 0;
    margin: 14px 0 2px;
    padding: 0;
    min-width: 0;
  }
  /* the foot stays in view: what is focused must come to rest above it */
  .row :is(input, button, select, textarea),
  .acts button,
  .piece-head button {
    scroll-margin-block-end: 170px;
    scroll-margin-block-start: 12px;
  }
  .row > legend,
  .row-title {
    display: flex;
    width: 100%;
    align-items: baseline;
    gap: 8px;
    padding: 0 0 5px;
    font-weight: 600;
    font-size: 13px;
    color: var(--ink-soft);
  }
  .row > legend .chosen,
  .row-title .chosen {
    color: var(--ink);
    font-weight: 400;
    font-size: 14px;
    margin-inline-start: auto;
    text-align: end;
  }
  .leader {
    flex: 1;
    border-bottom: 1px dotted var(--field-edge);
    opacity: 0.6;
    transform: translateY(-3px);
  }
  .items {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(86px, 1fr));
    gap: 8px;
  }
  .pick {
    position: relative;
    display: block;
    cursor: pointer;
    text-align: center;
  }
  .pick input,
  .swatch input {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    margin: 0;
    opacity: 0;
    cursor: pointer;
  }
  .pick .face {
    display: block;
    border: 1px solid var(--rule);
    border-radius: var(--radius);
    background: var(--field);
    padding: 8px 6px 6px;
    font-size: 12.5px;
    line-height: 1.25;
    height: 100%;
    color: #22262b;
  }
  :host([theme='dark']) .pick .face {
    color: var(--ink);
  }
  .pick svg {
    display: block;
    width: 100%;
    height: 50px;
    margin-bottom: 5px;
  }
  .pick .face {
    color: var(--ink);
  }
  .pick input:checked + .face {
    border-color: var(--ink);
    box-shadow: inset 0 0 0 1px var(--ink);
  }
  .pick input:focus-visible + .face,
  .swatch input:focus-visible + .dot {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
  }
  .swatches {
    display: flex;
    flex-wrap: wrap;
    gap: 8px;
  }
  .swatch {
    position: relative;
    width: 32px;
    height: 32px;
    flex: none;
  }
  .swatch .dot {
    display: block;
    width: 100%;
    height: 100%;
    border-radius: 50%;
    border: 1px solid var(--field-edge);
    forced-color-adjust: none;
  }
  .swatch input:checked + .dot {
    box-shadow:
      0 0 0 2px var(--paper),
      0 0 0 4px var(--ink);
  }
  .sizes {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(46px, 1fr));
    gap: 8px 6px;
  }
  .size {
    display: flex;
    flex-direction: column;
    align-items: stretch;
    gap: 2px;
    font-size: 13px;
    text-align: center;
    color: var(--ink-soft);
  }
  .size .plus {
    font-size: 12px;
    font-weight: 400;
    line-height: 1.2;
    overflow-wrap: anywhere;
  }
  input.count {
    padding-inline: 2px;
  }
  input.field,
  select.field,
  textarea.field {
    width: 100%;
    min-width: 0;
    min-height: 34px;
    padding: 4px 7px;
    background: var(--field);
    border: 1px solid var(--field-edge);
    border-radius: var(--radius);
    color: var(--ink);
  }
  input.count {
    text-align: center;
    font-variant-numeric: tabular-nums;
    appearance: textfield;
  }
  input.count::-webkit-inner-spin-button {
    appearance: none;
    margin: 0;
  }
  input.field[aria-invalid='true'] {
    border-color: var(--stop);
    border-width: 2px;
  }
  button.plain {
    min-height: 28px;
    min-width: 28px;
    padding: 2px 6px;
    border: 0;
    background: none;
    color: var(--accent);
    text-decoration: underline;
    text-underline-offset: 3px;
    text-decoration-thickness: 1px;
    cursor: pointer;
    border-radius: var(--radius);
  }
  button.plain:hover {
    text-decoration-thickness: 2px;
  }
  button.plain:disabled {
    color: var(--ink-soft);
    opacity: 0.55;
    cursor: default;
    text-decoration: none;
  }
  button.box {
    min-height: 38px;
    padding: 6px 14px;
    border: 1px solid var(--ink);
    background: var(--field);
    color: var(--ink);
    border-radius: var(--radius);
    cursor: pointer;
  }
  button.main {
    min-height: 44px;
    padding: 8px 18px;
    border: 1px solid var(--accent);
    background: var(--accent);
    color: var(--accent-ink);
    border-radius: var(--radius);
    font-weight: 600;
    cursor: pointer;
  }
  button.main:disabled,
  button.box:disabled {
    background: transparent;
    color: var(--ink-soft);
    border: 1px dashed var(--field-edge);
    cursor: default;
  }
  .drop {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 8px 12px;
    border: 1px dashed var(--field-edge);
    border-radius: var(--radius);
    padding: 10px 12px;
    font-size: 14px;
    color: var(--ink-soft);
  }
  .drop.over {
    border-style: solid;
    border-color: var(--accent);
  }
  .placement {
    display: grid;
    grid-template-columns: 54px minmax(0, 1fr);
    gap: 4px 10px;
    padding: 8px 0;
    border-bottom: 1px dotted var(--rule);
  }
  .placement .thumb {
    width: 54px;
    height: 54px;
    border: 1px solid var(--rule);
    border-radius: var(--radius);
    display: grid;
    place-items: center;
    overflow: hidden;
    padding: 3px;
  }
  .placement .thumb img {
    max-width: 100%;
    max-height: 100%;
    object-fit: contain;
  }
  .placement .what {
    min-width: 0;
  }
  .placement .name {
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
    font-weight: 600;
    font-size: 14px;
  }
  .placement .more {
    grid-column: 1 / -1;
  }
  .acts {
    display: flex;
    flex-wrap: wrap;
    gap: 0 6px;
    font-size: 13.5px;
  }
  .figures {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(84px, 1fr));
    gap: 8px;
    padding: 4px 0 6px;
  }
  .figures label {
    font-size: 12.5px;
    color: var(--ink-soft);
    display: flex;
    flex-direction: column;
    gap: 2px;
  }
  progress {
    width: 100%;
    height: 6px;
    accent-color: var(--accent);
  }
  .note {
    font-size: 13px;
    color: var(--ink-soft);
    margin: 4px 0;
  }
  .finding {
    margin: 6px 0;
    padding: 7px 10px;
    font-size: 13.5px;
    background: color-mix(in srgb, var(--field) 70%, transparent);
    border-inline-start: 3px solid var(--ink-soft);
  }
  .finding.warning {
    border-color: var(--warn);
  }
  .finding.stops {
    border-color: var(--stop);
  }
  .finding strong {
    font-weight: 600;
  }
  .beforeafter {
    display: grid;
    grid-template-columns: 1fr 1fr;
    gap: 8px;
    margin: 6px 0;
  }
  .beforeafter figure {
    margin: 0;
    font-size: 12.5px;
    text-align: center;
  }
  .beforeafter .swab {
    display: grid;
    place-items: center;
    height: 110px;
    border: 1px solid var(--rule);
    border-radius: var(--radius);
    padding: 6px;
  }
  .beforeafter img {
    max-width: 100%;
    max-height: 96px;
  }
  .options {
    display: grid;
    gap: 0;
  }
  .option {
    display: grid;
    grid-template-columns: 20px minmax(0, 1fr) auto;
    gap: 0 8px;
    align-items: baseline;
    padding: 6px 0;
    border-bottom: 1px dotted var(--rule);
    cursor: pointer;
  }
  .option:last-child {
    border-bottom: 0;
  }
  .option input {
    width: 16px;
    height: 16px;
    margin: 0;
    accent-color: var(--accent);
    align-self: center;
  }
  .option .sub {
    grid-column: 2 / -1;
    font-size: 13px;
    color: var(--ink-soft);
  }
  .option .delta {
    font-size: 13.5px;
    font-variant-numeric: tabular-nums;
    color: var(--ink);
    text-align: end;
  }
  .option.off {
    color: var(--ink-soft);
  }
  .two {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(150px, 1fr));
    gap: 10px;
  }
  .two > label,
  .stack > label {
    display: flex;
    flex-direction: column;
    gap: 3px;
    font-size: 13px;
    color: var(--ink-soft);
  }
  .stack {
    display: grid;
    gap: 10px;
  }
  .check {
    display: flex;
    gap: 8px;
    align-items: flex-start;
    padding: 6px 0;
    cursor: pointer;
  }
  .check input {
    width: 18px;
    height: 18px;
    margin: 2px 0 0;
    accent-color: var(--accent);
    flex: none;
  }
  .days {
    display: grid;
    grid-template-columns: repeat(7, 1fr);
    gap: 2px;
    text-align: center;
    font-size: 13px;
    font-variant-numeric: tabular-nums;
  }
  .days .dow {
    color: var(--ink-soft);
    font-size: 12px;
    padding: 2px 0;
  }
  .days button {
    min-height: 32px;
    min-width: 24px;
    border: 1px solid transparent;
    background: none;
    padding: 0;
    cursor: pointer;
    border-radius: var(--radius);
  }
  .days button.can {
    border-color: var(--rule);
    background: var(--field);
  }
  .days button[aria-pressed='true'] {
    background: var(--accent);
    color: var(--accent-ink);
    border-color: var(--accent);
  }
  .days button:disabled {
    color: var(--ink-soft);
    opacity: 0.6;
    text-decoration: line-through;
    cursor: default;
  }
  .foot {
    position: sticky;
    inset-block-end: 0;
    z-index: 3;
    margin: 0 -20px;
    padding: 10px 20px 14px;
    background: var(--paper);
    border-top: 2px solid var(--ink);
    box-shadow: 0 -8px 14px -12px rgb(40 30 10 / 0.45);
  }
  @container platen (max-width: 420px) {
    .foot,
    .slip::before {
      margin-inline: -14px;
    }
    .foot {
      padding-inline: 14px;
    }
  }
  .answer {
    display: grid;
    grid-template-columns: repeat(3, minmax(0, auto));
    justify-content: space-between;
    gap: 2px 12px;
    min-height: 46px;
  }
  .answer > div {
    min-width: 0;
  }
  .answer .label {
    font-size: 12px;
    color: var(--ink-soft);
    line-height: 1.3;
  }
  .answer .value {
    font-size: 16px;
    font-weight: 600;
    line-height: 1.3;
    font-variant-numeric: tabular-nums;
    overflow-wrap: anywhere;
  }
  .answer .value.big {
    font-size: 20px;
    font-family: var(--font-heading);
  }
  .answer[data-stale] .value {
    opacity: 0.45;
  }
  .blank-value {
    display: inline-block;
    width: 4.5em;
    height: 0.9em;
    border-radius: 2px;
    background: var(--rule);
    opacity: 0.6;
  }
  .foot-acts {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 4px 10px;
    margin-top: 8px;
  }
  .foot-acts .answer {
    min-height: 0;
  }
  .foot-acts .main {
    margin-inline-start: auto;
  }
  .lack {
    margin-block: 0;
    margin-inline: auto 0;
    min-height: 44px;
    display: flex;
    align-items: center;
    text-align: end;
    font-size: 14px;
    color: var(--ink-soft);
  }
  .unfold {
    max-height: min(46vh, 380px);
    overflow: auto;
    overscroll-behavior: contain;
    border-bottom: 1px dotted var(--rule);
    margin-bottom: 8px;
    font-size: 14px;
  }
  .unfold h4 {
    font: 600 14px/1.3 var(--font-heading);
    margin: 8px 0 4px;
  }
  .unfold ul {
    margin: 0;
    padding-inline-start: 18px;
  }
  .unfold li {
    margin: 3px 0;
  }
  table.sum {
    width: 100%;
    border-collapse: collapse;
    font-size: 14px;
    font-variant-numeric: tabular-nums;
  }
  table.sum td,
  table.sum th {
    padding: 2px 0;
    text-align: start;
    font-weight: 400;
    vertical-align: baseline;
  }
  table.sum td:last-child {
    text-align: end;
    white-space: nowrap;
    padding-inline-start: 10px;
  }
  table.sum tr.grand > * {
    border-top: 1px solid var(--ink);
    font-weight: 600;
    padding-top: 4px;
  }
  .ladder {
    display: block;
    width: 100%;
    height: 56px;
    margin-bottom: 6px;
  }
  .ladder .rung {
    fill: var(--rule);
  }
  .ladder .rung.now {
    fill: var(--accent);
  }
  .rungs {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 6px;
  }
  .rungs button {
    min-height: 30px;
    padding: 2px 8px;
    border: 1px solid var(--rule);
    background: var(--field);
    border-radius: var(--radius);
    cursor: pointer;
    font-size: 13px;
    font-variant-numeric: tabular-nums;
  }
  .rungs button[aria-pressed='true'] {
    border-color: var(--ink);
    box-shadow: inset 0 0 0 1px var(--ink);
  }
  .alert {
    margin: 8px 0;
    padding: 8px 10px;
    font-size: 14px;
    border: 1px solid var(--stop);
    border-radius: var(--radius);
    color: var(--ink);
    background: color-mix(in srgb, var(--stop) 9%, var(--paper));
  }
  .alert.quiet {
    border-color: var(--warn);
    background: color-mix(in srgb, var(--warn) 9%, var(--paper));
  }
  .slip a {
    color: var(--accent);
    min-height: 28px;
    padding: 2px 6px;
    text-underline-offset: 3px;
  }
  .stamp {
    display: inline-block;
    margin: 14px 0 6px;
    padding: 6px 14px;
    border: 3px double var(--accent);
    color: var(--accent);
    font: 700 19px/1.2 var(--font-heading);
    border-radius: 4px;
    transform: rotate(-2deg);
  }
  .proofs {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(140px, 1fr));
    gap: 10px;
  }
  .proofs figure {
    margin: 0;
    font-size: 12.5px;
    color: var(--ink-soft);
    text-align: center;
  }
  .proofs img {
    display: block;
    width: 100%;
    border: 1px solid var(--rule);
    background: #fff;
  }
  @media (prefers-reduced-motion: no-preference) {
    .answer .value {
      transition: opacity 120ms linear;
    }
  }
  @media (forced-colors: active) {
    .pick input:checked + .face,
    .rungs button[aria-pressed='true'] {
      outline: 3px solid Highlight;
    }
    .swatch input:checked + .dot {
      outline: 3px solid Highlight;
      outline-offset: 2px;
    }
    .finding {
      border-inline-start-color: CanvasText;
    }
  }
  @media print {
    .root {
      display: block;
      background: none;
      padding: 0;
    }
    .slip {
      box-shadow: none;
    }
    .foot {
      position: static;
      box-shadow: none;
    }
    .drop,
    .acts,
    .foot-acts,
    .no-print {
      display: none;
    }
  }
`;

import { css } from 'lit';

/** The rows a customer fills in: titles with dotted leaders, fields, buttons, choices. */
export const rowStyles = css`
  .row {
    border: 0;
    margin: 14px 0 0;
    padding: 0;
    min-width: 0;
  }
  .row > legend,
  .row-title {
    display: flex;
    width: 100%;
    align-items: baseline;
    gap: 8px;
    padding: 0 0 6px;
    font-weight: 600;
    font-size: 13.5px;
    color: var(--ink-soft);
  }
  .chosen {
    color: var(--ink);
    font-weight: 400;
    font-size: 14px;
    text-align: end;
  }
  .leader {
    flex: 1;
    min-width: 12px;
    border-bottom: 1px dotted var(--field-edge);
    opacity: 0.7;
    transform: translateY(-3px);
  }
  /* the foot stays in view: what is focused must come to rest above it */
  .slip :is(input, button, select, textarea, a) {
    scroll-margin-block: 12px var(--_foot, 170px);
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
  }
  .pick input,
  .swatch input {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    opacity: 0;
    cursor: pointer;
  }
  .pick .face {
    display: flex;
    flex-direction: column;
    align-items: center;
    gap: 6px;
    height: 100%;
    padding: 8px 6px 7px;
    border: 1px solid var(--rule);
    border-radius: var(--radius);
    background: var(--field);
    color: var(--ink);
    font-size: 13px;
    line-height: 1.25;
    text-align: center;
  }
  .pick svg {
    display: block;
    flex: none;
    width: 100%;
    height: 54px;
  }
  @container platen (max-width: 420px) {
    .items {
      grid-template-columns: repeat(auto-fill, minmax(130px, 1fr));
    }
    .pick .face {
      flex-direction: row;
      text-align: start;
    }
    .pick svg {
      width: 46px;
      height: 42px;
    }
  }
  .pick:hover .face {
    border-color: var(--field-edge);
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
  .swatch input:focus-visible + .dot {
    outline-offset: 5px;
  }
  .swatches {
    display: flex;
    flex-wrap: wrap;
    gap: 7px;
    padding: 2px 2px 4px;
  }
  .swatch {
    position: relative;
    width: 31px;
    height: 31px;
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
  @container platen (max-width: 420px) {
    .swatches {
      gap: 5px;
    }
    .swatch {
      width: 30px;
      height: 30px;
    }
  }
  .sizes {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(36px, 1fr));
    gap: 8px 5px;
  }
  .size {
    display: flex;
    flex-direction: column;
    gap: 2px;
    min-width: 0;
    font-size: 13px;
    text-align: center;
    color: var(--ink-soft);
    white-space: nowrap;
  }
  .size:only-child {
    grid-column: span 2;
  }
  .size .plus {
    font-size: 12px;
    margin-inline: -4px;
  }
  .field {
    width: 100%;
    min-width: 0;
    min-height: 36px;
    padding: 4px 8px;
    background: var(--field);
    border: 1px solid var(--field-edge);
    border-radius: var(--radius);
    color: var(--ink);
    font-size: 15px;
  }
  .field.count {
    padding-inline: 1px;
    text-align: center;
    font-variant-numeric: tabular-nums;
  }
  .field::placeholder {
    color: var(--ink-soft);
    opacity: 0.75;
  }
  .field[type='color'] {
    padding: 3px;
  }
  .field[aria-invalid='true'] {
    border: 2px solid var(--stop);
  }
  .fault {
    margin: 4px 0 0;
    color: var(--stop);
    font-size: 13.5px;
  }
  .plain,
  .slip a {
    min-height: 28px;
    min-width: 28px;
    padding: 3px 6px;
    border: 0;
    background: none;
    color: var(--accent);
    text-decoration: underline 1px;
    text-underline-offset: 3px;
    text-align: start;
    cursor: pointer;
    border-radius: var(--radius);
  }
  .plain:hover,
  .slip a:hover {
    text-decoration-thickness: 2px;
  }
  .plain:disabled {
    color: var(--ink-soft);
    opacity: 0.6;
    cursor: default;
    text-decoration: none;
  }
  .box,
  .main {
    min-height: 40px;
    padding: 6px 14px;
    border: 1px solid var(--field-edge);
    background: var(--field);
    color: var(--ink);
    border-radius: var(--radius);
    cursor: pointer;
  }
  .box:hover {
    border-color: var(--ink);
  }
  .main {
    min-height: 44px;
    padding-inline: 18px;
    border-color: var(--accent);
    background: var(--accent);
    color: var(--accent-ink);
    font-weight: 600;
  }
  .main:hover {
    background: color-mix(in srgb, var(--accent) 88%, var(--ink));
  }
  :is(.main, .box):disabled {
    background: transparent;
    color: var(--ink-soft);
    border: 1px dashed var(--field-edge);
    cursor: default;
  }
  .acts {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0 6px;
    margin-inline: -6px;
    font-size: 14px;
  }
  .acts .label,
  .acts .note {
    margin: 0 0 0 6px;
  }
  .piece > .acts {
    margin-top: 8px;
  }
  .drop {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 6px 12px;
    border: 1px dashed var(--field-edge);
    border-radius: var(--radius);
    padding: 9px 10px;
    font-size: 14px;
    color: var(--ink-soft);
  }
  .placement + .drop {
    margin-top: 10px;
  }
  .drop.over {
    border-style: solid;
    border-color: var(--accent);
  }
  .drop .acts {
    flex-basis: 100%;
  }
  .options {
    display: grid;
  }
  .option {
    display: grid;
    grid-template-columns: 18px minmax(0, 1fr) auto;
    gap: 0 8px;
    padding: 7px 0;
    border-bottom: 1px dotted var(--rule);
    cursor: pointer;
  }
  .option:last-child {
    border-bottom: 0;
  }
  .option input {
    margin-top: 3px;
  }
  .option .sub {
    grid-column: 2 / -1;
    font-size: 13px;
    color: var(--ink-soft);
  }
  .option .delta {
    font-size: 14px;
    font-variant-numeric: tabular-nums;
    text-align: end;
  }
  .option.off {
    color: var(--ink-soft);
  }
  .note {
    font-size: 13px;
    color: var(--ink-soft);
    margin: 4px 0;
  }
  .good::before {
    content: '✓ ' / '';
    color: var(--good);
  }
  .check {
    display: flex;
    gap: 9px;
    align-items: flex-start;
    padding: 6px 0;
    cursor: pointer;
  }
  .check input {
    width: 18px;
    height: 18px;
    margin-top: 2px;
  }
  .alert {
    margin: 8px 0;
    padding: 8px 10px;
    font-size: 14px;
    border: 1px solid var(--stop);
    border-radius: var(--radius);
    background: color-mix(in srgb, var(--stop) 8%, var(--paper));
  }
  .alert.quiet {
    border-color: var(--warn);
    background: color-mix(in srgb, var(--warn) 8%, var(--paper));
  }
  .foot .alert {
    max-height: 30vh;
    overflow: auto;
    margin-top: 0;
  }
`;

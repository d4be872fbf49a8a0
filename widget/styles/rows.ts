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
    color: var(--p-ink-soft);
  }
  .chosen {
    color: var(--p-ink);
    font-weight: 400;
    font-size: 14px;
    text-align: end;
  }
  .leader {
    flex: 1;
    min-width: 12px;
    border-bottom: 1px dotted var(--p-field-edge);
    opacity: 0.7;
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
    padding: 8px 2px 7px;
    overflow-wrap: anywhere;
    border: 1px solid var(--p-rule);
    border-radius: var(--p-radius);
    background: var(--p-field);
    color: var(--p-ink);
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
  @container platen ((max-width: 420px) or ((min-width: 700px) and (max-width: 999px))) {
    .items {
      grid-template-columns: repeat(auto-fill, minmax(130px, 1fr));
    }
    .pick .face {
      flex-direction: row;
      text-align: start;
    }
    .pick svg {
      width: 38px;
      height: 42px;
    }
  }
  .pick:hover .face {
    border-color: var(--p-field-edge);
  }
  .pick input:checked + .face {
    border-color: var(--p-ink);
    box-shadow: inset 0 0 0 1px var(--p-ink);
  }
  .pick input:focus-visible + .face,
  .swatch input:focus-visible + .dot {
    outline: 2px solid var(--p-focus);
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
    border: 1px solid var(--p-field-edge);
    forced-color-adjust: none;
  }
  .swatch input:checked + .dot {
    box-shadow:
      0 0 0 2px var(--p-paper),
      0 0 0 4px var(--p-ink);
  }
  @container platen ((max-width: 420px) or ((min-width: 700px) and (max-width: 999px))) {
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
    grid-template-columns: repeat(auto-fit, minmax(36px, 1fr));
    gap: 8px 5px;
  }
  .size {
    display: flex;
    flex-direction: column;
    gap: 2px;
    min-width: 0;
    font-size: 13px;
    text-align: center;
    color: var(--p-ink-soft);
    white-space: nowrap;
  }
  .size:only-child {
    max-width: 120px;
  }
  .surcharges {
    display: flex;
    flex-wrap: wrap;
    justify-content: flex-end;
    gap: 0 14px;
  }
  .field {
    width: 100%;
    min-width: 0;
    min-height: 36px;
    padding: 4px 8px;
    background: var(--p-field);
    border: 1px solid var(--p-field-edge);
    border-radius: var(--p-radius);
    color: var(--p-ink);
    font-size: 15px;
  }
  .field.count {
    padding-inline: 1px;
    text-align: center;
    font-variant-numeric: tabular-nums;
  }
  .field::placeholder {
    color: var(--p-ink-soft);
    opacity: 0.75;
  }
  .field[type='color'] {
    padding: 3px;
  }
  .field[aria-invalid='true'] {
    border: 2px solid var(--p-stop);
  }
  .fault {
    margin: 4px 0 0;
    color: var(--p-stop);
    font-size: 13.5px;
  }
  .plain,
  .slip a {
    min-height: 28px;
    min-width: 28px;
    padding: 3px 6px;
    border: 0;
    background: none;
    color: var(--p-accent);
    text-decoration: underline 1px;
    text-underline-offset: 3px;
    text-align: start;
    cursor: pointer;
    border-radius: var(--p-radius);
  }
  .plain:hover,
  .slip a:hover {
    text-decoration-thickness: 2px;
  }
  .plain:disabled {
    color: var(--p-ink-soft);
    opacity: 0.6;
    cursor: default;
    text-decoration: none;
  }
  .box,
  .main {
    min-height: 40px;
    padding: 6px 14px;
    border: 1px solid var(--p-field-edge);
    background: var(--p-field);
    color: var(--p-ink);
    border-radius: var(--p-radius);
    cursor: pointer;
  }
  .box:hover {
    border-color: var(--p-ink);
  }
  .main {
    min-height: 44px;
    padding-inline: 18px;
    border-color: var(--p-accent);
    background: var(--p-accent);
    color: var(--p-accent-ink);
    font-weight: 600;
  }
  .main:hover {
    background: color-mix(in srgb, var(--p-accent) 88%, var(--p-ink));
  }
  :is(.main, .box):is(:disabled, [aria-disabled='true']) {
    background: transparent;
    color: var(--p-ink-soft);
    border: 1px dashed var(--p-field-edge);
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
    border: 1px dashed var(--p-field-edge);
    border-radius: var(--p-radius);
    padding: 9px 10px;
    font-size: 14px;
    color: var(--p-ink-soft);
  }
  .placement,
  .arriving {
    min-height: 126px;
    padding: 8px 0;
    border-bottom: 1px dotted var(--p-rule);
    font-size: 14.5px;
    overflow-wrap: anywhere;
  }
  /* as high as a new placement with its fields open */
  .arriving {
    min-height: 334px;
    padding-inline-start: 68px;
    color: var(--p-ink-soft);
  }
  @container platen ((max-width: 420px) or ((min-width: 700px) and (max-width: 999px))) {
    .arriving {
      min-height: 383px;
    }
  }
  :is(.placement, .arriving) + .drop {
    margin-top: 10px;
  }
  .drop.over {
    border-style: solid;
    border-color: var(--p-accent);
  }
  /* one row each, so that the room is known before the names are */
  .drop .acts {
    display: grid;
    grid-auto-rows: minmax(28px, auto);
    justify-items: start;
    flex: 1 0 100%;
    margin-inline: -6px;
  }
  .options {
    display: grid;
  }
  .option {
    display: grid;
    grid-template-columns: 18px minmax(0, 1fr) minmax(5em, auto);
    gap: 0 8px;
    padding: 7px 0;
    border-bottom: 1px dotted var(--p-rule);
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
    color: var(--p-ink-soft);
  }
  /* room for what the answer will add */
  .option .then {
    display: block;
    min-height: 2lh;
  }
  .option .delta {
    font-size: 14px;
    font-variant-numeric: tabular-nums;
    text-align: end;
  }
  .option.off {
    color: var(--p-ink-soft);
  }
  .note {
    font-size: 13px;
    color: var(--p-ink-soft);
    margin: 4px 0;
  }
  .good::before {
    content: '✓ ' / '';
    color: var(--p-good);
  }
  .rungs {
    min-height: 120px;
  }
  /* room for the changes of the next two counts */
  .rungs[aria-busy] {
    min-height: 290px;
  }
  .check {
    display: flex;
    gap: 9px;
    align-items: flex-start;
    min-height: 33px;
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
    border: 1px solid var(--p-stop);
    border-radius: var(--p-radius);
    background: color-mix(in srgb, var(--p-stop) 8%, var(--p-paper));
  }
  .alert.quiet {
    border-color: var(--p-warn);
    background: color-mix(in srgb, var(--p-warn) 8%, var(--p-paper));
  }
  .foot .alert {
    max-height: 30vh;
    overflow: auto;
    margin-top: 0;
  }
`;

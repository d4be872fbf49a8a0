import { css } from 'lit';

/** The deferred parts: placements, findings, the price ladder, the calendar, the order and its status. */
export const detailStyles = css`
  .placement {
    display: grid;
    grid-template-columns: 58px minmax(0, 1fr);
    gap: 0 10px;
  }
  .sent {
    min-height: 10px;
    line-height: 10px;
  }
  .thumb {
    width: 58px;
    height: 58px;
    border: 1px solid var(--p-rule);
    border-radius: var(--p-radius);
    display: grid;
    place-items: center;
    overflow: hidden;
    padding: 3px;
    background: var(--p-field);
    cursor: pointer;
  }
  .thumb img {
    max-width: 100%;
    max-height: 100%;
    object-fit: contain;
  }
  .what {
    min-width: 0;
  }
  .what .name {
    overflow-wrap: anywhere;
    font-weight: 600;
    font-size: 14.5px;
    line-height: 1.3;
  }
  .what .note {
    margin: 0;
  }
  .more {
    grid-column: 1 / -1;
  }
  .found {
    grid-column: 1 / -1;
  }
  /* always one line high */
  .told {
    display: flex;
    align-items: center;
    gap: 6px;
    min-height: 28px;
    font-size: 13px;
    color: var(--p-ink-soft);
  }
  .told button {
    flex: none;
    margin-inline-start: -6px;
  }
  .told button + span {
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .figures {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(84px, 1fr));
    gap: 8px;
    padding: 8px 0 4px;
  }
  @container platen ((max-width: 420px) or ((min-width: 700px) and (max-width: 999px))) {
    .figures {
      grid-template-columns: 1fr 1fr;
    }
  }
  .figures .wide {
    grid-column: 1 / -1;
  }
  .figures label,
  .stack > label:not(.check),
  .two label {
    display: flex;
    flex-direction: column;
    justify-content: flex-end;
    gap: 3px;
    font-size: 13px;
    color: var(--p-ink-soft);
  }
  .two label {
    justify-content: flex-start;
  }
  progress {
    display: block;
    width: 100%;
    height: 6px;
    accent-color: var(--p-accent);
  }
  .finding {
    margin: 8px 0 2px;
    padding: 1px 0 1px 10px;
    padding-inline: 10px 0;
    font-size: 14px;
    border-inline-start: 3px solid var(--_mark, var(--p-ink-soft));
  }
  :is(.finding, .told).warning {
    --_mark: var(--p-warn);
  }
  :is(.finding, .told).stops {
    --_mark: var(--p-stop);
  }
  :is(.finding, .told) strong {
    font-weight: 600;
    color: var(--_mark, var(--p-ink-soft));
  }
  .finding strong {
    display: block;
  }
  .finding .plain {
    margin-inline-start: -6px;
  }
  .beforeafter {
    display: grid;
    grid-template-columns: 1fr 1fr;
    gap: 8px;
    margin: 4px 0 8px;
  }
  figure {
    margin: 0;
    font-size: 13px;
    color: var(--p-ink-soft);
    text-align: center;
  }
  .swab {
    display: block;
    width: 100%;
    border: 1px solid var(--p-rule);
    border-radius: var(--p-radius);
    margin-bottom: 3px;
  }
  .two {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(150px, 1fr));
    gap: 10px;
  }
  .stack {
    display: grid;
    gap: 10px;
  }
  /* no message yet */
  .stack > [role='status']:empty {
    margin-top: -10px;
  }

  .rungs {
    display: grid;
    grid: repeat(4, auto) / auto-flow minmax(0, 1fr);
    gap: 0 18px;
  }
  .rung {
    display: grid;
    grid-template-columns: 2.4em minmax(0, 1fr) minmax(4.2em, auto);
    align-items: center;
    gap: 7px;
    min-height: 30px;
    padding: 0 4px;
    margin-inline: -4px;
    border: 0;
    background: none;
    border-radius: var(--p-radius);
    cursor: pointer;
    font-size: 13.5px;
    font-variant-numeric: tabular-nums;
    text-align: end;
  }
  .rung svg {
    width: 100%;
    height: 9px;
  }
  [dir='rtl'] .rung svg {
    transform: scaleX(-1);
  }
  .rung rect {
    fill: var(--p-field-edge);
    opacity: 0.55;
  }
  .rung[aria-pressed='true'] {
    font-weight: 700;
  }
  .rung[aria-pressed='true'] rect {
    fill: var(--p-accent);
    opacity: 1;
  }
  .rung:hover {
    background: color-mix(in srgb, var(--p-rule) 40%, transparent);
  }
  @container platen ((max-width: 420px) or ((min-width: 700px) and (max-width: 999px))) {
    .rungs {
      gap: 0 10px;
    }
    .rung {
      grid-template-columns: 2em minmax(0, 1fr) minmax(4em, auto);
      gap: 5px;
    }
  }

  .step {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(5em, auto);
    gap: 0 8px;
    margin: 6px 0 0;
    padding: 6px 0 0;
    border-top: 1px dotted var(--p-rule);
    font-size: 14px;
  }
  .step .sub {
    min-height: 2lh;
    grid-column: 1 / -1;
    font-size: 13px;
    color: var(--p-ink-soft);
  }
  .step .delta {
    text-align: end;
  }
  .delta {
    font-variant-numeric: tabular-nums;
  }

  .month {
    display: flex;
    align-items: center;
    justify-content: space-between;
    font-weight: 600;
    padding: 2px 0 4px;
  }
  .month .box {
    min-height: 32px;
    min-width: 36px;
    padding: 0;
  }
  .days {
    display: grid;
    grid-template-columns: repeat(7, 1fr);
    gap: 3px;
    text-align: center;
    font-size: 14px;
    font-variant-numeric: tabular-nums;
  }
  .earliest {
    min-height: 1lh;
  }
  .days span {
    color: var(--p-ink-soft);
    font-size: 12px;
    padding: 2px 0;
  }
  .days button {
    min-height: 34px;
    min-width: 24px;
    padding: 0;
    border: 1px solid transparent;
    border-radius: var(--p-radius);
    background: none;
  }
  .days button:enabled {
    border-color: var(--p-field-edge);
    background: var(--p-field);
    cursor: pointer;
  }
  .days button.first {
    border: 2px solid var(--p-good);
  }
  .days button[aria-pressed='true'] {
    background: var(--p-accent);
    color: var(--p-accent-ink);
    border-color: var(--p-accent);
  }
  .days button:disabled {
    color: var(--p-ink-soft);
    opacity: 0.65;
    text-decoration: line-through;
  }

  table {
    width: 100%;
    border-collapse: collapse;
    font-size: 14px;
    font-variant-numeric: tabular-nums;
  }
  :is(td, th) {
    padding: 3px 0;
    text-align: start;
    font-weight: 400;
    vertical-align: baseline;
  }
  td:last-child {
    text-align: end;
    padding-inline-start: 12px;
  }
  .sum td:last-child {
    white-space: nowrap;
  }
  .grand > * {
    border-top: 1px solid var(--p-ink);
    font-weight: 600;
    padding-top: 5px;
  }

  /* as large as the longer of its two labels */
  .stacked {
    display: grid;
    place-items: center;
  }
  .stacked > * {
    grid-area: 1 / 1;
  }
  .unseen {
    visibility: hidden;
  }
  .stamp {
    display: inline-block;
    margin: 16px 0 10px;
    padding: 6px 14px;
    border: 3px double var(--p-accent);
    color: var(--p-accent);
    font: 700 20px/1.2 var(--p-font-heading);
    border-radius: 4px;
    transform: rotate(-2deg);
  }
  .states {
    display: grid;
    grid-auto-flow: column;
    grid-auto-columns: minmax(0, 1fr);
    gap: 7px;
    margin: 4px 0 12px;
    padding: 0;
    list-style: none;
    font-size: 13px;
    color: var(--p-ink-soft);
  }
  .states li {
    border-top: 4px solid var(--p-rule);
    padding-top: 5px;
    overflow-wrap: anywhere;
  }
  .states .past {
    border-color: var(--p-good);
  }
  .states [aria-current] {
    color: var(--p-ink);
    font-weight: 600;
  }
  .proofs {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(150px, 1fr));
    gap: 10px;
  }
  .proofs figure {
    position: relative;
  }
  .proofs .note {
    position: absolute;
    inset: 0 8px;
  }
  .proofs > * > :is(img, svg) {
    display: block;
    width: 100%;
    height: auto;
    border: 1px solid var(--p-rule);
    background: #fff;
    margin-bottom: 3px;
  }

  .unfold {
    height: min(46vh, 380px);
    overflow: auto;
    overscroll-behavior: contain;
    border-bottom: 1px dotted var(--p-rule);
    margin-bottom: 8px;
    font-size: 14px;
  }
  .unfold h4 {
    font: 600 15px/1.3 var(--p-font-heading);
    margin: 10px 0 4px;
  }
  .unfold h4:first-child {
    margin-top: 0;
  }
`;

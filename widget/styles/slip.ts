import { css } from 'lit';

/** The desk, the sheet on it and the foot. */
export const slipStyles = css`
  .root {
    display: grid;
    gap: 16px;
    grid-template-columns: minmax(0, 1fr);
    align-items: start;
    background: var(--p-desk);
    padding: 8px 8px 20px;
    border-radius: var(--p-radius);
  }
  @container platen (min-width: 700px) {
    .root {
      grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
      gap: 20px;
      padding: 20px 20px 28px;
    }
    /* with the choice of faces below it, no taller than the window, or its end would be out of view while it sticks */
    .drawing {
      position: sticky;
      inset-block-start: 12px;
      width: 100%;
      max-width: max(260px, 103vh - 66px);
      justify-self: center;
    }
  }
  @container platen (min-width: 1000px) {
    .root {
      grid-template-columns: minmax(0, 1fr) 430px;
      gap: 28px;
      padding: 28px 28px 36px;
    }
  }
  .drawing {
    min-width: 0;
  }
  .stage-room {
    aspect-ratio: 1 / 0.97;
    min-height: 240px;
    padding: 24px 0 0 30px;
    background: var(--p-sheet);
    border: 1px solid var(--p-rule);
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
    stroke-dasharray: 3.5 2.5;
  }
  .stage-room .cast {
    opacity: 0.1;
  }
  .stage-room .area {
    vector-effect: non-scaling-stroke;
    stroke: var(--p-focus);
    stroke-width: 1.1;
    stroke-dasharray: 7 4;
  }
  .views {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 2px 14px;
    margin: 6px 2px 0;
    padding: 0;
    border: 0;
    font-size: 14px;
  }
  .views label {
    display: flex;
    align-items: center;
    gap: 6px;
    min-height: 30px;
    cursor: pointer;
  }
  .views button {
    margin-inline-start: auto;
  }
  input[type='radio'],
  input[type='checkbox'] {
    width: 16px;
    height: 16px;
    margin: 0;
    flex: none;
    accent-color: var(--p-accent);
  }

  /* looks like a sheet torn off a pad */
  .slip {
    position: relative;
    min-width: 0;
    --_edge: 20px;
    padding: 0 var(--_edge);
    background: var(--p-paper);
    box-shadow:
      0 0 0 1px var(--p-paper-edge),
      3px 4px 0 -1px var(--p-paper),
      3px 4px 0 0 var(--p-paper-edge),
      0 14px 28px -16px rgb(40 30 10 / 0.4);
  }
  @container platen ((max-width: 420px) or ((min-width: 700px) and (max-width: 999px))) {
    .slip {
      --_edge: 14px;
    }
  }
  .slip::before,
  .foot::after {
    content: '';
    display: block;
    height: 9px;
    margin-inline: calc(-1 * var(--_edge));
    background: radial-gradient(circle at 7px -1px, var(--p-desk) 5px, transparent 5.5px) repeat-x 0 0 / 14px 9px;
  }
  .slip-head {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 6px;
    padding: 10px 0 9px;
    border-bottom: 2px solid var(--p-ink);
  }
  .slip-head h2 {
    font: 600 23px/1.2 var(--p-font-heading);
    margin: 0;
    flex: 1 1 auto;
  }
  .slip-head button:last-child {
    margin-inline-end: -6px;
  }
  .alone {
    grid-column: 1 / -1;
    width: 100%;
    max-width: 560px;
    margin-inline: auto;
    padding-block-end: 20px;
  }
  .piece {
    padding: 0 0 12px;
    border-bottom: 1px solid var(--p-rule);
  }
  .piece-head {
    display: flex;
    align-items: baseline;
    gap: 0 10px;
    padding: 14px 0 0;
  }
  .number {
    font: 600 15px/1.3 var(--p-font-figures);
    color: var(--p-accent);
  }
  h3 {
    font: 600 18px/1.3 var(--p-font-heading);
    margin: 0;
  }
  .piece-head h3 {
    flex: 1;
    min-width: 0;
    overflow-wrap: anywhere;
  }
  .piece-head h3 button {
    font: inherit;
    text-align: start;
    padding-inline: 0;
  }
  .piece-head .note {
    margin: 0;
    font-variant-numeric: tabular-nums;
  }
  .skeleton {
    min-height: 640px;
  }
  /* without a drawing, the message comes first */
  @container platen (max-width: 699px) {
    .root:has(> .skeleton[aria-busy='false'], > .slip > .nothing) > .drawing {
      display: none;
    }
  }

  .foot {
    position: sticky;
    inset-block-end: 0;
    z-index: 3;
    margin-inline: calc(-1 * var(--_edge));
    padding: 9px var(--_edge) 0;
    background: var(--p-paper);
    border-top: 2px solid var(--p-ink);
    box-shadow: 0 -10px 14px -13px rgb(40 30 10 / 0.5);
  }
  .foot::after {
    margin-top: 5px;
    transform: scaleY(-1);
  }
  /* on a low or far zoomed-in screen a sticky foot would leave no room for the rest */
  @media (max-height: 460px) {
    .foot {
      position: static;
    }
  }
  .answer {
    display: grid;
    /* fixed shares, so that longer figures do not move the others */
    grid-template-columns: minmax(0, 10fr) minmax(0, 13fr) minmax(0, 12fr);
    gap: 2px 14px;
    min-height: 46px;
  }
  /* Arabic days are long */
  [dir='rtl'] .answer {
    min-height: 59px;
  }
  .label {
    font-size: 12.5px;
    color: var(--p-ink-soft);
    line-height: 1.35;
  }
  .value {
    font-size: 16px;
    font-weight: 600;
    line-height: 1.3;
    font-variant-numeric: tabular-nums;
  }
  .answer > :last-child {
    text-align: end;
  }
  .answer > :nth-child(2) {
    text-align: center;
  }
  .answer > :not(:nth-child(2)) {
    white-space: nowrap;
  }
  .how .value {
    font-size: 15px;
  }
  .value.big {
    font: 700 21px/1.15 var(--p-font-heading);
  }
  @container platen ((max-width: 420px) or ((min-width: 700px) and (max-width: 999px))) {
    .answer {
      gap: 2px 8px;
      min-height: 56px;
    }
    .value {
      font-size: 14px;
    }
    .how .value {
      font-size: 13.5px;
    }
    .foot-acts > .main {
      padding-inline: 10px;
    }
    .value.big {
      font-size: 18.5px;
    }
  }
  /* the answer for an earlier slip: grayed at once, struck through if it stays */
  [data-stale] .value {
    color: var(--p-ink-soft);
    text-decoration: line-through transparent;
    animation: outdated 0s 0.4s forwards;
  }
  @keyframes outdated {
    to {
      text-decoration-color: currentcolor;
    }
  }
  .blank-value {
    display: inline-block;
    width: 4.5em;
    height: 0.85em;
    border-radius: 2px;
    background: var(--p-rule);
    opacity: 0.6;
  }
  .foot-acts {
    display: flex;
    align-items: center;
    justify-content: space-between;
    gap: 4px 12px;
    margin-top: 4px;
    padding-top: 6px;
    min-height: 70px;
    border-top: 1px dotted var(--p-rule);
  }
  .how {
    flex: 1 1 0;
  }
  /* always two lines high */
  .how .label {
    white-space: nowrap;
  }
  .how > :last-child {
    min-height: 2lh;
  }
  .stopped button {
    margin-inline-start: -6px;
  }
  .stopped > :last-child {
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 2;
    overflow: hidden;
  }
  .stopped {
    font-size: 14px;
    line-height: 1.3;
    border-inline-start: 3px solid var(--p-stop);
    padding-inline-start: 8px;
  }
  .foot-acts > .main {
    max-width: 55%;
    margin-inline-start: auto;
  }
  .how button {
    min-height: 24px;
    padding-block: 0;
  }
  .lack {
    align-self: stretch;
    margin: 0;
    flex: 1 1 0;
    text-align: end;
    font-size: 14px;
    color: var(--p-ink-soft);
  }
  ul {
    margin: 0;
    padding-inline-start: 18px;
  }
  li {
    margin: 3px 0;
  }
  @media (prefers-reduced-motion: no-preference) {
    .value {
      transition: opacity 120ms linear;
    }
  }
`;

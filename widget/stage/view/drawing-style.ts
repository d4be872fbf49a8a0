import { css } from 'lit';

/** Rulers, the blank with its areas, guides and measures. Marks on the cloth follow the cloth, not the page's theme. */
export const drawingStyle = css`
  .ruler {
    display: block;
    width: 100%;
    height: 100%;
    overflow: hidden;
    pointer-events: none;
  }
  .ruler.top {
    border-block-end: 1px solid var(--_rule);
  }
  .ruler.left {
    border-inline-end: 1px solid var(--_rule);
  }
  .ruler .ticks {
    stroke: var(--_quiet);
    stroke-width: 1;
    fill: none;
    shape-rendering: crispEdges;
  }
  .ruler .minor {
    opacity: 0.45;
  }
  .ruler text {
    font: 12px/1 var(--_font);
    font-variant-numeric: tabular-nums;
    fill: var(--_quiet);
  }
  .ruler .zero {
    fill: var(--_ink);
    font-weight: 600;
  }
  .ruler .span {
    fill: var(--_accent);
    opacity: 0.16;
  }
  .ruler .edge {
    stroke: var(--_accent);
    stroke-width: 1;
    shape-rendering: crispEdges;
  }

  .drawing {
    forced-color-adjust: none;
  }
  .drawing path,
  .drawing rect {
    vector-effect: non-scaling-stroke;
    stroke-linejoin: round;
    stroke-linecap: round;
  }
  .drawing .cloth {
    stroke-width: 1.3;
  }
  .drawing .trim {
    stroke-width: 1;
  }
  .drawing .seam {
    stroke-width: 1;
    stroke-dasharray: 3.5 2.5;
  }
  .drawing .cast {
    fill: rgb(60 50 30 / 0.09);
  }
  .drawing .area {
    fill: none;
    stroke-width: 1.1;
    stroke-dasharray: 7 4;
  }
  .drawing .area.tight {
    stroke-dasharray: 2 3;
  }
  .drawing .halo {
    fill: none;
    stroke: rgb(255 255 255 / 0.55);
    stroke-width: 2.6;
  }
  .drawing .dark .halo {
    stroke: rgb(0 0 0 / 0.5);
  }
  .drawing .area {
    stroke: #4c5768;
    opacity: 0.5;
  }
  .drawing .dark .area {
    stroke: #dfe4ec;
  }
  .drawing .area.active {
    stroke: #1c5fb0;
    opacity: 1;
  }
  .drawing .dark .area.active {
    stroke: #9ccbee;
  }
  .drawing .keep-out {
    fill: rgb(163 32 28 / 0.07);
    stroke: none;
  }
  .drawing .hatch {
    fill: none;
    stroke: #a3201c;
    stroke-width: 0.8;
    opacity: 0.5;
  }
  .drawing .dark .hatch {
    stroke: #f0a58c;
  }
  .drawing .usual {
    fill: none;
    stroke: #4c5768;
    stroke-width: 1;
    opacity: 0.55;
  }
  .drawing .dark .usual {
    stroke: #dfe4ec;
  }

  .marks .guide {
    stroke: var(--_accent);
    stroke-width: 1;
    stroke-dasharray: 5 3;
  }
  .marks .measure {
    stroke: #262a34;
    stroke-width: 1;
    fill: none;
  }
  .marks .measure.under {
    stroke: rgb(255 255 255 / 0.75);
    stroke-width: 3;
  }
`;

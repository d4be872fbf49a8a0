import { css } from 'lit';

/**
 * The look of the stage: a sheet of paper, hairlines, one blue pencil. It takes the slip's own custom properties
 * (`--p-paper`, `--p-ink`, `--p-ink-soft`, `--p-rule`, `--p-focus`, `--p-stop`, `--p-font`). Sizes are px: `rem` would reach through the
 * shadow root and shrink with the page. Marks that lie on the cloth do not follow the page's theme but the cloth.
 */
export const stageStyle = css`
  :host {
    --_paper: var(--p-paper, #fbf8f0);
    --_sheet: var(--p-sheet, var(--_paper));
    --_ink: var(--p-ink, #22262b);
    --_quiet: var(--p-ink-soft, #595b58);
    --_rule: color-mix(in srgb, var(--_quiet) 36%, transparent);
    --_accent: var(--p-focus, #1c5fb0);
    --_warn: var(--p-stop, #a3201c);
    --_font: var(--p-font, system-ui, sans-serif);
    display: block;
    position: relative;
    contain: layout paint;
    aspect-ratio: 1 / 0.97;
    min-block-size: 240px;
    max-inline-size: 100%;
  }
  *,
  ::before,
  ::after {
    box-sizing: border-box;
  }

  .sheet {
    position: absolute;
    inset: 0;
    direction: ltr;
    color: var(--_ink);
    font: 12px/1.35 var(--_font);
    display: grid;
    grid-template: 24px minmax(0, 1fr) / 30px minmax(0, 1fr);
    background: var(--_sheet);
    border: 1px solid var(--_rule);
    border-radius: 3px;
    overflow: hidden;
  }
  .corner {
    display: grid;
    place-items: center;
    font-size: 12px;
    color: var(--_quiet);
    border-inline-end: 1px solid var(--_rule);
    border-block-end: 1px solid var(--_rule);
  }
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

  .surface {
    position: relative;
    overflow: hidden;
    min-inline-size: 0;
    /* one finger on an empty spot scrolls the page, two zoom it */
    touch-action: manipulation;
    -webkit-touch-callout: none;
    -webkit-user-select: none;
    user-select: none;
  }
  .surface > svg,
  .pictures,
  .pictures canvas {
    position: absolute;
    inset: 0;
    display: block;
    width: 100%;
    height: 100%;
    pointer-events: none;
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

  /* paper tags: a figure or a name that lies on the drawing */
  .tag {
    position: absolute;
    left: 0;
    top: 0;
    padding: 1px 5px;
    border-radius: 2px;
    background: var(--_paper);
    color: var(--_quiet);
    font: 12px/16px var(--_font);
    white-space: nowrap;
    pointer-events: none;
  }
  .tag.active {
    color: var(--_accent);
    font-weight: 600;
  }
  .tag.measured {
    color: var(--_ink);
    font-weight: 600;
    font-variant-numeric: tabular-nums;
    box-shadow: 0 0 0 1px var(--_rule);
    z-index: 3;
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
  .items {
    position: absolute;
    inset: 0;
    pointer-events: none;
  }
  .item {
    position: absolute;
    left: 0;
    top: 0;
    margin: 0;
    padding: 0;
    border: 0;
    background: none;
    color: inherit;
    font: inherit;
    border-radius: 1px;
    cursor: grab;
    pointer-events: auto;
    touch-action: manipulation;
    outline-offset: 3px;
    -webkit-tap-highlight-color: transparent;
  }
  .item:hover {
    box-shadow: 0 0 0 1px var(--_accent);
  }
  .item.selected {
    z-index: 1;
    touch-action: none;
  }
  .item.moving {
    cursor: grabbing;
  }
  .item.outside {
    box-shadow:
      0 0 0 1.5px var(--_warn),
      0 0 0 2.5px rgb(255 255 255 / 0.7);
  }
  .item.selected {
    box-shadow: none;
  }
  .item.waiting {
    background: repeating-linear-gradient(
      -45deg,
      rgb(120 110 90 / 0.16) 0 6px,
      rgb(120 110 90 / 0.06) 6px 12px
    );
    box-shadow: inset 0 0 0 1px var(--_quiet);
  }
  .item.failed {
    box-shadow: inset 0 0 0 2px var(--_warn);
  }
  .surface:not(.pointing) .item:focus-visible {
    outline: 3px solid var(--_accent);
    outline-offset: 4px;
  }
  .surface.pointing .item {
    outline: none;
  }
  /* a target of at least 24 px around artworks smaller than that */
  .item::before {
    content: '';
    position: absolute;
    inset: var(--_reach, 0);
  }
  :host([readonly]) .item {
    cursor: default;
    touch-action: manipulation;
  }

  .frame {
    position: absolute;
    left: 0;
    top: 0;
    z-index: 2;
    pointer-events: none;
    box-shadow:
      0 0 0 1px var(--_accent),
      0 0 0 2px rgb(255 255 255 / 0.7);
  }
  .frame.outside {
    --_accent: var(--_warn);
  }
  .handle {
    position: absolute;
    width: 28px;
    height: 28px;
    margin: -14px;
    pointer-events: auto;
    touch-action: none;
    display: grid;
    place-items: center;
  }
  .handle::before {
    content: '';
    width: 10px;
    height: 10px;
    background: var(--_paper);
    border: 1.5px solid var(--_accent);
    border-radius: 1px;
  }
  .handle.turn::before {
    width: 13px;
    height: 13px;
    border-radius: 50%;
  }
  .stalk {
    position: absolute;
    left: 50%;
    width: 1px;
    background: var(--_accent);
    box-shadow: 0 0 0 0.5px rgb(255 255 255 / 0.7);
  }
  @media (pointer: coarse) {
    .handle {
      width: 44px;
      height: 44px;
      margin: -22px;
    }
    .handle::before {
      width: 14px;
      height: 14px;
    }
  }

  .add {
    position: absolute;
    left: 0;
    top: 0;
    display: grid;
    place-content: center;
    place-items: center;
    gap: 4px;
    margin: 0;
    padding: 8px;
    border: 0;
    border-radius: 2px;
    background: none;
    color: var(--_add-ink, var(--_ink));
    font: 600 14px/1.35 var(--_font);
    text-align: center;
    cursor: pointer;
    touch-action: manipulation;
  }
  .add small {
    font: 12px/1.35 var(--_font);
    text-decoration: underline;
    text-underline-offset: 2px;
  }
  .add:hover {
    background: rgb(28 95 176 / 0.08);
  }
  .add:focus-visible {
    outline: 3px solid var(--_accent);
    outline-offset: -3px;
  }
  .add.dark:hover {
    background: rgb(255 255 255 / 0.1);
  }
  .over {
    position: absolute;
    inset: 0;
    display: none;
    pointer-events: none;
    border: 3px dashed var(--_accent);
    background: rgb(28 95 176 / 0.07);
  }
  .over.on {
    display: block;
  }

  .spoken {
    position: absolute;
    width: 1px;
    height: 1px;
    margin: 0;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }

  @media (forced-colors: active) {
    .sheet,
    .ruler {
      border-color: CanvasText;
    }
    .ruler .ticks,
    .marks .measure {
      stroke: CanvasText;
    }
    .ruler text {
      fill: CanvasText;
    }
    .tag {
      outline: 1px solid CanvasText;
    }
    .surface.pointing .item:not(.selected) {
      outline: none;
    }
    .ruler .span {
      fill: Highlight;
    }
    .frame,
    .item.outside,
    .item.waiting {
      outline: 2px solid Highlight;
    }
    .handle::before {
      background: Canvas;
      border-color: Highlight;
    }
    .surface:not(.pointing) .item:focus-visible,
    .add:focus-visible {
      outline: 3px solid Highlight;
    }
    .add {
      background: Canvas;
      color: CanvasText;
    }
  }
`;

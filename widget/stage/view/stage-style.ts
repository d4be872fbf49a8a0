import { css } from 'lit';
import { drawingStyle } from './drawing-style.ts';
import { itemStyle } from './item-style.ts';

/**
 * The sheet the drawing lies on. It takes the slip's own custom properties (`--p-paper`, `--p-ink`, `--p-ink-soft`,
 * `--p-rule`, `--p-focus`, `--p-stop`, `--p-font`). Sizes are px: `rem` would shrink with the page around the slip.
 */
const sheetStyle = css`
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
  /* the frame and its handles are drawn in these colors: line, fault, fill */
  .pictures {
    color: var(--_accent);
    stroke: var(--_warn);
    fill: var(--_paper);
  }
  .pictures .upper-canvas {
    pointer-events: auto;
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
  .spoken {
    position: absolute;
    width: 1px;
    height: 1px;
    margin: 0;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
`;

const forcedColorsStyle = css`
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
    .pictures {
      forced-color-adjust: none;
      color: Highlight;
      stroke: Highlight;
      fill: Canvas;
    }
    .item.outside,
    .item.waiting {
      outline: 2px solid Highlight;
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

export const stageStyle = [sheetStyle, drawingStyle, itemStyle, forcedColorsStyle];

import { css } from 'lit';

/**
 * Forced colors and print. The last style sheet, so that it overrides the others; deferred, as there is nothing to print
 * or to mark as chosen before the customer has begun.
 */
export const modeStyles = css`
  @media (forced-colors: active) {
    .pick input:checked + .face,
    .swatch input:checked + .dot,
    .rung[aria-pressed='true'],
    .days button[aria-pressed='true'] {
      outline: 3px solid Highlight;
      outline-offset: 1px;
    }
    .slip,
    .foot,
    .main {
      border: 1px solid CanvasText;
    }
    .rung rect {
      fill: CanvasText;
      opacity: 1;
    }
    .rung[aria-pressed='true'] rect {
      fill: Highlight;
    }
    .states .past {
      border-color: Highlight;
    }
    .pick input:focus-visible + .face,
    .swatch input:focus-visible + .dot {
      outline: 3px solid CanvasText;
    }
  }
  @media print {
    .root {
      --p-paper: #fff;
      --p-sheet: #fff;
      --p-field: #fff;
      --p-ink: #000;
      --p-ink-soft: #333;
      --p-rule: #999;
      --p-field-edge: #777;
      --p-accent: #000;
      display: block;
      background: none;
      padding: 0;
    }
    /* prints only what was chosen: no controls, no empty fields */
    .slip::before,
    .foot::after,
    .items,
    .swatches,
    .drop,
    .acts,
    .views,
    .figures,
    .main,
    .box,
    .days,
    .rungs,
    [part='ladder'],
    .plain,
    .size:has(:placeholder-shown),
    .option:not(:has(:checked)),
    .check:not(:has(:checked)),
    .beforeafter,
    .no-print {
      display: none;
    }
    .drawing {
      position: static;
      max-width: 105mm;
      margin: 0 auto 6mm;
    }
    .slip {
      box-shadow: none;
      padding: 0;
      --_edge: 0px;
    }
    .piece-head h3 button {
      display: inline;
      color: inherit;
      text-decoration: none;
    }
    .field {
      border: 0;
      min-height: 0;
    }
    .unfold {
      height: auto;
    }
    .foot {
      position: static;
      box-shadow: none;
    }
    .placement,
    .option,
    .foot {
      break-inside: avoid;
    }
  }
`;

import { css } from 'lit';

/** Where colors are forced, and on paper. Last, so that it goes before the rest. */
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
      display: block;
      background: none;
      padding: 0;
      color: #000;
    }
    .slip {
      box-shadow: none;
      padding: 0;
    }
    .slip::before,
    .foot::after,
    .drop,
    .acts,
    .views,
    .main,
    .box,
    .days,
    .no-print {
      display: none;
    }
    .foot {
      position: static;
      box-shadow: none;
      margin: 0;
      padding-inline: 0;
    }
  }
`;

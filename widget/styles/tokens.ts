import { css } from 'lit';

/**
 * Colors, type and measures. Every public custom property has a `--platen-` name and a default here. Lengths are px,
 * never rem: the host page's root font size must not reach in.
 */
export const tokens = css`
  :host {
    all: initial;
    display: block;
    container: platen / inline-size;
    color-scheme: light;
    --p-paper: var(--platen-paper, #fbf8f0);
    --p-sheet: var(--platen-sheet, var(--p-paper));
    --p-paper-edge: var(--platen-paper-edge, #e9e2d2);
    --p-desk: var(--platen-desk, #efeade);
    --p-ink: var(--platen-ink, #22262b);
    --p-ink-soft: var(--platen-ink-soft, #595b58);
    --p-rule: var(--platen-rule, #d3cab6);
    --p-field: var(--platen-field, #ffffff);
    --p-field-edge: var(--platen-field-edge, #8a8474);
    --p-accent: var(--platen-accent, #9c3f22);
    --p-accent-ink: var(--platen-accent-ink, #ffffff);
    --p-good: #2f6442;
    --p-warn: #8a5300;
    --p-stop: #a3201c;
    --p-focus: var(--platen-focus, #1c5fb0);
    --p-font: var(--platen-font, ui-sans-serif, system-ui, sans-serif);
    --p-font-heading: var(--platen-font-heading, ui-serif, 'Iowan Old Style', 'Palatino Linotype', Georgia, serif);
    --p-font-figures: var(--platen-font-figures, ui-monospace, 'Cascadia Mono', monospace);
    --p-radius: var(--platen-radius, 3px);
  }
  :host([hidden]) {
    display: none;
  }
  :host([theme='dark']) {
    color-scheme: dark;
    --p-paper: var(--platen-paper, #25262a);
    --p-sheet: var(--platen-sheet, #424349);
    --p-paper-edge: var(--platen-paper-edge, #37383d);
    --p-desk: var(--platen-desk, #1b1c1f);
    --p-ink: var(--platen-ink, #f1ede3);
    --p-ink-soft: var(--platen-ink-soft, #b9b4a8);
    --p-rule: var(--platen-rule, #47474b);
    --p-field: var(--platen-field, #1a1b1e);
    --p-field-edge: var(--platen-field-edge, #8f8b81);
    --p-accent: var(--platen-accent, #f0a07f);
    --p-accent-ink: var(--platen-accent-ink, #26130b);
    --p-good: #93d0a7;
    --p-warn: #f0bf6b;
    --p-stop: #ff9d94;
    --p-focus: var(--platen-focus, #8fc0ff);
  }
  @media (prefers-color-scheme: dark) {
    :host([theme='auto']) {
      color-scheme: dark;
      --p-paper: var(--platen-paper, #25262a);
      --p-sheet: var(--platen-sheet, #424349);
      --p-paper-edge: var(--platen-paper-edge, #37383d);
      --p-desk: var(--platen-desk, #1b1c1f);
      --p-ink: var(--platen-ink, #f1ede3);
      --p-ink-soft: var(--platen-ink-soft, #b9b4a8);
      --p-rule: var(--platen-rule, #47474b);
      --p-field: var(--platen-field, #1a1b1e);
      --p-field-edge: var(--platen-field-edge, #8f8b81);
      --p-accent: var(--platen-accent, #f0a07f);
      --p-accent-ink: var(--platen-accent-ink, #26130b);
      --p-good: #93d0a7;
      --p-warn: #f0bf6b;
      --p-stop: #ff9d94;
      --p-focus: var(--platen-focus, #8fc0ff);
    }
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  .root {
    font: 400 15px/1.45 var(--p-font);
    color: var(--p-ink);
    text-align: start;
    letter-spacing: normal;
    word-spacing: normal;
    text-transform: none;
    -webkit-text-size-adjust: 100%;
    text-size-adjust: 100%;
  }
  button,
  input,
  select,
  textarea {
    font: inherit;
    color: inherit;
    letter-spacing: inherit;
    margin: 0;
  }
  :focus-visible {
    outline: 2px solid var(--p-focus);
    outline-offset: 2px;
    border-radius: 2px;
  }
  .sr {
    position: absolute;
    width: 1px;
    height: 1px;
    margin: -1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
`;

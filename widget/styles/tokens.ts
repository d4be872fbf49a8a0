import { css } from 'lit';

/**
 * Colors and fonts. Every public custom property has a `--platen-` name and its default here. Lengths are px, not rem, so
 * that the page's root font size has no effect.
 */
export const tokens = css`
  :host {
    display: block;
    /* A size container has no width from its content. Where a page sizes it by content (a flex row, a dialog, a table)
       it is as wide as there is room, and never zero. */
    inline-size: -webkit-fill-available;
    inline-size: stretch;
    contain-intrinsic-inline-size: min(720px, 90vw);
    writing-mode: horizontal-tb !important;
    container: platen / inline-size;
    color-scheme: light;
    --p-paper: var(--platen-paper, light-dark(#fbf8f0, #25262a));
    --p-sheet: var(--platen-sheet, light-dark(var(--p-paper), #424349));
    --p-paper-edge: var(--platen-paper-edge, light-dark(#e9e2d2, #37383d));
    --p-desk: var(--platen-desk, light-dark(#efeade, #1b1c1f));
    --p-ink: var(--platen-ink, light-dark(#22262b, #f1ede3));
    --p-ink-soft: var(--platen-ink-soft, light-dark(#595b58, #b9b4a8));
    --p-rule: var(--platen-rule, light-dark(#d3cab6, #47474b));
    --p-field: var(--platen-field, light-dark(#ffffff, #1a1b1e));
    --p-field-edge: var(--platen-field-edge, light-dark(#8a8474, #8f8b81));
    --p-accent: var(--platen-accent, light-dark(#9c3f22, #f0a07f));
    --p-accent-ink: var(--platen-accent-ink, light-dark(#ffffff, #26130b));
    --p-good: light-dark(#2f6442, #93d0a7);
    --p-warn: light-dark(#8a5300, #f0bf6b);
    --p-stop: light-dark(#a3201c, #ff9d94);
    --p-focus: var(--platen-focus, light-dark(#1c5fb0, #8fc0ff));
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
  }
  :host([theme='auto']) {
    color-scheme: light dark;
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  .root {
    /* shuts out the page's text styles; only visibility, pointer events and color scheme are inherited */
    all: initial;
    visibility: inherit;
    pointer-events: inherit;
    color-scheme: inherit;
    font: 400 15px/1.45 var(--p-font);
    color: var(--p-ink);
    -webkit-text-size-adjust: 100%;
    text-size-adjust: 100%;
  }
  button,
  input,
  select,
  textarea {
    font: inherit;
    color: inherit;
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

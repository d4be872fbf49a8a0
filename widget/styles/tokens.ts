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
    --paper: var(--platen-paper, #fbf8f0);
    --paper-edge: var(--platen-paper-edge, #e9e2d2);
    --desk: var(--platen-desk, #efeade);
    --ink: var(--platen-ink, #22262b);
    --ink-soft: var(--platen-ink-soft, #595b58);
    --rule: var(--platen-rule, #d3cab6);
    --field: var(--platen-field, #ffffff);
    --field-edge: var(--platen-field-edge, #8a8474);
    --accent: var(--platen-accent, #9c3f22);
    --accent-ink: var(--platen-accent-ink, #ffffff);
    --good: #2f6442;
    --warn: #8a5300;
    --stop: #a3201c;
    --focus: var(--platen-focus, #1c5fb0);
    --font: var(--platen-font, ui-sans-serif, system-ui, 'Segoe UI', 'Helvetica Neue', 'Noto Sans', sans-serif);
    --font-heading: var(--platen-font-heading, ui-serif, 'Iowan Old Style', 'Palatino Linotype', Georgia, 'Noto Serif', serif);
    --font-figures: var(--platen-font-figures, ui-monospace, 'SF Mono', 'Cascadia Mono', 'DejaVu Sans Mono', monospace);
    --radius: var(--platen-radius, 3px);
  }
  :host([hidden]) {
    display: none;
  }
  :host([theme='dark']) {
    color-scheme: dark;
    --paper: var(--platen-paper, #25262a);
    --paper-edge: var(--platen-paper-edge, #37383d);
    --desk: var(--platen-desk, #1b1c1f);
    --ink: var(--platen-ink, #f1ede3);
    --ink-soft: var(--platen-ink-soft, #b9b4a8);
    --rule: var(--platen-rule, #47474b);
    --field: var(--platen-field, #1a1b1e);
    --field-edge: var(--platen-field-edge, #8f8b81);
    --accent: var(--platen-accent, #f0a07f);
    --accent-ink: var(--platen-accent-ink, #26130b);
    --good: #93d0a7;
    --warn: #f0bf6b;
    --stop: #ff9d94;
    --focus: var(--platen-focus, #8fc0ff);
  }
  @media (prefers-color-scheme: dark) {
    :host([theme='auto']) {
      color-scheme: dark;
      --paper: var(--platen-paper, #25262a);
      --paper-edge: var(--platen-paper-edge, #37383d);
      --desk: var(--platen-desk, #1b1c1f);
      --ink: var(--platen-ink, #f1ede3);
      --ink-soft: var(--platen-ink-soft, #b9b4a8);
      --rule: var(--platen-rule, #47474b);
      --field: var(--platen-field, #1a1b1e);
      --field-edge: var(--platen-field-edge, #8f8b81);
      --accent: var(--platen-accent, #f0a07f);
      --accent-ink: var(--platen-accent-ink, #26130b);
      --good: #93d0a7;
      --warn: #f0bf6b;
      --stop: #ff9d94;
      --focus: var(--platen-focus, #8fc0ff);
    }
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  .root {
    font: 400 15px/1.45 var(--font);
    color: var(--ink);
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
    outline: 2px solid var(--focus);
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

import { css } from 'lit';

/** What can be focused: the artworks and the button that adds one. */
export const itemStyle = css`
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
    outline-offset: 3px;
  }
  .item.hovered {
    box-shadow: 0 0 0 1px var(--_accent);
  }
  .item.selected {
    z-index: 1;
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
  .add.over-artwork {
    pointer-events: none;
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
`;

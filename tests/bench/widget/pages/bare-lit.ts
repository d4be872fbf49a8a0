/** The least that a page with Lit can do: radio buttons in a shadow root, known from the start. */
import { css, html, LitElement } from 'lit';

class BareLit extends LitElement {
  static override styles = css`
    label {
      display: block;
      min-block-size: 24px;
    }
  `;

  override render() {
    return html`<fieldset><legend>Item</legend>
      ${['Tee', 'Cap', 'Mug'].map((name) => html`<label><input type="radio" name="item" />${name}</label>`)}
    </fieldset>`;
  }
}

customElements.define('bare-lit', BareLit);

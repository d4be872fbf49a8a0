import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import type { Slip } from '../src/contract/index.ts';
import type { Deferred } from './deferred.ts';
import { type Draft, firstMissing, toSlip, UNSENT } from './draft/draft.ts';
import { copyLink, draftToLink, parseDraft } from './draft/slip-link.ts';
import { PlatenChangeEvent } from './events.ts';
import { FormAssociatedElement } from './form-associated-element.ts';
import type { Units } from './format/index.ts';
import type { LoadedWords } from './locales/load-words.ts';
import { drawingPart } from './parts/drawing.ts';
import { scrollClearOfFoot } from './parts/foot/scroll-clear-of-foot.ts';
import { followedOrder } from './parts/order/followed-order.ts';
import { type SheetActions, sheet } from './parts/sheet.ts';
import { skeleton } from './parts/skeleton.ts';
import { slipContext, textIn } from './slip-context.ts';
import { SlipSession } from './slip-session.ts';
import { StageHost } from './stage/stage-host.ts';
import { stageActions } from './stage-actions.ts';
import { rowStyles } from './styles/rows.ts';
import { slipStyles } from './styles/slip.ts';
import { tokens } from './styles/tokens.ts';

export type {
  PlatenChangeEvent,
  PlatenOrderEvent,
  PlatenProblemEvent,
  PlatenQuoteEvent,
} from './events.ts';

/** The first field of a line. */
const FIRST_FIELD = '[part="item"] input';

/**
 * The order slip: pick items, place artwork, choose a finish, see method, price and ready day, order.
 *
 * @tag platen-order
 * @attr {string} api - address of the API; default: the page's own origin
 * @attr {string} shop - id of the shop
 * @attr {string} lang - language; default: the page's, then the shop's
 * @attr {'light'|'dark'|'auto'} theme - default light
 * @attr {'mm'|'in'} units - default: the shop's
 * @attr {string} value - the initial slip as JSON text
 * @attr {string} name - name of the form field
 * @attr {boolean} required - a form is not submitted without a finished slip
 * @attr {boolean} disabled - the slip can be viewed but not changed
 * @attr {string} order-number - show the status of this order instead of a slip
 * @attr {string} order-key - the secret key of that order's status
 * @attr {string} status-page - address of the status page, with the placeholders `{number}` and `{key}`
 * @attr {string} assets - address of the folder with the package's `workers/` and `fonts/`; default: beside its scripts
 * @attr {boolean} forgetful - do not save the slip in the browser
 * @fires {PlatenChangeEvent} platen-change - the customer changed the slip
 * @fires {PlatenQuoteEvent} platen-quote - a fresh answer arrived
 * @fires {PlatenOrderEvent} platen-order-placed - the shop accepted the order
 * @fires {PlatenProblemEvent} platen-problem - a request failed
 * @csspart root - the whole slip
 * @csspart drawing - the drawing's side
 * @csspart slip - the sheet
 * @csspart line - a numbered line
 * @csspart item - its row of items
 * @csspart color - its row of colors
 * @csspart sizes - its row of sizes and counts
 * @csspart artwork - its row of artwork
 * @csspart placement - one artwork on one face
 * @csspart finding - a finding of the artwork check
 * @csspart names - its row of names
 * @csspart names-off - the note that names and pieces differ
 * @csspart finish - its row of finishes
 * @csspart ladder - prices at other counts
 * @csspart delivery - how the order leaves the shop
 * @csspart needed-by - the day it is needed by
 * @csspart unkept - the note that the slip could not be saved
 * @csspart foot - the foot with the answer
 * @csspart method - the decoration method
 * @csspart unit-price - price of a piece
 * @csspart ready-day - day the order is ready
 * @csspart total - total price
 * @csspart why - the expanded reasons
 * @csspart refusal - why the slip cannot be made
 * @csspart lack - what is still missing
 * @csspart order-button - the button that goes to the order
 * @csspart order - the order form: contact and proofs
 * @csspart place-order - the button that places the order
 * @csspart status - the status of the order
 * @cssprop --platen-paper - color of the slip
 * @cssprop --platen-sheet - color under the drawing
 * @cssprop --platen-paper-edge - color of its edge
 * @cssprop --platen-ink - color of its text
 * @cssprop --platen-ink-soft - color of quieter text
 * @cssprop --platen-accent - color of buttons and of what is chosen
 * @cssprop --platen-accent-ink - color of text on it
 * @cssprop --platen-desk - color behind the slip
 * @cssprop --platen-rule - color of its lines
 * @cssprop --platen-field - color of fields
 * @cssprop --platen-field-edge - color of their edges
 * @cssprop --platen-focus - color of the focus ring
 * @cssprop --platen-font - typeface of text
 * @cssprop --platen-font-heading - typeface of headings
 * @cssprop --platen-font-figures - typeface of figures
 * @cssprop --platen-radius - rounding of corners
 * @slot heading - replaces the slip's title
 * @slot after - below the slip's last row
 */
export class PlatenOrder extends FormAssociatedElement {
  static override shadowRootOptions: ShadowRootInit = {
    ...LitElement.shadowRootOptions,
    delegatesFocus: true,
  };
  static override styles = [tokens, slipStyles, rowStyles];
  static override properties = {
    api: {},
    shop: {},
    lang: { reflect: true },
    theme: { reflect: true },
    units: {},
    name: { reflect: true },
    required: { type: Boolean, reflect: true },
    disabled: { type: Boolean, reflect: true },
    assets: {},
    forgetful: { type: Boolean },
    orderNumber: { attribute: 'order-number' },
    orderKey: { attribute: 'order-key' },
    statusPage: { attribute: 'status-page' },
    value: { attribute: 'value' },
  };

  declare api: string;
  declare shop: string;
  declare theme: 'light' | 'dark' | 'auto';
  declare units: Units | undefined;
  declare name: string;
  declare required: boolean;
  declare disabled: boolean;
  declare assets: string;
  declare forgetful: boolean;
  declare orderNumber: string;
  declare orderKey: string;
  declare statusPage: string;

  /** the draft of a form reset. */
  #initialDraft: Draft | null = null;
  /** available once the deferred code has arrived. */
  #redraw: Deferred['redraw']['value'] = null;
  readonly #session = new SlipSession(
    this,
    (byUser) => this.#draftChanged(byUser),
    () => this.#isDisabled,
  );
  readonly #stageHost = new StageHost(
    this,
    stageActions(
      this.#session,
      () => this.#isDisabled,
      () => this.requestUpdate(),
    ),
  );

  constructor() {
    super();
    this.api = '';
    this.shop = '';
    this.theme = 'light';
    this.name = '';
    this.required = false;
    this.disabled = false;
    this.assets = '';
    this.forgetful = false;
    this.orderNumber = '';
    this.orderKey = '';
    this.statusPage = '';
  }

  /** The slip as JSON text; empty while it has no items. Takes JSON text, a slip, or text from `link`. */
  get value(): string {
    const { hasItems, draft } = this.#session.editor;
    return hasItems ? JSON.stringify(draft) : '';
  }
  set value(value: string | object | null) {
    const draft = parseDraft(value);
    this.#initialDraft ??= draft;
    this.#session.load(draft);
  }

  /** The finished lines as the API takes them; null while no line is finished. */
  get slip(): Slip | null {
    return toSlip(this.#session.editor.draft);
  }

  /** The slip as text for an address; `value` takes it back. */
  get link(): string {
    return draftToLink(this.#session.editor.draft);
  }

  /** Whether files are still uploading; a page may ask before it is left. */
  get busy(): boolean {
    return this.#session.editor.draft.lines.some((line) =>
      line.placements.some((placement) => placement.artwork.startsWith(UNSENT)),
    );
  }

  undo(): void {
    this.#session.editor.undo();
  }
  redo(): void {
    this.#session.editor.redo();
  }

  formResetCallback(): void {
    this.#session.load(this.#initialDraft);
  }
  formStateRestoreCallback(state: string | File | FormData | null): void {
    if (typeof state === 'string') this.#session.load(parseDraft(state));
  }

  override update(changed: PropertyValues): void {
    const { editor, deferred, expanded } = this.#session;
    if (editor.hasItems) this.#redraw ??= deferred.redraw.value;
    const draw = (): void => super.update(changed);
    if (this.#redraw) this.#redraw(this.renderRoot as ShadowRoot, expanded.isLate, draw);
    else draw();
  }

  override updated(): void {
    this.setMissing(this.#missingMessage());
  }

  get #isDisabled(): boolean {
    return this.disabled || this.disabledByForm;
  }

  #draftChanged(byUser: boolean): void {
    this.setFormValue(this.value);
    if (byUser) this.dispatchEvent(new PlatenChangeEvent(this.#session.editor.draft));
  }

  /** What a required slip still needs; null when it is finished or not required. */
  #missingMessage(): string | null {
    if (!this.required || this.orderNumber) return null;
    const missing = this.#session.editor.draft.lines.map(firstMissing).find((entry) => entry !== null);
    if (!missing) return null;
    return this.#session.language.words?.words.ui(`lack-${missing}`) ?? 'The slip is not finished';
  }

  async #copyLink(): Promise<void> {
    const { editor, view, announcer, language } = this.#session;
    await copyLink(editor.draft);
    view.linkCopied = true;
    announcer.show(language.words?.words.ui('link-copied') ?? '');
  }

  #statusAddress(number: string, key: string, fallback: string): string {
    if (!this.statusPage) return this.#session.resolve(fallback);
    return this.statusPage
      .replace('{number}', encodeURIComponent(number))
      .replace('{key}', encodeURIComponent(key));
  }

  override render(): TemplateResult {
    const { language, languageTag, announcer } = this.#session;
    const loaded = language.words;
    return html`<div class="root" lang=${loaded?.language ?? languageTag} dir=${loaded?.direction ?? 'ltr'} part="root" @focusin=${scrollClearOfFoot}>
      ${this.orderNumber ? this.#renderOrder(loaded) : this.#renderSlip(loaded)}
      <div class="sr" role="status" aria-live="polite">${announcer.text}</div>
    </div>`;
  }

  #renderOrder(loaded: LoadedWords | null): TemplateResult {
    if (!loaded) return html`<div class="slip alone" part="slip" aria-busy="true"></div>`;
    const { orderStatus, catalog, deferred, languageTag } = this.#session;
    const problem = orderStatus.problem ?? catalog.problem;
    return followedOrder(loaded, deferred, textIn(languageTag), orderStatus.status, problem);
  }

  #renderSlip(loaded: LoadedWords | null): TemplateResult {
    const session = this.#session;
    const { catalog } = session.editor;
    if (!loaded || !catalog) return skeleton(loaded?.words, session.catalog.problem, () => session.start());
    const ctx = slipContext(session, catalog, loaded, {
      disabled: this.#isDisabled,
      setUnits: (units) => {
        this.units = units;
      },
      changed: () => this.requestUpdate(),
    });
    return html`${drawingPart(ctx, this.#stageHost, loaded.later)} ${sheet(ctx, this.#sheetActions)}`;
  }

  get #sheetActions(): SheetActions {
    const session = this.#session;
    return {
      editor: session.editor,
      order: session.order.controller,
      addLine: () => {
        session.editor.addLine();
        session.focusPart(FIRST_FIELD);
      },
      toOrder: () => void session.order.open(),
      startAgain: () => {
        session.load(null);
        session.focusPart(FIRST_FIELD);
      },
      statusAddress: (...args) => this.#statusAddress(...args),
      month: session.view.month,
      showMonth: session.view.showMonth,
      linkCopied: session.view.linkCopied,
      notSaved: session.notSaved,
      copyLink: () => void this.#copyLink(),
    };
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'platen-order': PlatenOrder;
  }
}

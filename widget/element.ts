import {
  adoptStyles,
  type CSSResult,
  html,
  LitElement,
  nothing,
  type PropertyValues,
  type TemplateResult,
} from 'lit';
import type { PublicCatalog } from '../src/catalog/index.ts';
import type { Slip } from '../src/contract/index.ts';
import { pickText } from '../src/pick-text.ts';
import { ArtworkLibrary } from './artwork/artwork-library.ts';
import type { Placing } from './artwork/artwork-placer.ts';
import type { ShownNames } from './artwork/name-preview.ts';
import { Announcer } from './controllers/announcer.ts';
import { Unfolding } from './controllers/expanded-messages.ts';
import { FormField } from './controllers/form-field.ts';
import {
  type Draft,
  type DraftLine,
  emptyDraft,
  firstMissing,
  nameShown,
  toSlip,
  UNSENT,
} from './draft/draft.ts';
import { DraftEditor } from './draft/draft-editor.ts';
import { DraftStorage } from './draft/draft-storage.ts';
import { copyAddress, draftFrom, draftFromAddress, draftToLink } from './draft/slip-link.ts';
import { undoByKey } from './draft/undo-keys.ts';
import { PlatenChangeEvent, PlatenOrderEvent, PlatenProblemEvent, PlatenQuoteEvent } from './events.ts';
import type { Units } from './format/index.ts';
import { Language } from './locales/language.ts';
import type { LoadedWords } from './locales/load-words.ts';
import type { Words } from './locales/words.ts';
import type { PublicBlank, SlipContext } from './parts/context.ts';
import { type LaterParts, laterParts } from './parts/deferred.ts';
import { drawingPart } from './parts/drawing.ts';
import { clearOfFoot } from './parts/foot/scroll-clear-of-foot.ts';
import { type SheetActs, sheet } from './parts/sheet.ts';
import type { OrderingController } from './shop/order-controller.ts';
import { OrderStatusPoll } from './shop/order-status-poll.ts';
import type { EarlyAnswer } from './shop/prefetched-catalog.ts';
import { QuoteController } from './shop/quote-controller.ts';
import { asProblem, ShopApi, type ShopProblem } from './shop/shop-api.ts';
import { StageHost } from './stage/stage-host.ts';
import { rowStyles } from './styles/rows.ts';
import { slipStyles } from './styles/slip.ts';
import { tokens } from './styles/tokens.ts';

export type {
  PlatenChangeEvent,
  PlatenOrderEvent,
  PlatenProblemEvent,
  PlatenQuoteEvent,
} from './events.ts';

/** How long after a catalog that did not arrive it is asked for again. */
const CATALOG_RETRY_MS = 2_000;
/** The same of code that did not arrive. */
const CODE_RETRY_MS = 3_000;

/** Where a line begins. */
const FIRST_CHOICE = '[part="item"] input';

const nbsp = '\u00a0';

/**
 * The order slip: pick items, place artwork, choose a finish, see method, price and ready day, order.
 *
 * @tag platen-order
 * @attr {string} api - address of the API; default: the page's own origin
 * @attr {string} shop - id of the shop
 * @attr {string} lang - language; default: the page's, then the shop's
 * @attr {'light'|'dark'|'auto'} theme - default light
 * @attr {'mm'|'in'} units - default: the shop's
 * @attr {string} value - the slip as JSON text, as it was when the page came
 * @attr {string} name - under which a form sends the slip
 * @attr {boolean} required - a form is not sent without a finished slip
 * @attr {boolean} disabled - the slip can be looked at, and no more
 * @attr {string} order-number - show the status of this order instead of a slip
 * @attr {string} order-key - the secret part of its status address
 * @attr {string} status-page - address pattern of the status page, `{number}` and `{key}` filled in
 * @attr {boolean} forgetful - do not keep the slip in local storage
 * @fires {PlatenChangeEvent} platen-change - the customer changed the slip
 * @fires {PlatenQuoteEvent} platen-quote - a fresh answer came
 * @fires {PlatenOrderEvent} platen-order-placed - the order was taken
 * @fires {PlatenProblemEvent} platen-problem - something could not be done
 * @csspart root - all of it
 * @csspart drawing - the drawing's side
 * @csspart slip - the paper
 * @csspart line - a numbered line
 * @csspart item - its row of items
 * @csspart color - its row of colors
 * @csspart sizes - its row of sizes and counts
 * @csspart artwork - its row of artwork
 * @csspart placement - one artwork on one face
 * @csspart finding - what was noticed about it
 * @csspart names - its row of names
 * @csspart names-off - where names and pieces differ
 * @csspart finish - its row of finishes
 * @csspart ladder - what more pieces cost
 * @csspart delivery - how the order leaves the shop
 * @csspart needed-by - by when
 * @csspart unkept - that the slip could not be kept here
 * @csspart foot - the answer
 * @csspart method - how it is decorated
 * @csspart unit-price - price of a piece
 * @csspart ready-day - day the order is ready
 * @csspart total - price of it all
 * @csspart why - the reasons, unfolded
 * @csspart refusal - why it cannot be had
 * @csspart lack - what is still missing
 * @csspart order-button - the button that leads to ordering
 * @csspart order - who orders, and the proof
 * @csspart place-order - the button that orders
 * @csspart status - the order as it stands
 * @cssprop --platen-paper - color of the slip
 * @cssprop --platen-sheet - color under the drawing
 * @cssprop --platen-paper-edge - color of its edge
 * @cssprop --platen-ink - color of its text
 * @cssprop --platen-ink-soft - color of quieter text
 * @cssprop --platen-accent - color of what is chosen and done
 * @cssprop --platen-accent-ink - color of text on it
 * @cssprop --platen-desk - color behind the slip
 * @cssprop --platen-rule - color of its lines
 * @cssprop --platen-field - color of fields
 * @cssprop --platen-field-edge - color of their edges
 * @cssprop --platen-focus - color of the ring around what has the focus
 * @cssprop --platen-font - typeface of text
 * @cssprop --platen-font-heading - typeface of headings
 * @cssprop --platen-font-figures - typeface of figures
 * @cssprop --platen-radius - rounding of corners
 * @slot heading - replaces the slip's title
 * @slot after - stands under the slip's last row
 */
export class PlatenOrder extends LitElement {
  static readonly formAssociated = true;
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
  declare forgetful: boolean;
  declare orderNumber: string;
  declare orderKey: string;
  declare statusPage: string;

  /** @internal left by the script for pages, and taken once. */
  declare private platenEarly?: EarlyAnswer;
  #api: ShopApi | null = null;
  /** what the API was last made for. */
  #apiFor = '';
  #loading: AbortController | null = null;
  #problem: ShopProblem | null = null;
  #keeper: DraftStorage | null = null;
  #initial: Draft | null = null;
  #linkTaken = false;
  #copied = false;
  #formDisabled = false;
  #spoken = '';
  #month = '';
  readonly #open = new Set<string>();
  readonly #memos = new Map<string, string>();
  readonly #unfolding = new Unfolding(this);
  readonly #desk = new DraftEditor((byUser) => this.#changed(byUser));
  readonly #field = new FormField(this);
  readonly #language = new Language(this);
  readonly #quote = new QuoteController(this, () => this.#api);
  readonly #shelf = new ArtworkLibrary(this, () => this.#api);
  readonly #later = laterParts(
    () => this.requestUpdate(),
    (styles) => this.#dress(styles),
    () => this.#language.words?.later.fetch(),
  );
  #shownNames: ShownNames | null = null;
  #placing: Placing | null = null;
  /** files taken whose place is not worked out yet. */
  readonly #arriving = new Set<{ readonly line: string; readonly name: string }>();
  readonly #watch = new OrderStatusPoll(this);
  /** as parts draw, once there are some that can go again. */
  #redraw: LaterParts['redraw']['value'] = null;
  readonly #announcer = new Announcer((text) => {
    this.#spoken = text;
    this.requestUpdate();
  });
  #ordering: OrderingController | null = null;
  readonly #stageHost = new StageHost(this, {
    // a drag is one step to undo
    input: (placement, position) => this.#moved(placement, position),
    change: (placement, position) => {
      this.#moved(placement, position);
      this.#desk.seal();
    },
    select: (placement) => {
      this.#desk.placement = placement;
      this.requestUpdate();
    },
    remove: (placement) => {
      this.#desk.placement = null;
      if (this.#desk.lineNow?.names?.id === placement)
        this.#desk.changeLine(this.#desk.line, (old) => ({ ...old, names: null }));
      else this.#desk.changePlacement(this.#desk.line, placement, () => null);
    },
    drop: (files, face, at) => this.#takeFiles(this.#desk.line, files, face, at),
    add: (face) => {
      this.#desk.face = face;
      this.shadowRoot
        ?.querySelector<HTMLInputElement>(`[data-line="${this.#desk.line}"] input[type="file"][multiple]`)
        ?.click();
    },
  });

  constructor() {
    super();
    this.api = '';
    this.shop = '';
    this.theme = 'light';
    this.name = '';
    this.required = false;
    this.disabled = false;
    this.forgetful = false;
    this.orderNumber = '';
    this.orderKey = '';
    this.statusPage = '';
    this.#quote.onAnswer = (answer) => {
      this.dispatchEvent(new PlatenQuoteEvent(answer));
      this.#announce();
    };
    this.#shelf.onSent = (oldId, item) => this.#place((placing) => placing.sent(oldId, item.id));
    this.#shelf.onLost = (id) => this.#place((placing) => placing.lost(id));
    this.#shelf.sending = async () => ({
      sendFile: await this.#later.sendFile.fetch(),
      keeper: this.forgetful ? null : await this.#later.fileKeeper.fetch(),
    });
    const reader = this.#later.readInWorker;
    this.#shelf.local = {
      read: async (...asked) => (await reader.fetch()).readInWorker(...asked),
      find: async (...asked) => (await reader.fetch()).findInWorker(...asked),
    };
  }

  /** The slip as JSON text; empty while nothing is on it. Takes JSON text, a slip, or an earlier value. */
  get value(): string {
    return this.#desk.begun ? JSON.stringify(this.#desk.draft) : '';
  }
  set value(value: string | object | null) {
    const read = draftFrom(value);
    this.#initial ??= read;
    this.#load(read);
  }

  /** Another slip, or an empty one; whoever was about to order the one before is not any more. */
  #load(draft: Draft | null): void {
    this.#ordering?.close();
    this.#desk.load(draft ?? emptyDraft());
  }

  /** The finished lines as the API takes them; null while no line is finished. */
  get slip(): Slip | null {
    return toSlip(this.#desk.draft);
  }

  /** The slip as text for an address; `value` takes it back. */
  get link(): string {
    return draftToLink(this.#desk.draft);
  }

  /** Files still on their way; a page may ask before it is left. */
  get busy(): boolean {
    return this.#desk.draft.lines.some((line) =>
      line.placements.some((placement) => placement.artwork.startsWith(UNSENT)),
    );
  }

  get form(): HTMLFormElement | null {
    return this.#field.form;
  }
  get labels(): NodeList | undefined {
    return this.#field.labels;
  }
  get validity(): ValidityState | undefined {
    return this.#field.validity;
  }
  get validationMessage(): string {
    return this.#field.validationMessage;
  }
  get willValidate(): boolean {
    return this.#field.willValidate;
  }
  checkValidity(): boolean {
    return this.#field.check();
  }
  reportValidity(): boolean {
    return this.#field.report();
  }

  formResetCallback(): void {
    this.#load(this.#initial);
  }
  formDisabledCallback(disabled: boolean): void {
    this.#formDisabled = disabled;
    // Lit drops an update requested while it reflects the attribute, which is when this runs after `disabled` was set.
    queueMicrotask(() => this.requestUpdate());
  }
  formStateRestoreCallback(state: string | File | FormData | null): void {
    if (typeof state === 'string') this.#load(draftFrom(state));
  }

  undo(): void {
    this.#desk.undo();
  }
  redo(): void {
    this.#desk.redo();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('pagehide', this.#flush);
    window.addEventListener('online', this.#online);
    this.addEventListener('keydown', this.#keys);
    this.#apiFor = '';
    this.requestUpdate();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('pagehide', this.#flush);
    window.removeEventListener('online', this.#online);
    this.removeEventListener('keydown', this.#keys);
    this.#flush();
    this.#announcer.stop();
    this.#loading?.abort();
  }

  /** Takes up styles that came later. */
  #dress(styles: readonly CSSResult[]): void {
    const root = this.renderRoot as ShadowRoot | undefined;
    if (root) adoptStyles(root, [tokens, slipStyles, rowStyles, ...styles]);
  }

  #flush = (): void => this.#keeper?.flush();
  #online = (): void => {
    if (!this.#desk.catalog) this.#start();
    else this.#quote.again();
    this.#shelf.online();
  };

  /** No key typed into the slip reaches shortcuts of the page. */
  #keys = (event: KeyboardEvent): void => {
    event.stopPropagation();
    if (!this.#off && !this.#atOrder) undoByKey(event, this.#desk);
  };

  get #off(): boolean {
    return this.disabled || this.#formDisabled;
  }

  /** Someone is at the order made of the slip, or has made it. */
  get #atOrder(): boolean {
    return (this.#ordering?.now.step ?? 'closed') !== 'closed';
  }

  /** The language asked for. */
  get #tag(): string {
    return (
      this.lang ||
      this.closest('[lang]')?.getAttribute('lang') ||
      document.documentElement.lang ||
      this.#desk.catalog?.shop.language ||
      navigator.language ||
      'en'
    );
  }

  get #unitsNow(): Units {
    const wanted = [this.units, this.#desk.catalog?.shop.units];
    return wanted.find((units) => units === 'in' || units === 'mm') ?? 'mm';
  }

  override willUpdate(): void {
    const apiFor = [this.api, this.shop, this.orderNumber, this.orderKey].join('\n');
    if (this.isConnected && this.shop && apiFor !== this.#apiFor) {
      this.#apiFor = apiFor;
      const api = new ShopApi(this.api || location.origin, this.shop);
      // what another shop offered is not to be had at this one
      if (api.base !== this.#api?.base) this.#desk.catalog = null;
      this.#api = api;
      this.#start();
    }
    const { catalog, draft } = this.#desk;
    // fetched with the customer's first step, so that nothing has to wait for them
    if (this.#desk.begun) {
      void this.#language.words?.later.value;
      void this.#later.placement.value;
      this.#redraw ??= this.#later.redraw.value;
    }
    this.#language.speak(this.#tag, this.#unitsNow, catalog);
    this.#quote.ask(this.orderNumber || !catalog ? null : toSlip(draft));
    this.#judge();
  }

  override update(changed: PropertyValues): void {
    const draw = (): void => super.update(changed);
    if (this.#redraw) this.#redraw(this.renderRoot as ShadowRoot, this.#unfolding.late, draw);
    else draw();
  }

  #start(): void {
    this.#loading?.abort();
    const api = this.#api;
    if (!api) return;
    this.#loading = new AbortController();
    const { signal } = this.#loading;
    this.#problem = null;
    this.#restore(api);
    if (this.orderNumber) this.#watch.follow(api, this.orderNumber, this.orderKey);
    const { platenEarly } = this;
    delete this.platenEarly;
    api
      .catalog(signal, platenEarly)
      .then((catalog) => {
        // an answer asked for early comes though nobody waits for it any more
        if (signal.aborted) return;
        this.#desk.catalog = catalog;
        this.#recall();
        this.requestUpdate();
      })
      .catch((error: unknown) => {
        if (signal.aborted) return;
        this.#problem = asProblem(error);
        this.dispatchEvent(new PlatenProblemEvent(this.#problem));
        this.requestUpdate();
        if (this.#problem.code === 'offline')
          setTimeout(() => !this.#desk.catalog && this.isConnected && this.#start(), CATALOG_RETRY_MS);
      });
  }

  /** The slip the customer left here, unless the page gave one; a slip in the page's address goes before both, once. */
  #restore(api: ShopApi): void {
    if (!this.forgetful) {
      this.#keeper = new DraftStorage(`${api.base}:${this.id || this.name}`, () => this.requestUpdate());
      const kept = this.value === '' ? this.#keeper.load() : null;
      if (kept) this.#desk.load(kept);
    }
    const linked = this.#linkTaken ? null : draftFromAddress();
    if (!linked) return;
    this.#linkTaken = true;
    this.#desk.load(linked);
  }

  /** Asks the shop about artworks the slip names and nobody here has seen. */
  #recall(): void {
    const placements = this.#desk.draft.lines.flatMap((line) => line.placements);
    void this.#shelf.recall([...new Set(placements.map((placement) => placement.artwork))]);
  }

  /** After any change of the draft. @param byUser tell the page. */
  #changed(byUser: boolean): void {
    const { draft, catalog } = this.#desk;
    if (catalog) this.#recall();
    this.#keeper?.save(draft);
    this.#field.send(this.value);
    this.#copied = false;
    if (byUser) this.dispatchEvent(new PlatenChangeEvent(draft));
    this.requestUpdate();
  }

  /** Has artwork placed, by code that is fetched with the first of it; asked for again where the line is cut. */
  #place(act: (placing: Placing) => void): void {
    this.#later.Placing.fetch().then(
      (Code) => {
        this.#placing ??= new Code(this.#desk, this.#shelf);
        act(this.#placing);
      },
      () => setTimeout(() => this.isConnected && this.#place(act), CODE_RETRY_MS),
    );
  }

  #takeFiles(
    line: string,
    files: Iterable<File>,
    face: string | null = this.#desk.face,
    at?: { xMm: number; yMm: number },
  ): void {
    for (const file of this.#off ? [] : files) {
      const item = this.#shelf.add(file);
      const arriving = { line, name: file.name };
      this.#arriving.add(arriving);
      this.#place((placing) => {
        this.#arriving.delete(arriving);
        placing.place(line, item, face, at);
      });
    }
  }

  #moved(placement: string, position: { xMm: number; yMm: number; widthMm: number; angleDeg: number }): void {
    const { line, lineNow } = this.#desk;
    const group = `move ${line} ${placement}`;
    if (lineNow?.names?.id === placement)
      this.#desk.changeLine(
        line,
        (old) => ({
          ...old,
          names:
            old.names &&
            (this.#shownNames?.moved(old.names, this.#nameShown(old) ?? '', position) ?? old.names),
        }),
        group,
      );
    else this.#desk.changePlacement(line, placement, (old) => ({ ...old, ...position }), group);
  }

  /** The name of the list that is on the drawing. */
  #nameShown({ id, names }: DraftLine): string | undefined {
    return names?.entries[nameShown(this.#memos.get(`shown ${id}`), names)]?.text;
  }

  #judge(): void {
    const lack = this.#desk.draft.lines.map(firstMissing).find((entry) => entry !== null);
    const missing = this.required && !this.orderNumber && lack;
    this.#field.judge(
      missing ? (this.#language.words?.words.ui(`lack-${missing}`) ?? 'The slip is not finished') : null,
      () => this.shadowRoot?.querySelector<HTMLElement>('input:not([tabindex="-1"]), button'),
    );
  }

  #announce(): void {
    const { answer } = this.#quote.view;
    const words = this.#language.words?.words;
    if (!words || !answer) return;
    const found = (
      answer.kind === 'refusal' ? answer.findings : answer.lines.flatMap((line) => line.placements)
    ).flatMap(({ findings }) => findings).length;
    this.#announcer.say(
      [
        answer.kind === 'refusal'
          ? answer.reasons.map((entry) => words.reason(entry)).join(' ')
          : words.ui('spoken-answer', {
              unit: answer.lines[0]?.unit,
              total: answer.total,
              day: answer.promise.day,
            }),
        found > 0 ? words.ui('noticed', { count: found }) : '',
      ]
        .join(' ')
        .trim(),
      this.#unfolding.acted,
    );
  }

  #context(catalog: PublicCatalog, loaded: LoadedWords): SlipContext {
    const language = this.#tag;
    const desk = this.#desk;
    const { answer } = this.#quote.view;
    const blankOf = (line: DraftLine): PublicBlank | undefined =>
      catalog.blanks.find((blank) => blank.id === line.blank);
    return {
      catalog,
      words: loaded.words,
      say: loaded.say,
      units: this.#unitsNow,
      draft: desk.draft,
      quote: this.#quote.view,
      shelf: this.#shelf,
      activeLine: desk.line,
      activeFace: desk.face,
      selected: desk.placement,
      disabled: this.#off,
      ordering: this.#atOrder,
      language,
      later: this.#later,
      shownName: (names, name) => {
        const Code = this.#later.ShownNames.value;
        if (Code) this.#shownNames ??= new Code(this.#later.namePicture, () => this.requestUpdate());
        return this.#shownNames?.show(names, name) ?? null;
      },
      text: (text) => pickText(text as Parameters<typeof pickText>[0], language),
      blankOf,
      quotedLine: (id) =>
        answer?.kind === 'quote' ? answer.lines.find((line) => line.id === id) : undefined,
      alternatives: (id) =>
        answer?.instead.filter((entry) => 'line' in entry.change && entry.change.line === id) ?? [],
      askBeside: (...asked) => this.#quote.beside(...asked),
      change: desk.change,
      changeLine: desk.changeLine,
      changePlacement: desk.changePlacement,
      activate: (line, face, placement) => {
        const other = line !== desk.line;
        desk.line = line;
        if (face !== undefined) desk.face = face;
        if (placement !== undefined) desk.placement = placement;
        this.requestUpdate();
        // its title: the lines above it are folded now, and it lies elsewhere
        if (other) this.#goTo('[aria-expanded="true"]');
      },
      arriving: (id) => [...this.#arriving].filter(({ line }) => line === id).map(({ name }) => name),
      takeFiles: (line, files) => this.#takeFiles(line, files),
      placeKnown: (line, id) => this.#place((placing) => placing.place(line, { id }, desk.face)),
      duplicate: (...what) => this.#place((placing) => placing.duplicate(...what)),
      moveTo: (...what) => this.#place((placing) => placing.moveTo(...what)),
      duplicateLine: desk.duplicateLine,
      useUnits: (units) => {
        this.units = units;
      },
      unfolding: this.#unfolding,
      isOpen: (key) => this.#open.has(key),
      toggle: (key, open) => {
        if (open ?? !this.#open.has(key)) this.#open.add(key);
        else this.#open.delete(key);
        this.requestUpdate();
      },
      memo: (key) => this.#memos.get(key) ?? '',
      setMemo: (key, text) => {
        this.#memos.set(key, text);
        this.requestUpdate();
      },
    };
  }

  get #sheetActs(): SheetActs {
    const desk = this.#desk;
    return {
      desk,
      ordering: this.#ordering,
      addLine: () => {
        desk.addLine();
        this.#goTo(FIRST_CHOICE);
      },
      toOrder: () => void this.#toOrder(),
      startAgain: () => {
        this.#load(null);
        this.#goTo(FIRST_CHOICE);
      },
      statusAddress: (number, key, fallback) =>
        this.statusPage
          ? this.statusPage
              .replace('{number}', encodeURIComponent(number))
              .replace('{key}', encodeURIComponent(key))
          : (this.#api?.resolve(fallback) ?? fallback),
      month: this.#month,
      showMonth: (month) => {
        this.#month = month;
        this.requestUpdate();
      },
      copied: this.#copied,
      unkept: this.#keeper?.full ?? false,
      copyLink: () => void this.#copyLink(),
    };
  }

  /** Puts the focus on a part of the slip, once it is drawn. */
  #goTo(selector: string): void {
    void this.updateComplete.then(() => {
      const part = this.shadowRoot?.querySelector<HTMLElement>(selector);
      part?.focus();
      part?.scrollIntoView({ block: 'nearest' }); // what has the focus already is not scrolled to by it
    });
  }

  /** Fetched when the customer goes to the order, with the parts that show it and what becomes of it. */
  async #toOrder(): Promise<void> {
    const wanted = Promise.all([
      this.#later.Ordering.fetch(),
      this.#later.order.fetch(),
      this.#later.status.fetch(),
    ]);
    const [Code] = await wanted.catch(() => [null]);
    if (!Code) return;
    this.#ordering ??= new Code({
      desk: this.#desk,
      quote: this.#quote,
      api: () => this.#api,
      keeper: () => this.#keeper,
      language: () => this.#tag,
      changed: () => this.requestUpdate(),
      focus: (selector) => this.#goTo(selector),
      placed: (order) => {
        this.#keeper?.clear();
        this.dispatchEvent(new PlatenOrderEvent(order));
      },
      failed: (problem) => this.dispatchEvent(new PlatenProblemEvent(problem)),
    });
    await this.#ordering.open();
  }

  async #copyLink(): Promise<void> {
    await copyAddress(this.#desk.draft);
    this.#spoken = this.#language.words?.words.ui('link-copied') ?? '';
    this.#copied = true;
    this.requestUpdate();
  }

  override render(): TemplateResult {
    const loaded = this.#language.words;
    return html`<div class="root" lang=${loaded?.language ?? this.#tag} dir=${loaded?.direction ?? 'ltr'} part="root" @focusin=${clearOfFoot}>
      ${loaded ? this.#body(loaded) : this.#waiting()}
      <div class="sr" role="status" aria-live="polite">${this.#spoken}</div>
    </div>`;
  }

  #body(loaded: LoadedWords): TemplateResult {
    if (this.orderNumber) return this.#followed(loaded);
    const { catalog } = this.#desk;
    if (!catalog) return this.#waiting(loaded.words);
    const ctx = this.#context(catalog, loaded);
    return html`${drawingPart(ctx, this.#stageHost, loaded.later)} ${sheet(ctx, this.#sheetActs)}`;
  }

  /** An order placed before, as it stands. */
  #followed({ words, forCurrency }: LoadedWords): TemplateResult {
    const { status } = this.#watch;
    const problem = this.#watch.problem ?? this.#problem;
    const text = (value: unknown): string => pickText(value as Parameters<typeof pickText>[0], this.#tag);
    return html`<div class="slip alone" part="slip">
      ${status ? this.#later.status.value?.statusPart({ words, say: forCurrency(status.currency), text }, status, null, null) : nothing}
      ${problem ? html`<p class="alert" role="alert">${words.problem(problem.code)}</p>` : nothing}
      ${!status && !problem ? html`<p class="note" aria-busy="true">${words.ui('loading')}</p>` : nothing}
    </div>`;
  }

  /** Nothing to choose from yet: the sheets lie there, blank. */
  #waiting(words?: Words): TemplateResult {
    const problem = words && this.#problem;
    if (this.orderNumber) return html`<div class="slip alone" part="slip" aria-busy="true"></div>`;
    return html`<div class="drawing" part="drawing"><div class="stage-room"></div></div>
      <div class="slip skeleton" part="slip" aria-busy=${!problem}>
      <div class="slip-head"><h2><slot name="heading">${words?.ui('slip') ?? nbsp}</slot></h2></div>
      ${
        problem
          ? html`<p class="alert" role="alert">${words.problem(problem.code)}</p>
            <button class="box" type="button" @click=${() => this.#start()}>${words.ui('try-again')}</button>`
          : html`<p class="note">${words?.ui('loading')}</p>`
      }</div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'platen-order': PlatenOrder;
  }
}

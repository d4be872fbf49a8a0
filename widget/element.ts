import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { PublicCatalog } from '../src/catalog/index.ts';
import type { OrderStatus, Slip } from '../src/contract/index.ts';
import { pickText } from '../src/pick-text.ts';
import { Announcer } from './controllers/announcer.ts';
import { ArtworkShelf } from './controllers/artwork-shelf.ts';
import {
  type Draft,
  type DraftLine,
  type DraftPlacement,
  emptyDraft,
  emptyLine,
  freeId,
  lacking,
  readDraft,
  toSlip,
  UNSENT,
  withLine,
  withPlacement,
} from './controllers/draft.ts';
import { History } from './controllers/history.ts';
import { draftFromLink, draftToLink, Keeper } from './controllers/keeper.ts';
import { Lazy } from './controllers/lazy.ts';
import { LINES_MAX } from './controllers/limits.ts';
import { NOT_ORDERING, type Ordering } from './controllers/ordering.ts';
import { QuoteController } from './controllers/quote-controller.ts';
import { ShopApi, ShopProblem } from './controllers/shop-api.ts';
import { StageHost } from './controllers/stage-host.ts';
import { type LoadedWords, loadWords } from './controllers/words.ts';
import { PlatenChangeEvent, PlatenOrderEvent, PlatenProblemEvent, PlatenQuoteEvent } from './events.ts';
import type { Units } from './format/index.ts';
import { artworkRow } from './parts/artwork-row.ts';
import type { PublicBlank, SlipContext } from './parts/context.ts';
import { drawingPart } from './parts/drawing.ts';
import { finishRow } from './parts/finish-row.ts';
import { footPart } from './parts/foot.ts';
import { colorRow, itemRow } from './parts/item-row.ts';
import { laterParts } from './parts/later.ts';
import { namesAdd } from './parts/names-add.ts';
import { sizeRow } from './parts/size-row.ts';
import { whenRow } from './parts/when-row.ts';
import { slipStyles } from './styles/slip.ts';
import { tokens } from './styles/tokens.ts';

/** How often the status of an order is asked for, ms. */
const STATUS_REFRESH_MS = 30_000;
/** Names the slip in an address: `#platen=…`. */
const LINK_MARK = 'platen';

/** How long after a language that did not arrive it is asked for again. */
const WORDS_RETRY_MS = 3_000;

/**
 * The order slip: pick items, place artwork, choose a finish, see method, price and ready day, order.
 *
 * @tag platen-order
 * @attr {string} api - address of the API; default: the page's own origin
 * @attr {string} shop - id of the shop
 * @attr {string} lang - language; default: the page's, then the shop's
 * @attr {'light'|'dark'|'auto'} theme - default light
 * @attr {'mm'|'in'} units - default: the shop's
 * @attr {string} order-number - show the status of this order instead of a slip
 * @attr {string} order-key - the secret part of its status address
 * @attr {string} status-page - address pattern of the status page, `{number}` and `{key}` filled in
 * @attr {boolean} forgetful - do not keep the slip in local storage
 * @fires platen-change - the customer changed the slip
 * @fires platen-quote - a fresh answer came
 * @fires platen-order-placed - the order was taken
 * @fires platen-problem - something could not be done
 * @csspart slip - the paper
 * @csspart foot - the answer
 * @csspart drawing - the drawing's side
 * @csspart order-button - the button that leads to ordering
 * @cssprop --platen-paper - color of the slip
 * @cssprop --platen-ink - color of its text
 * @cssprop --platen-accent - color of what is chosen and done
 * @cssprop --platen-desk - color behind the slip
 * @cssprop --platen-font - typeface of text
 * @cssprop --platen-font-heading - typeface of headings
 * @slot heading - replaces the slip's title
 * @slot after - stands under the slip's last row
 */
export class PlatenOrder extends LitElement {
  static readonly formAssociated = true;
  static override shadowRootOptions: ShadowRootInit = {
    ...LitElement.shadowRootOptions,
    delegatesFocus: true,
  };
  static override styles = [tokens, slipStyles];
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

  #internals: ElementInternals | null;
  #api: ShopApi | null = null;
  #apiKey = '';
  #catalog: PublicCatalog | null = null;
  #words: LoadedWords | null = null;
  #wordsFor = '';
  #problem: ShopProblem | null = null;
  #history = new History<Draft>(emptyDraft());
  #keeper: Keeper | null = null;
  #quote: QuoteController;
  #shelf: ArtworkShelf;
  #announcer: Announcer;
  #stageHost: StageHost;
  readonly #later = laterParts(() => this.requestUpdate());
  readonly #placing = new Lazy(
    () => import('./controllers/place-artwork.ts'),
    () => {},
  );
  #spoken = '';
  #activeLine = 'line-1';
  #activeFace: string | null = null;
  #selected: string | null = null;
  #open = new Set<string>();
  #ordering: Ordering = NOT_ORDERING;
  #orderKeyForRetry = '';
  #status: OrderStatus | null = null;
  #month = '';
  #formDisabled = false;
  #loading: AbortController | null = null;
  #statusTimer: ReturnType<typeof setTimeout> | undefined;
  #initial: Draft | null = null;
  #linkTaken = false;
  #copied = false;

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
    this.#internals = typeof this.attachInternals === 'function' ? this.attachInternals() : null;
    this.#quote = new QuoteController(this, () => this.#api);
    this.#shelf = new ArtworkShelf(this, () => this.#api);
    this.#announcer = new Announcer((text) => {
      this.#spoken = text;
      this.requestUpdate();
    });
    this.#stageHost = new StageHost(this, {
      input: (placement, position) => this.#moved(placement, position, false),
      change: (placement, position) => this.#moved(placement, position, true),
      select: (placement) => {
        this.#selected = placement;
        this.requestUpdate();
      },
      remove: (placement) => {
        this.#history.push(withPlacement(this.#history.present, this.#activeLine, placement, () => null));
        this.#selected = null;
        this.#draftChanged(true);
      },
      drop: (files, face, at) => this.#takeFiles(this.#activeLine, files, face, at),
      add: (face) => {
        this.#activeFace = face;
        this.shadowRoot
          ?.querySelector<HTMLInputElement>(`[data-line="${this.#activeLine}"] input[type="file"][multiple]`)
          ?.click();
      },
    });
    this.#quote.onAnswer = (answer) => {
      this.dispatchEvent(new PlatenQuoteEvent(answer));
      this.#announce();
    };
    this.#shelf.onSent = (oldId, item) => {
      const swap = (draft: Draft): Draft => ({
        ...draft,
        lines: draft.lines.map((line) => ({
          ...line,
          placements: line.placements.map((placement) =>
            placement.artwork === oldId ? { ...placement, artwork: item.id } : placement,
          ),
        })),
      });
      this.#history.amend(swap);
      this.#draftChanged();
      void this.#fitNewcomers(item.id).catch(() => {});
    };
    const local = (): Promise<typeof import('./controllers/read-in-worker.ts')> =>
      import('./controllers/read-in-worker.ts');
    this.#shelf.local = {
      read: async (file, remedies, signal) => (await local()).readInWorker(file, remedies, signal),
      find: async (file, remedies, input, signal) =>
        (await local()).findInWorker(file, remedies, input, signal),
    };
  }

  /** The slip as JSON text; empty while nothing is on it. Takes JSON text, a slip, or an earlier value. */
  get value(): string {
    const draft = this.#history.present;
    return draft.lines.some((line) => line.blank) ? JSON.stringify(draft) : '';
  }
  set value(value: string | object | null) {
    let read: Draft | null = null;
    try {
      read = readDraft(typeof value === 'string' && value !== '' ? JSON.parse(value) : value);
    } catch {
      read = draftFromLink(String(value));
    }
    this.#initial ??= read;
    this.#load(read ?? emptyDraft());
  }

  /** The finished lines as the API takes them; null while no line is finished. */
  get slip(): Slip | null {
    return toSlip(this.#history.present);
  }

  /** The slip as text for an address; `value` takes it back. */
  get link(): string {
    return draftToLink(this.#history.present);
  }

  get form(): HTMLFormElement | null {
    return this.#internals?.form ?? null;
  }
  get validity(): ValidityState | undefined {
    return this.#internals?.validity;
  }
  get validationMessage(): string {
    return this.#internals?.validationMessage ?? '';
  }
  get willValidate(): boolean {
    return this.#internals?.willValidate ?? false;
  }
  checkValidity(): boolean {
    return this.#internals?.checkValidity() ?? true;
  }
  reportValidity(): boolean {
    return this.#internals?.reportValidity() ?? true;
  }

  formResetCallback(): void {
    this.#ordering = NOT_ORDERING;
    this.#load(this.#initial ?? emptyDraft());
  }
  formDisabledCallback(disabled: boolean): void {
    this.#formDisabled = disabled;
    this.requestUpdate();
  }
  formStateRestoreCallback(state: string | File | FormData | null): void {
    if (typeof state === 'string') this.value = state;
  }

  undo(): void {
    this.#history.undo();
    this.#draftChanged(true);
  }
  redo(): void {
    this.#history.redo();
    this.#draftChanged(true);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('pagehide', this.#flush);
    window.addEventListener('online', this.#online);
    this.addEventListener('keydown', this.#keys);
    this.#apiKey = '';
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
    clearTimeout(this.#statusTimer);
  }

  #flush = (): void => this.#keeper?.flush();
  #online = (): void => {
    if (!this.#catalog) this.#start();
    else this.#quote.again();
  };

  /** Undo and redo; and no key typed into the slip reaches shortcuts of the page. */
  #keys = (event: KeyboardEvent): void => {
    event.stopPropagation();
    const inField =
      event
        .composedPath()
        .some((node) => node instanceof HTMLInputElement && node.type === 'text' && node.value !== '') ||
      event.composedPath().some((node) => node instanceof HTMLTextAreaElement);
    if (inField || !(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    if (key === 'z' && !event.shiftKey && this.#history.canUndo) {
      event.preventDefault();
      this.undo();
    } else if ((key === 'y' || (key === 'z' && event.shiftKey)) && this.#history.canRedo) {
      event.preventDefault();
      this.redo();
    }
  };

  get #language(): string {
    return (
      this.lang ||
      this.closest('[lang]')?.getAttribute('lang') ||
      this.#catalog?.shop.language ||
      navigator.language ||
      'en'
    );
  }

  get #units(): Units {
    return this.units ?? this.#catalog?.shop.units ?? 'mm';
  }

  override willUpdate(_changed: PropertyValues<this>): void {
    const key = [this.api, this.shop, this.orderNumber, this.orderKey].join('\n');
    if (this.isConnected && this.shop && key !== this.#apiKey) {
      this.#apiKey = key;
      this.#api = new ShopApi(this.api || location.origin, this.shop);
      this.#start();
    }
    const language = this.#language;
    const words = `${language} ${this.#units} ${this.#catalog?.version ?? 0}`;
    if (this.#wordsFor !== words) {
      this.#wordsFor = words;
      loadWords(language, this.#units, this.#catalog).then(
        (loaded) => {
          if (this.#wordsFor !== words) return;
          this.#words = loaded;
          this.requestUpdate();
        },
        () => {
          // no language arrived: the line is cut; asked again while there is nothing to say it with
          if (this.#wordsFor !== words) return;
          this.#wordsFor = '';
          setTimeout(() => this.isConnected && this.requestUpdate(), WORDS_RETRY_MS);
        },
      );
    }
    this.#quote.ask(this.orderNumber || !this.#catalog ? null : toSlip(this.#history.present));
    this.#judge();
  }

  #start(): void {
    this.#loading?.abort();
    const loading = new AbortController();
    this.#loading = loading;
    const api = this.#api;
    if (!api) return;
    this.#problem = null;
    if (!this.forgetful) {
      this.#keeper = new Keeper(`${api.base}:${this.id || this.name}`);
      const kept = this.value === '' ? this.#keeper.load() : null;
      if (kept) this.#history.reset(kept);
    }
    const linked = this.#fromAddress();
    if (linked) this.#history.reset(linked);
    if (this.orderNumber) void this.#loadStatus(api, loading.signal);
    api
      .catalog(loading.signal)
      .then((catalog) => {
        this.#catalog = catalog;
        this.#settle();
        this.requestUpdate();
      })
      .catch((error: unknown) => {
        if (loading.signal.aborted) return;
        this.#problem = error instanceof ShopProblem ? error : new ShopProblem('server-fault', String(error));
        this.dispatchEvent(new PlatenProblemEvent(this.#problem));
        this.requestUpdate();
        if (this.#problem.code === 'offline')
          setTimeout(() => !this.#catalog && this.isConnected && this.#start(), 2_000);
      });
  }

  /** A slip that came with the page's address, as `link` made it; taken once. */
  #fromAddress(): Draft | null {
    const found = new RegExp(`[#&]${LINK_MARK}=([\\w-]+)`).exec(location.hash);
    if (!found || this.#linkTaken) return null;
    this.#linkTaken = true;
    return draftFromLink(found[1] ?? '');
  }

  async #copyLink(): Promise<void> {
    const address = new URL(location.href);
    address.hash = `${LINK_MARK}=${this.link}`;
    try {
      await navigator.clipboard.writeText(address.href);
    } catch {
      // no leave to write there: the address bar holds it instead
      history.replaceState(history.state, '', address);
    }
    this.#spoken = this.#words?.words.ui('link-copied') ?? '';
    this.#copied = true;
    this.requestUpdate();
  }

  async #loadStatus(api: ShopApi, signal: AbortSignal): Promise<void> {
    try {
      this.#status = await api.status(this.orderNumber, this.orderKey, signal);
      this.#problem = null;
      this.#statusTimer = setTimeout(() => void this.#loadStatus(api, signal), STATUS_REFRESH_MS);
    } catch (error) {
      if (signal.aborted) return;
      this.#problem = error instanceof ShopProblem ? error : new ShopProblem('server-fault', String(error));
    }
    this.requestUpdate();
  }

  /** Fills in what only the catalog knows: a delivery, the active line and face. Drops what the shop no longer has. */
  #settle(): void {
    const catalog = this.#catalog;
    if (!catalog) return;
    const fit = (draft: Draft): Draft => ({
      ...draft,
      delivery: catalog.deliveries.some((way) => way.id === draft.delivery)
        ? draft.delivery
        : (catalog.deliveries[0]?.id ?? null),
      lines: draft.lines.map((line) =>
        line.blank && !catalog.blanks.some((blank) => blank.id === line.blank) ? emptyLine(line.id) : line,
      ),
    });
    this.#history.amend(fit);
    const draft = this.#history.present;
    if (!draft.lines.some((line) => line.id === this.#activeLine))
      this.#activeLine = draft.lines[0]?.id ?? 'line-1';
    const line = draft.lines.find((entry) => entry.id === this.#activeLine);
    const blank = catalog.blanks.find((entry) => entry.id === line?.blank);
    if (blank && !blank.faces.some((face) => face.id === this.#activeFace))
      this.#activeFace = line?.placements[0]?.face ?? blank.faces[0]?.id ?? null;
    void this.#shelf.recall([
      ...new Set(draft.lines.flatMap((entry) => entry.placements.map((placement) => placement.artwork))),
    ]);
  }

  #load(draft: Draft): void {
    this.#history.reset(draft);
    this.#selected = null;
    this.#settle();
    this.#keeper?.save(draft);
    this.#syncForm();
    this.requestUpdate();
  }

  /** After any change of the draft. `byUser`: tell the page. */
  #draftChanged(byUser = false): void {
    const draft = this.#history.present;
    this.#settle();
    this.#keeper?.save(draft);
    this.#syncForm();
    this.#copied = false;
    if (byUser) this.dispatchEvent(new PlatenChangeEvent(draft));
    this.requestUpdate();
  }

  #syncForm(): void {
    const value = this.value;
    this.#internals?.setFormValue(value === '' ? null : value, value);
  }

  #judge(): void {
    const internals = this.#internals;
    if (!internals) return;
    const draft = this.#history.present;
    const lack = draft.lines.map(lacking).find((entry) => entry !== null);
    if (this.required && !this.orderNumber && lack)
      internals.setValidity(
        { valueMissing: true },
        this.#words?.words.ui(`lack-${lack}`) ?? 'The slip is not finished',
        this.shadowRoot?.querySelector<HTMLElement>('input:not([tabindex="-1"]), button') ?? undefined,
      );
    else internals.setValidity({});
  }

  #announce(): void {
    const { answer } = this.#quote.view;
    const words = this.#words;
    if (!words || !answer) return;
    if (answer.kind === 'refusal')
      this.#announcer.say(answer.reasons.map((entry) => words.words.reason(entry)).join(' '));
    else
      this.#announcer.say(
        words.words.ui('spoken-answer', {
          unit: answer.lines[0]?.unit,
          total: answer.total,
          day: answer.promise.day,
        }),
      );
  }

  /** Artwork whose shape was not known when it was placed is fitted into its area once it is. */
  async #fitNewcomers(artwork: string): Promise<void> {
    const facts = this.#shelf.item(artwork)?.facts;
    const catalog = this.#catalog;
    if (!facts || !catalog) return;
    const { aspectOf, fitInto, tightestArea } = await this.#placing.fetch();
    this.#history.amend((draft) => ({
      ...draft,
      lines: draft.lines.map((line) => {
        const blank = catalog.blanks.find((entry) => entry.id === line.blank);
        return {
          ...line,
          placements: line.placements.map((placement) => {
            const face = blank?.faces.find((entry) => entry.id === placement.face);
            if (placement.artwork !== artwork || !face || placement.angleDeg !== 0) return placement;
            const area = tightestArea(
              face,
              line.counts.map((entry) => entry.size),
            );
            return { ...placement, ...fitInto(placement, aspectOf(facts), area) };
          }),
        };
      }),
    }));
    this.#draftChanged();
  }

  #context(catalog: PublicCatalog, loaded: LoadedWords): SlipContext {
    const language = this.#language;
    const blankOf = (line: DraftLine): PublicBlank | undefined =>
      catalog.blanks.find((blank) => blank.id === line.blank);
    const { answer } = this.#quote.view;
    const change = (make: (draft: Draft) => Draft, group?: string): void => {
      this.#history.push(make(this.#history.present), group ?? null);
      this.#draftChanged(true);
    };
    return {
      catalog,
      words: loaded.words,
      say: loaded.say,
      units: this.#units,
      draft: this.#history.present,
      quote: this.#quote.view,
      shelf: this.#shelf,
      activeLine: this.#activeLine,
      activeFace: this.#activeFace,
      selected: this.#selected,
      disabled: this.disabled || this.#formDisabled,
      done: this.#ordering.step === 'placed' || this.#ordering.step === 'sending',
      language,
      later: this.#later,
      text: (text) => pickText(text as Parameters<typeof pickText>[0], language),
      blankOf,
      quotedLine: (id) =>
        answer?.kind === 'quote' ? answer.lines.find((line) => line.id === id) : undefined,
      alternatives: (id) =>
        answer?.instead.filter((entry) => 'line' in entry.change && entry.change.line === id) ?? [],
      change,
      changeLine: (id, make, group) => change((draft) => withLine(draft, id, make), group),
      changePlacement: (line, id, make, group) =>
        change((draft) => withPlacement(draft, line, id, make), group),
      activate: (line, face, placement) => {
        this.#activeLine = line;
        if (face !== undefined) this.#activeFace = face;
        if (placement !== undefined) this.#selected = placement;
        this.requestUpdate();
      },
      takeFiles: (line, files) => this.#takeFiles(line, files),
      placeKnown: (line, artwork) => void this.#place(line, { id: artwork }, this.#activeFace),
      duplicate: (lineId, placementId, face) => this.#duplicate(lineId, placementId, face),
      duplicateLine: (id) => {
        const draft = this.#history.present;
        const line = draft.lines.find((entry) => entry.id === id);
        if (!line || draft.lines.length >= LINES_MAX) return;
        const copy = {
          ...structuredClone(line),
          id: freeId(
            'line',
            draft.lines.map((entry) => entry.id),
          ),
        };
        change((old) => ({
          ...old,
          lines: old.lines.flatMap((entry) => (entry.id === id ? [entry, copy] : [entry])),
        }));
        this.#activeLine = copy.id;
      },
      useUnits: (units) => {
        this.units = units;
      },
      isOpen: (key) => this.#open.has(key),
      toggle: (key, open) => {
        if (open ?? !this.#open.has(key)) this.#open.add(key);
        else this.#open.delete(key);
        this.requestUpdate();
      },
    };
  }

  #takeFiles(
    line: string,
    files: Iterable<File>,
    face: string | null = this.#activeFace,
    at?: { xMm: number; yMm: number },
  ): void {
    for (const file of files) void this.#place(line, this.#shelf.add(file), face, at);
  }

  /** @param source the artwork; its id may change from unsent to sent while the code to place it is fetched. */
  async #place(
    lineId: string,
    source: { readonly id: string },
    faceId: string | null,
    at?: { xMm: number; yMm: number },
    remedies: DraftPlacement['remedies'] = [],
  ): Promise<void> {
    const { aspectOf, firstPlace, fitInto, tightestArea } = await this.#placing.fetch();
    const artwork = source.id;
    const line = this.#history.present.lines.find((entry) => entry.id === lineId);
    const blank = this.#catalog?.blanks.find((entry) => entry.id === line?.blank);
    const face = blank?.faces.find((entry) => entry.id === faceId) ?? blank?.faces[0];
    if (!line || !face) return;
    const aspect = aspectOf(this.#shelf.factsOf(artwork, remedies));
    const first = { ...firstPlace(line, face, artwork, aspect), remedies };
    const sizes = line.counts.map((entry) => entry.size);
    const placement: DraftPlacement = at
      ? { ...first, ...fitInto({ ...first, ...at }, aspect, tightestArea(face, sizes)) }
      : first;
    this.#history.push(
      withLine(this.#history.present, lineId, (old) => ({
        ...old,
        placements: [...old.placements, placement],
      })),
    );
    this.#activeLine = lineId;
    this.#activeFace = face.id;
    this.#selected = placement.id;
    this.#draftChanged(true);
  }

  #duplicate(lineId: string, placementId: string, faceId: string): void {
    const line = this.#history.present.lines.find((entry) => entry.id === lineId);
    const source = line?.placements.find((entry) => entry.id === placementId);
    if (source) void this.#place(lineId, { id: source.artwork }, faceId, undefined, source.remedies);
  }

  #setOrdering(change: Partial<Ordering>): void {
    this.#ordering = { ...this.#ordering, ...change };
    this.requestUpdate();
  }

  async #toOrder(ctx: SlipContext): Promise<void> {
    this.#orderKeyForRetry = crypto.randomUUID?.() ?? `${Date.now()}-${Math.random()}`;
    await this.#later.order.fetch().catch(() => null);
    this.#setOrdering({ step: 'open', proofs: [], proofsMissing: false, approved: false, problem: null });
    await this.updateComplete;
    this.shadowRoot?.querySelector<HTMLElement>('#order-title')?.focus();
    await this.#drawProofs(ctx);
  }

  async #drawProofs(ctx: SlipContext): Promise<void> {
    const slip = this.slip;
    const api = this.#api;
    if (!slip || !api) return;
    const views = slip.lines.flatMap((line) => {
      const blank = ctx.catalog.blanks.find((entry) => entry.id === line.blank);
      const faces = new Set([
        ...line.placements.map((placement) => placement.face),
        ...(line.names ? [line.names.face] : []),
      ]);
      const shown = new Set(
        blank?.faces.filter((face) => faces.has(face.id)).map((face) => face.onView.view),
      );
      return (blank?.views ?? [])
        .filter((view) => shown.has(view.id))
        .map((view) => ({ line: line.id, view, blank }));
    });
    try {
      const proofs = await Promise.all(
        views.map(async ({ line, view, blank }) => {
          const proof = await api.proof(slip, line, view.id);
          return {
            ...proof,
            url: api.resolve(proof.url),
            title: `${blank ? ctx.text(blank.name) : ''} – ${ctx.text(view.name)}`,
          };
        }),
      );
      this.#setOrdering({ proofs });
    } catch {
      this.#setOrdering({ proofsMissing: true });
    }
  }

  async #placeOrder(): Promise<void> {
    const { answer } = this.#quote.view;
    const slip = this.#quote.quotedSlip;
    const api = this.#api;
    if (!api || !slip || answer?.kind !== 'quote' || !answer.token || this.#ordering.step === 'sending')
      return;
    const { contact, proofs } = this.#ordering;
    this.#setOrdering({ step: 'sending', problem: null });
    try {
      const placed = await api.order(
        {
          token: answer.token,
          slip,
          contact: {
            name: contact.name.trim(),
            email: contact.email.trim(),
            ...(contact.phone.trim() ? { phone: contact.phone.trim() } : {}),
            ...(contact.note.trim() ? { note: contact.note.trim() } : {}),
          },
          proofs: proofs.map((proof) => proof.hash),
        },
        this.#orderKeyForRetry,
      );
      this.#setOrdering({ step: 'placed', placed });
      this.#keeper?.clear();
      this.dispatchEvent(new PlatenOrderEvent(placed));
      await this.updateComplete;
      this.shadowRoot?.querySelector<HTMLElement>('#order-stamp')?.focus();
    } catch (error) {
      const problem = error instanceof ShopProblem ? error : new ShopProblem('server-fault', String(error));
      // a repeated attempt keeps its key only while the shop may still have taken the first
      if (problem.code !== 'offline' && problem.code !== 'still-running')
        this.#orderKeyForRetry = crypto.randomUUID?.() ?? `${Date.now()}-${Math.random()}`;
      if (problem.code === 'quote-expired') this.#quote.again();
      const renewed = (problem.body as { quote?: Parameters<QuoteController['take']>[0] }).quote;
      if (problem.code === 'day-not-kept' && renewed) this.#quote.take(renewed);
      this.#setOrdering({ step: 'open', problem });
      this.dispatchEvent(new PlatenProblemEvent(problem));
    }
  }

  override render(): TemplateResult {
    const loaded = this.#words;
    const rtl = loaded?.direction ?? 'ltr';
    return html`<div class="root" lang=${loaded?.language ?? this.#language} dir=${rtl} part="root">
      ${this.#body(loaded)}
      <div class="sr" role="status" aria-live="polite">${this.#spoken}</div>
    </div>`;
  }

  #body(loaded: LoadedWords | null): TemplateResult | typeof nothing {
    if (!loaded) return html`<div class="slip skeleton" aria-busy="true"></div>`;
    const catalog = this.#catalog;
    const { words } = loaded;
    if (this.orderNumber) {
      const text = (value: unknown): string =>
        pickText(value as Parameters<typeof pickText>[0], this.#language);
      return html`<div class="slip" part="slip">
        ${this.#status ? this.#later.order.value?.statusPart({ words, say: loaded.forCurrency(this.#status.currency), text }, this.#status, null, null) : nothing}
        ${this.#problem ? html`<p class="alert" role="alert">${words.problem(this.#problem.code)}</p>` : nothing}
        ${!this.#status && !this.#problem ? html`<p class="note" aria-busy="true">${words.ui('loading')}</p>` : nothing}
      </div>`;
    }
    if (!catalog)
      return html`<div class="drawing" part="drawing"></div><div class="slip" part="slip" aria-busy=${this.#problem ? 'false' : 'true'}>
        ${
          this.#problem
            ? html`<p class="alert" role="alert">${words.problem(this.#problem.code)}</p>
              <p><button class="box" type="button" @click=${() => this.#start()}>${words.ui('try-again')}</button></p>`
            : html`<p class="note">${words.ui('loading')}</p>`
        }</div>`;
    return this.#sheet(this.#context(catalog, loaded));
  }

  #sheet(ctx: SlipContext): TemplateResult {
    const { ui } = ctx.words;
    const { draft } = ctx;
    const ordering = this.#ordering;
    if (ordering.step === 'placed' && ordering.placed) {
      const { placed } = ordering;
      return html`${this.#drawing(ctx)}<div class="slip" part="slip">${this.#later.order.value?.statusPart(
        ctx,
        placed.status,
        this.#statusAddress(placed.number, placed.statusKey, placed.statusUrl),
        () => {
          this.#ordering = NOT_ORDERING;
          this.#load(emptyDraft());
        },
      )}</div>`;
    }
    const today = new Intl.DateTimeFormat('en-CA', { timeZone: ctx.catalog.shop.timeZone }).format(
      new Date(),
    );
    return html`${this.#drawing(ctx)}
      <div class="slip" part="slip">
        <div class="slip-head">
          <h2><slot name="heading">${ui('slip')}</slot></h2>
          <button class="plain" type="button" ?disabled=${!this.#history.canUndo || ctx.disabled} @click=${() => this.undo()}>${ui('undo')}</button>
          <button class="plain" type="button" ?disabled=${!this.#history.canRedo || ctx.disabled} @click=${() => this.redo()}>${ui('redo')}</button>
        </div>
        ${
          ordering.step === 'open' || ordering.step === 'sending'
            ? this.#later.order.value?.orderPart(
                ctx,
                ordering,
                (change) => this.#setOrdering(change),
                () => void this.#placeOrder(),
              )
            : html`
              ${draft.lines.map((line, index) => this.#line(ctx, line, index))}
              <div class="row acts no-print">
                <button class="plain" type="button" ?disabled=${ctx.disabled || draft.lines.length >= LINES_MAX}
                  @click=${() => {
                    const id = freeId(
                      'line',
                      draft.lines.map((line) => line.id),
                    );
                    ctx.change((old) => ({ ...old, lines: [...old.lines, emptyLine(id)] }));
                    ctx.activate(id, null, null);
                  }}>${ui('add-line')}</button>
              </div>
              ${whenRow(ctx, today, this.#month || (draft.neededBy ?? today).slice(0, 7), (month) => {
                this.#month = month;
                this.requestUpdate();
              })}
              <div class="row acts no-print">
                <button class="plain" type="button" @click=${() => void this.#copyLink()}>${ui(this.#copied ? 'link-copied' : 'copy-link')}</button>
                <button class="plain" type="button" @click=${() => print()}>${ui('print')}</button>
              </div>
              <slot name="after"></slot>`
        }
        ${footPart(ctx, () => void this.#toOrder(ctx), ordering.step !== 'closed')}
      </div>`;
  }

  #statusAddress(number: string, key: string, fallback: string): string {
    if (!this.statusPage) return this.#api ? this.#api.resolve(fallback) : fallback;
    return this.statusPage
      .replace('{number}', encodeURIComponent(number))
      .replace('{key}', encodeURIComponent(key));
  }

  #drawing(ctx: SlipContext): TemplateResult {
    return drawingPart(ctx, this.#stageHost, this.#words!.messages.stage);
  }

  /** Numbers from the drawing go into the active line; a drag is one step to undo. */
  #moved(
    placement: string,
    position: Pick<DraftPlacement, 'xMm' | 'yMm' | 'widthMm' | 'angleDeg'>,
    ended: boolean,
  ): void {
    const line = this.#activeLine;
    const next = withPlacement(this.#history.present, line, placement, (old) => ({ ...old, ...position }));
    this.#history.push(next, `move ${line} ${placement}`);
    if (ended) this.#history.seal();
    this.#draftChanged(true);
  }

  #line(ctx: SlipContext, line: DraftLine, index: number): TemplateResult {
    const { ui } = ctx.words;
    const active = line.id === this.#activeLine || ctx.draft.lines.length === 1;
    const blank = ctx.blankOf(line);
    const quoted = ctx.quotedLine(line.id);
    const lack = lacking(line);
    const title = blank ? ctx.text(blank.name) : ui('new-item');
    return html`<section class="piece" data-line=${line.id} part="line" aria-label=${ui('line-of', { number: index + 1, name: title })}>
      <div class="piece-head">
        <span class="number" aria-hidden="true">${ctx.say.n(index + 1)}</span>
        <h3>${
          ctx.draft.lines.length > 1
            ? html`<button class="plain" type="button" aria-expanded=${active ? 'true' : 'false'}
                @click=${() => ctx.activate(line.id, line.placements[0]?.face ?? blank?.faces[0]?.id ?? null, null)}>${title}</button>`
            : title
        }</h3>
        ${quoted && ctx.draft.lines.length > 1 ? html`<span>${ctx.say.money(quoted.total)}</span>` : nothing}
      </div>
      ${
        active
          ? html`${itemRow(ctx, line)} ${colorRow(ctx, line)} ${sizeRow(ctx, line)} ${artworkRow(ctx, line)}
              ${namesAdd(ctx, line)} ${line.names ? this.#later.names.value?.namesRow(ctx, line) : nothing} ${finishRow(ctx, line)} ${(quoted?.ladder.length ?? 0) > 1 ? this.#later.ladder.value?.ladderPart(ctx, line) : nothing}
              <div class="acts no-print">
                <button class="plain" type="button" ?disabled=${ctx.disabled || !blank} @click=${() => ctx.duplicateLine(line.id)}>${ui('duplicate-line')}</button>
                ${
                  ctx.draft.lines.length > 1
                    ? html`<button class="plain" type="button" ?disabled=${ctx.disabled}
                        @click=${() => ctx.change((old) => ({ ...old, lines: old.lines.filter((entry) => entry.id !== line.id) }))}>${ui('remove-line')}</button>`
                    : nothing
                }
              </div>`
          : html`<p class="note">${ctx.words.ui('pieces', { count: line.counts.reduce((sum, entry) => sum + entry.count, 0) })}
              ${lack ? html` · ${ui(`lack-${lack}`)}` : nothing}</p>`
      }
    </section>`;
  }

  /** Files still on their way; a page may ask before it is left. */
  get busy(): boolean {
    return this.#history.present.lines.some((line) =>
      line.placements.some((placement) => placement.artwork.startsWith(UNSENT)),
    );
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'platen-order': PlatenOrder;
  }
}

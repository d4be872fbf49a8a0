import { adoptStyles, type CSSResult, type LitElement, type ReactiveController } from 'lit';
import { ArtworkLibrary } from './artwork/artwork-library.ts';
import { Assets } from './artwork/assets.ts';
import { DeferredNamePreviews } from './artwork/names/deferred-name-previews.ts';
import { ArtworkIntake } from './artwork/placing/artwork-intake.ts';
import { Announcer } from './controllers/announcer.ts';
import { ExpandedMessages } from './controllers/expanded-messages.ts';
import { deferredCode } from './deferred.ts';
import { type Draft, emptyDraft, toSlip } from './draft/draft.ts';
import { DraftEditor } from './draft/draft-editor.ts';
import { DraftStorage } from './draft/draft-storage.ts';
import { draftFromPageUrl } from './draft/slip-link.ts';
import { handleUndoKeys } from './draft/undo-keys.ts';
import { PlatenOrderEvent, PlatenProblemEvent, PlatenQuoteEvent } from './events.ts';
import type { Units } from './format/index.ts';
import { Language } from './locales/language.ts';
import { spokenAnswer } from './parts/spoken-answer.ts';
import { ViewState } from './parts/view-state.ts';
import { CatalogController } from './shop/catalog-controller.ts';
import { DeferredOrder } from './shop/deferred-order.ts';
import { OrderStatusPoll } from './shop/order-status-poll.ts';
import type { EarlySlip } from './shop/prefetched-catalog.ts';
import { QuoteController } from './shop/quote-controller.ts';
import { ShopApi } from './shop/shop-api.ts';

/** The element, as far as its session reads it. */
export type SlipElement = LitElement & {
  readonly api: string;
  readonly shop: string;
  readonly name: string;
  readonly units: Units | undefined;
  readonly assets: string;
  readonly forgetful: boolean;
  readonly orderNumber: string;
  readonly orderKey: string;
};

/**
 * What is behind one slip on a page: draft, language, catalog, quote, artworks and order, and how a change of one
 * reaches the others. The element draws it.
 */
export class SlipSession implements ReactiveController {
  readonly editor: DraftEditor;
  readonly view: ViewState;
  readonly language: Language;
  readonly announcer: Announcer;
  readonly expanded: ExpandedMessages;
  readonly quote: QuoteController;
  readonly catalog: CatalogController;
  readonly orderStatus: OrderStatusPoll;
  readonly library: ArtworkLibrary;
  readonly intake: ArtworkIntake;
  readonly previews: DeferredNamePreviews;
  readonly order: DeferredOrder;
  readonly deferred = deferredCode(
    () => this.#host.requestUpdate(),
    (styles) => this.#adoptStyles(styles),
    () => this.language.words?.later.fetch(),
  );
  readonly #host: SlipElement;
  readonly #draftChanged: (byUser: boolean) => void;
  readonly #disabled: () => boolean;
  #api: ShopApi | null = null;
  /** the properties `#api` was made from. */
  #apiKey = '';
  #storage: DraftStorage | null = null;
  /** the slip in the page's address has been loaded, which is done once. */
  #linkLoaded = false;

  /**
   * @param draftChanged called after every change of the draft; `byUser` says whether the customer made it
   * @param disabled whether the customer may not change the slip
   */
  constructor(host: SlipElement, draftChanged: (byUser: boolean) => void, disabled: () => boolean) {
    this.#host = host;
    this.#draftChanged = draftChanged;
    this.#disabled = disabled;
    const api = (): ShopApi | null => this.#api;
    const changed = (): void => host.requestUpdate();
    const failed = (problem: PlatenProblemEvent['problem']): boolean =>
      host.dispatchEvent(new PlatenProblemEvent(problem));

    host.addController(this);
    this.editor = new DraftEditor((byUser) => this.#afterDraftChange(byUser));
    this.view = new ViewState(host);
    this.language = new Language(host);
    this.announcer = new Announcer(host);
    this.expanded = new ExpandedMessages(host);
    this.orderStatus = new OrderStatusPoll(host);
    this.quote = new QuoteController(host, api);
    this.quote.onAnswer = (answer) => {
      host.dispatchEvent(new PlatenQuoteEvent(answer));
      const words = this.language.words?.words;
      if (words) this.announcer.announce(spokenAnswer(answer, words), this.expanded.hasInteracted);
    };
    this.catalog = new CatalogController(
      host,
      (catalog) => {
        this.editor.catalog = catalog;
        this.#restoreArtworks();
      },
      failed,
    );

    const { uploadFile, fileStorage, localReader, ArtworkPlacer, NamePreviews, nameDrawing } = this.deferred;
    const assets = new Assets(() => host.assets, failed);
    this.library = new ArtworkLibrary(host, api);
    this.library.uploadCode = async () => ({
      uploadFile: await uploadFile.fetch(),
      fileStorage: host.forgetful ? null : await fileStorage.fetch(),
    });
    this.library.localReader = {
      read: async (...args) => (await localReader.fetch())(assets).read(...args),
      findings: async (...args) => (await localReader.fetch())(assets).findings(...args),
    };
    this.intake = new ArtworkIntake(host, ArtworkPlacer, this.editor, this.library);
    this.previews = new DeferredNamePreviews(
      NamePreviews,
      (Previews) => new Previews(async () => (await nameDrawing.fetch())(assets), changed),
    );

    this.order = new DeferredOrder(() => this.#loadOrder(), {
      editor: this.editor,
      quote: this.quote,
      api,
      storage: () => this.#storage,
      language: () => this.languageTag,
      changed,
      focus: (selector) => this.focusPart(selector),
      placed: (order) => {
        this.#storage?.clear();
        host.dispatchEvent(new PlatenOrderEvent(order));
      },
      failed,
    });
  }

  hostConnected(): void {
    window.addEventListener('pagehide', this.#saveNow);
    window.addEventListener('online', this.#reconnect);
    this.#host.addEventListener('keydown', this.#handleKeys);
    this.#apiKey = '';
    this.#host.requestUpdate();
  }

  hostDisconnected(): void {
    window.removeEventListener('pagehide', this.#saveNow);
    window.removeEventListener('online', this.#reconnect);
    this.#host.removeEventListener('keydown', this.#handleKeys);
    this.#saveNow();
  }

  hostUpdate(): void {
    const { api, shop, orderNumber, orderKey, isConnected } = this.#host;
    const apiKey = [api, shop, orderNumber, orderKey].join('\n');
    if (isConnected && shop && apiKey !== this.#apiKey) {
      this.#apiKey = apiKey;
      const next = new ShopApi(api || location.origin, shop);
      if (next.base !== this.#api?.base) this.editor.catalog = null;
      this.#api = next;
      this.start();
    }
    const { catalog, draft, hasItems } = this.editor;
    if (hasItems) {
      // loads all deferred code with the customer's first step, so that nothing has to wait for it later
      void this.language.words?.later.value;
      void this.deferred.placement.value;
    }
    this.language.load(this.languageTag, this.units, catalog);
    this.quote.request(orderNumber || !catalog ? null : toSlip(draft));
  }

  /** The language asked for, a BCP 47 tag. */
  get languageTag(): string {
    return (
      this.#host.lang ||
      this.#host.closest('[lang]')?.getAttribute('lang') ||
      document.documentElement.lang ||
      this.editor.catalog?.shop.language ||
      navigator.language ||
      'en'
    );
  }

  get units(): Units {
    const preferred = [this.#host.units, this.editor.catalog?.shop.units];
    return preferred.find((units) => units === 'in' || units === 'mm') ?? 'mm';
  }

  /** Browser storage is full or forbidden, so that the draft could not be saved. */
  get notSaved(): boolean {
    return this.#storage?.isFull ?? false;
  }

  /** The absolute form of an address in a response of the shop. */
  resolve(address: string): string {
    return this.#api?.resolve(address) ?? address;
  }

  /** Replaces the draft, and leaves the order being made of the old one. */
  load(draft: Draft | null): void {
    this.order.close();
    this.editor.load(draft ?? emptyDraft());
  }

  /** Loads what the slip shows: the saved draft, the catalog, and the status of an order. */
  start(): void {
    const api = this.#api;
    if (!api) return;
    this.#restoreDraft(api);
    if (this.#host.orderNumber) this.orderStatus.follow(api, this.#host.orderNumber, this.#host.orderKey);
    const early: EarlySlip = this.#host;
    const { platenEarly } = early;
    delete early.platenEarly;
    void this.catalog.load(api, platenEarly);
  }

  /** Focuses a part of the slip once it is drawn. */
  focusPart(selector: string): void {
    void this.#host.updateComplete.then(() => {
      const part = this.#host.shadowRoot?.querySelector<HTMLElement>(selector);
      part?.focus();
      part?.scrollIntoView({ block: 'nearest' }); // focus() does not scroll to what has the focus already
    });
  }

  /** Opens the file chooser of a line. */
  openFileChooser = (line: string): void => {
    this.#host.shadowRoot
      ?.querySelector<HTMLInputElement>(`[data-line="${line}"] input[type="file"][multiple]`)
      ?.click();
  };

  /** Loads the saved draft unless the page has set one; a slip in the page's address goes before both. */
  #restoreDraft(api: ShopApi): void {
    const { forgetful, id, name } = this.#host;
    if (!forgetful) {
      this.#storage = new DraftStorage(`${api.base}:${id || name}`, () => this.#host.requestUpdate());
      const saved = this.editor.hasItems ? null : this.#storage.load();
      if (saved) this.editor.load(saved);
    }
    const linked = this.#linkLoaded ? null : draftFromPageUrl();
    if (!linked) return;
    this.#linkLoaded = true;
    this.editor.load(linked);
  }

  #afterDraftChange(byUser: boolean): void {
    if (this.editor.catalog) this.#restoreArtworks();
    this.#storage?.save(this.editor.draft);
    this.view.linkCopied = false;
    this.#draftChanged(byUser);
    this.#host.requestUpdate();
  }

  /** Loads the artworks of the draft that the library does not have. */
  #restoreArtworks(): void {
    const placements = this.editor.draft.lines.flatMap((line) => line.placements);
    void this.library.restore([...new Set(placements.map((placement) => placement.artwork))]);
  }

  async #loadOrder() {
    const { OrderController, orderForm, orderStatus } = this.deferred;
    const [Controller] = await Promise.all([OrderController.fetch(), orderForm.fetch(), orderStatus.fetch()]);
    return Controller;
  }

  #adoptStyles(styles: readonly CSSResult[]): void {
    const root = this.#host.renderRoot as ShadowRoot | undefined;
    const { elementStyles } = this.#host.constructor as typeof LitElement;
    if (root) adoptStyles(root, [...elementStyles, ...styles]);
  }

  #saveNow = (): void => this.#storage?.flush();

  #reconnect = (): void => {
    if (!this.editor.catalog) this.start();
    else this.quote.refresh();
    this.library.resumeUploads();
  };

  /** Keys typed into the slip do not reach shortcuts of the page. */
  #handleKeys = (event: KeyboardEvent): void => {
    event.stopPropagation();
    if (!this.#disabled() && !this.order.isOpen) handleUndoKeys(event, this.editor);
  };
}

import { canonicalJson } from '../../src/canonical-json.ts';
import type { OrderPlaced, OrderRequest } from '../../src/contract/index.ts';
import { toSlip } from '../draft/draft.ts';
import type { DraftEditor } from '../draft/draft-editor.ts';
import type { DraftStorage } from '../draft/draft-storage.ts';
import { type Proof, proofViews } from './proof-views.ts';
import type { QuoteController } from './quote-controller.ts';
import { asProblem, type ShopApi, type ShopProblem } from './shop-api.ts';

/** What the customer has entered on the order form, and how far the order has come. */
export type OrderProgress = {
  readonly step: 'closed' | 'open' | 'sending' | 'placed';
  readonly proofs: readonly Proof[];
  readonly proofsMissing: boolean;
  readonly approved: boolean;
  /** the customer has tried to order; from then on, missing fields show an error. */
  readonly tried: boolean;
  readonly contact: {
    readonly name: string;
    readonly email: string;
    readonly phone: string;
    readonly note: string;
  };
  readonly problem: ShopProblem | null;
  readonly placed: OrderPlaced | null;
};

const CLOSED: OrderProgress = {
  step: 'closed',
  proofs: [],
  proofsMissing: false,
  approved: false,
  tried: false,
  contact: { name: '', email: '', phone: '', note: '' },
  problem: null,
  placed: null,
};

/** What the controller needs of the slip. */
export type OrderHost = {
  readonly editor: DraftEditor;
  readonly quote: QuoteController;
  readonly api: () => ShopApi | null;
  /** where a pending order is saved for a reload; null when it is not. */
  readonly storage: () => DraftStorage | null;
  readonly language: () => string;
  changed(): void;
  focus(selector: string): void;
  placed(order: OrderPlaced): void;
  failed(problem: ShopProblem): void;
};

const newKey = (): string => crypto.randomUUID?.() ?? `${Date.now()}-${Math.random()}`;

/** An order sent but not answered yet. Sent again with the same key, it is still the same order. */
type PendingOrder = { readonly request: OrderRequest; readonly key: string };

/** Whether two requests are for the same slip and contact, whatever their quotes. */
const isSameOrder = (one: OrderRequest, other: OrderRequest): boolean =>
  canonicalJson([one.slip, one.contact]) === canonicalJson([other.slip, other.contact]);

/** Problems after which it is unknown whether the shop accepted the order; any other problem is a refusal. */
const UNCERTAIN: ReadonlySet<string> = new Set(['offline', 'still-running', 'server-fault']);

/** Takes a finished slip to an order: the contact, the proofs to approve, the request and its outcome. */
export class OrderController {
  #host: OrderHost;
  state: OrderProgress = CLOSED;

  constructor(host: OrderHost) {
    this.#host = host;
    const { contact } = this.#pending?.request ?? {};
    if (contact) {
      const { name, email, phone = '', note = '' } = contact;
      this.state = { ...this.state, contact: { name, email, phone, note } };
    }
  }

  /**
   * An order whose answer never came. It is sent again unchanged, so that it is not made twice, and saved with the draft,
   * as the page may be reloaded meanwhile.
   */
  get #pending(): PendingOrder | null {
    const pending = (this.#host.storage()?.pendingOrder ??
      this.#unsavedPending) as Partial<PendingOrder> | null;
    return typeof pending?.key === 'string' && pending.request?.contact ? (pending as PendingOrder) : null;
  }
  set #pending(order: PendingOrder | null) {
    this.#unsavedPending = order;
    const storage = this.#host.storage();
    if (storage) storage.pendingOrder = order;
  }
  /** the same, where it cannot be saved. */
  #unsavedPending: PendingOrder | null = null;

  update = (change: Partial<OrderProgress>): void => {
    this.state = { ...this.state, ...change };
    this.#host.changed();
  };

  /** Goes back to the slip; the contact is kept. */
  back = (): void => {
    this.update({ step: 'closed', problem: null });
    this.#host.focus('[part="order-button"]');
  };

  /** Forgets the order and its contact. */
  close(): void {
    this.state = CLOSED;
    this.#host.changed();
  }

  async open(): Promise<void> {
    this.update({
      step: 'open',
      proofs: [],
      proofsMissing: false,
      approved: false,
      tried: false,
      problem: null,
    });
    this.#host.focus('#order-title');
    await this.#loadProofs();
  }

  /** Loads a proof of every view that has something printed on it. */
  async #loadProofs(): Promise<void> {
    const { catalog, draft } = this.#host.editor;
    const slip = toSlip(draft);
    const api = this.#host.api();
    if (!slip || !api || !catalog) return;
    const views = proofViews(slip, catalog, this.#host.language());
    // reserves their space at once
    this.update({ proofs: views.map(({ proof }) => proof) });
    try {
      const proofs = await Promise.all(
        views.map(async ({ line, view, proof }) => {
          const drawn = await api.proof(slip, line, view);
          return { ...proof, drawn: { ...drawn, url: api.resolve(drawn.url) } };
        }),
      );
      this.update({ proofs });
    } catch {
      this.update({ proofsMissing: true });
    }
  }

  async place(): Promise<void> {
    const { quote } = this.#host;
    const { answer } = quote.view;
    const slip = quote.quotedSlip;
    const api = this.#host.api();
    if (!api || !slip || answer?.kind !== 'quote' || !answer.token || this.state.step === 'sending') return;
    const { contact, proofs } = this.state;
    const phone = contact.phone.trim();
    const note = contact.note.trim();
    const request: OrderRequest = {
      token: answer.token,
      slip,
      contact: {
        name: contact.name.trim(),
        email: contact.email.trim(),
        ...(phone ? { phone } : {}),
        ...(note ? { note } : {}),
      },
      proofs: proofs.flatMap(({ drawn }) => drawn?.hash ?? []),
    };
    const before = this.#pending;
    const pending = before && isSameOrder(before.request, request) ? before : { request, key: newKey() };
    this.#pending = pending;
    this.update({ step: 'sending', problem: null });
    try {
      const placed = await api.order(pending.request, pending.key);
      this.#pending = null;
      this.update({ step: 'placed', placed });
      this.#host.placed(placed);
      this.#host.focus('#order-stamp');
    } catch (error) {
      const problem = asProblem(error);
      if (!UNCERTAIN.has(problem.code)) this.#pending = null;
      if (problem.code === 'quote-expired') quote.refresh();
      const renewed = (problem.body as { quote?: Parameters<QuoteController['accept']>[0] }).quote;
      if (problem.code === 'day-not-kept' && renewed) quote.accept(renewed);
      this.update({ step: 'open', problem });
      this.#host.failed(problem);
    }
  }
}

import { canonicalJson } from '../../src/canonical-json.ts';
import type { OrderPlaced, OrderRequest } from '../../src/contract/index.ts';
import { pickText } from '../../src/pick-text.ts';
import { toSlip } from '../draft/draft.ts';
import type { DraftEditor } from '../draft/draft-editor.ts';
import type { DraftStorage } from '../draft/draft-storage.ts';
import type { QuoteController } from './quote-controller.ts';
import { asProblem, type ProofAnswer, type ShopApi, type ShopProblem } from './shop-api.ts';

/** A side of a line that has something on it, and the proof of it once the shop has drawn it. */
export type Proof = {
  readonly title: string;
  /** the name it shows, of a list. */
  readonly name: string | undefined;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly drawn: ProofAnswer | null;
};

/** Where ordering stands. */
export type Ordering = {
  readonly step: 'closed' | 'open' | 'sending' | 'placed';
  readonly proofs: readonly Proof[];
  readonly proofsMissing: boolean;
  readonly approved: boolean;
  /** the customer tried to order; what is missing is said from then on. */
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

const NOT_ORDERING: Ordering = {
  step: 'closed',
  proofs: [],
  proofsMissing: false,
  approved: false,
  tried: false,
  contact: { name: '', email: '', phone: '', note: '' },
  problem: null,
  placed: null,
};

/** What ordering asks of the slip around it. */
export type OrderingHost = {
  readonly desk: DraftEditor;
  readonly quote: QuoteController;
  readonly api: () => ShopApi | null;
  /** where an order on its way outlives the page; null: nowhere. */
  readonly keeper: () => DraftStorage | null;
  readonly language: () => string;
  /** `ready` where the focus belongs now, if it belongs anywhere. */
  changed(): void;
  focus(selector: string): void;
  placed(order: OrderPlaced): void;
  failed(problem: ShopProblem): void;
};

const newKey = (): string => crypto.randomUUID?.() ?? `${Date.now()}-${Math.random()}`;

/** An order on its way; a repeated attempt with the same key is the same order, however often it arrives. */
type Sent = { readonly request: OrderRequest; readonly key: string };

/** Whether the customer asks for the same, whatever the quote it was offered by. */
const sameOrder = (one: OrderRequest, other: OrderRequest): boolean =>
  canonicalJson([one.slip, one.contact]) === canonicalJson([other.slip, other.contact]);

/** After these nobody knows whether the shop has taken the order; every other problem is a refusal. */
const UNANSWERED: ReadonlySet<string> = new Set(['offline', 'still-running', 'server-fault']);

/** From the finished slip to the order: who, proofs to approve, sending, and what comes back. */
export class OrderingController {
  #host: OrderingHost;
  now: Ordering = NOT_ORDERING;

  constructor(host: OrderingHost) {
    this.#host = host;
    const { contact } = this.#unanswered?.request ?? {};
    if (contact) {
      const { name, email, phone = '', note = '' } = contact;
      this.now = { ...this.now, contact: { name, email, phone, note } };
    }
  }

  /**
   * Was sent, and its answer never came: it goes out again as it was, so that it is never made twice. It is kept with
   * the slip, since the page may be loaded anew meanwhile.
   */
  get #unanswered(): Sent | null {
    const sent = (this.#host.keeper()?.sent ?? this.#sent) as Partial<Sent> | null;
    return typeof sent?.key === 'string' && sent.request?.contact ? (sent as Sent) : null;
  }
  set #unanswered(sent: Sent | null) {
    this.#sent = sent;
    const keeper = this.#host.keeper();
    if (keeper) keeper.sent = sent;
  }
  /** the same, where nothing is kept. */
  #sent: Sent | null = null;

  set = (change: Partial<Ordering>): void => {
    this.now = { ...this.now, ...change };
    this.#host.changed();
  };

  /** Back to the slip; who orders stays known. */
  back = (): void => {
    this.set({ step: 'closed', problem: null });
    this.#host.focus('[part="order-button"]');
  };

  close(): void {
    this.now = NOT_ORDERING;
    this.#host.changed();
  }

  async open(): Promise<void> {
    this.set({
      step: 'open',
      proofs: [],
      proofsMissing: false,
      approved: false,
      tried: false,
      problem: null,
    });
    this.#host.focus('#order-title');
    await this.#drawProofs();
  }

  /** One proof for every view that has something on it. */
  async #drawProofs(): Promise<void> {
    const { desk } = this.#host;
    const slip = toSlip(desk.draft);
    const api = this.#host.api();
    if (!slip || !api) return;
    const name = (text: Parameters<typeof pickText>[0]): string => pickText(text, this.#host.language());
    const views = slip.lines.flatMap((line) => {
      const blank = desk.catalog?.blanks.find((entry) => entry.id === line.blank);
      const faces = [...line.placements, ...(line.names ? [line.names] : [])].map((entry) => entry.face);
      const viewOf = (face: string) => blank?.faces.find(({ id }) => id === face)?.onView.view;
      const shown = faces.map(viewOf);
      return (blank?.views ?? [])
        .filter((view) => shown.includes(view.id))
        .map((view) => ({
          line: line.id,
          view: view.id,
          proof: {
            title: `${name(blank!.name)} – ${name(view.name)}`,
            name: line.names && viewOf(line.names.face) === view.id ? line.names.entries[0]?.text : undefined,
            widthMm: view.widthMm,
            heightMm: view.heightMm,
            drawn: null,
          },
        }));
    });
    // their room is there at once
    this.set({ proofs: views.map(({ proof }) => proof) });
    try {
      const proofs = await Promise.all(
        views.map(async ({ line, view, proof }) => {
          const drawn = await api.proof(slip, line, view);
          return { ...proof, drawn: { ...drawn, url: api.resolve(drawn.url) } };
        }),
      );
      this.set({ proofs });
    } catch {
      this.set({ proofsMissing: true });
    }
  }

  async place(): Promise<void> {
    const { quote } = this.#host;
    const { answer } = quote.view;
    const slip = quote.quotedSlip;
    const api = this.#host.api();
    if (!api || !slip || answer?.kind !== 'quote' || !answer.token || this.now.step === 'sending') return;
    const { contact, proofs } = this.now;
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
    const before = this.#unanswered;
    const sent = before && sameOrder(before.request, request) ? before : { request, key: newKey() };
    this.#unanswered = sent;
    this.set({ step: 'sending', problem: null });
    try {
      const placed = await api.order(sent.request, sent.key);
      this.#unanswered = null;
      this.set({ step: 'placed', placed });
      this.#host.placed(placed);
      this.#host.focus('#order-stamp');
    } catch (error) {
      const problem = asProblem(error);
      if (!UNANSWERED.has(problem.code)) this.#unanswered = null;
      if (problem.code === 'quote-expired') quote.again();
      const renewed = (problem.body as { quote?: Parameters<QuoteController['take']>[0] }).quote;
      if (problem.code === 'day-not-kept' && renewed) quote.take(renewed);
      this.set({ step: 'open', problem });
      this.#host.failed(problem);
    }
  }
}

import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { FindingInput } from '../../src/artwork/index.ts';
import type { ArtworkAnswer, ArtworkFacts, Finding, Remedy } from '../../src/contract/index.ts';
import { UNSENT } from '../draft/draft.ts';
import { asProblem, type ShopApi, ShopProblem } from '../shop/shop-api.ts';
import { type ArtworkItem, newItem } from './artwork-item.ts';
import { LocalFindings } from './local-findings.ts';
import type { LibrarySource, LocalReader } from './local-reader.ts';
import { RemediedArtworks } from './remedied-artworks.ts';
import type { StoredFile } from './upload/file-storage.ts';
import { type UploadCode, uploadWithRetry } from './upload/upload-with-retry.ts';

/** How long after an artwork could not be loaded it is loaded again. */
const RESTORE_RETRY_MS = 3_000;

/**
 * The customer's artworks. Reads each file in the page at once, uploads it, and has its facts and previews, plain and
 * with remedies. Uploads go on by themselves after a lost connection or a reload.
 */
export class ArtworkLibrary implements ReactiveController {
  /** loads the code that uploads files. */
  uploadCode: (() => Promise<UploadCode>) | null = null;
  localReader: LocalReader | null = null;
  /** called when the shop has a file: its new id replaces the old. */
  onUploaded: ((oldId: string, item: ArtworkItem) => void) | null = null;
  /** called when a file of a restored slip cannot be found anywhere. */
  onLost: ((id: string) => void) | null = null;
  readonly #host: ReactiveControllerHost;
  readonly #api: () => ShopApi | null;
  readonly #items = new Map<string, ArtworkItem>();
  readonly #files = new Map<string, File>();
  readonly #objectUrls: string[] = [];
  readonly #online = new EventTarget();
  readonly #remedied: RemediedArtworks;
  readonly #findings: LocalFindings;
  #disconnected = new AbortController();

  constructor(host: ReactiveControllerHost, api: () => ShopApi | null) {
    this.#host = host;
    this.#api = api;
    const source: LibrarySource = {
      file: (id) => this.#files.get(id),
      localReader: () => this.localReader,
      signal: () => this.#disconnected.signal,
      changed: () => host.requestUpdate(),
    };
    this.#remedied = new RemediedArtworks(source, api, (url) => this.#objectUrls.push(url));
    this.#findings = new LocalFindings(source);
    host.addController(this);
  }

  hostConnected(): void {
    if (this.#disconnected.signal.aborted) this.#disconnected = new AbortController();
  }

  hostDisconnected(): void {
    this.#disconnected.abort();
    for (const url of this.#objectUrls.splice(0)) URL.revokeObjectURL(url);
  }

  get items(): readonly ArtworkItem[] {
    return [...this.#items.values()];
  }

  item(id: string): ArtworkItem | undefined {
    return this.#items.get(id);
  }

  /** Facts of an artwork with remedies applied; until they are known, those of the plain artwork, if they are known. */
  factsOf(id: string, remedies: readonly Remedy[]): ArtworkFacts | undefined {
    return this.exactFacts(id, remedies) ?? this.#items.get(id)?.facts ?? undefined;
  }

  /** Facts of an artwork with exactly these remedies applied; null until they are known. */
  exactFacts(id: string, remedies: readonly Remedy[]): ArtworkFacts | null {
    if (remedies.length === 0) return this.#items.get(id)?.facts ?? null;
    return this.#remedied.get(id, remedies)?.facts ?? null;
  }

  /** Address of a picture of an artwork with remedies applied; until it is ready, of the plain artwork. */
  previewOf(id: string, remedies: readonly Remedy[]): string | null {
    const plain = this.#items.get(id)?.preview ?? null;
    return remedies.length === 0 ? plain : (this.#remedied.get(id, remedies)?.preview ?? plain);
  }

  /** What the page's own check finds in a file added here; null until it is known. */
  localFindings(
    id: string,
    remedies: readonly Remedy[],
    input: Omit<FindingInput, 'facts'>,
  ): readonly Finding[] | null {
    return this.#items.get(id)?.facts ? this.#findings.get(id, remedies, input) : null;
  }

  /** Adds a file, reads and uploads it; placements name it by the id of the item. */
  add(file: File): ArtworkItem {
    // unique among all pages, which share the file storage
    const item = this.#addItem(
      `${UNSENT}${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 8)}`,
    );
    this.#addFile(item, file);
    return item;
  }

  /** Uploads a file again that could not be uploaded. */
  retry(id: string): void {
    const item = this.#items.get(id);
    const file = this.#files.get(id);
    if (item && file) void this.#upload(item, file);
  }

  /** The connection is back: goes on with waiting uploads, and retries those that gave up for lack of one. */
  resumeUploads(): void {
    this.#online.dispatchEvent(new Event('online'));
    for (const { id, state, problem } of this.items)
      if (state === 'failed' && problem?.code === 'offline') this.retry(id);
  }

  /** Loads the artworks and files that a restored slip names. */
  async restore(ids: readonly string[]): Promise<void> {
    await Promise.all(
      ids
        .filter((id) => !this.#items.has(id))
        .map((id) => (id.startsWith(UNSENT) ? this.#restoreFile(id) : this.#restoreArtwork(id))),
    );
  }

  #change(item: ArtworkItem, change: Partial<ArtworkItem>): void {
    Object.assign(item, change);
    this.#host.requestUpdate();
  }

  #addItem(id: string): ArtworkItem {
    const item = newItem(id);
    this.#items.set(id, item);
    return item;
  }

  #addFile(item: ArtworkItem, file: File): void {
    this.#files.set(item.id, file);
    this.#change(item, { name: file.name });
    void this.#readLocally(item, file);
    void this.#upload(item, file);
  }

  async #readLocally(item: ArtworkItem, file: File): Promise<void> {
    const local = await this.localReader?.read(file, [], this.#disconnected.signal).catch(() => null);
    if (!local || item.state === 'ready') return;
    this.#objectUrls.push(local.preview);
    this.#change(item, { facts: item.facts ?? local.facts, preview: item.preview ?? local.preview });
  }

  async #upload(item: ArtworkItem, file: File): Promise<void> {
    this.#change(item, { state: 'sending', problem: null });
    const uploaded = await uploadWithRetry(item, file, {
      api: this.#api,
      code: () => this.#loadUploadCode(),
      signal: this.#disconnected.signal,
      online: this.#online,
      change: (change) => this.#change(item, change),
    });
    if (uploaded) this.#setUploaded(item, uploaded.answer, uploaded.api);
  }

  /** Rejects with `offline` when the code does not arrive, so that it is tried again like an upload. */
  async #loadUploadCode(): Promise<UploadCode> {
    if (!this.uploadCode) throw new ShopProblem('server-fault', 'the library has no code to upload files');
    return this.uploadCode().catch((error: unknown) => {
      throw new ShopProblem('offline', String(error));
    });
  }

  #setUploaded(item: ArtworkItem, answer: ArtworkAnswer, api: ShopApi): void {
    const oldId = item.id;
    this.#items.delete(oldId);
    const file = this.#files.get(oldId);
    this.#files.delete(oldId);
    if (file) this.#files.set(answer.id, file);
    this.#findings.renameArtwork(oldId, answer.id);
    this.#change(item, {
      id: answer.id,
      sent: 1,
      state: 'ready',
      problem: null,
      facts: answer.facts,
      source: answer.source,
      preview: api.resolve(answer.preview),
    });
    this.#items.set(answer.id, item);
    this.onUploaded?.(oldId, item);
  }

  async #restoreFile(id: string): Promise<void> {
    const item = this.#addItem(id);
    let stored: StoredFile | null | undefined;
    try {
      stored = await (await this.#loadUploadCode()).fileStorage?.storedFile(id);
    } catch {
      this.#restoreLater(id);
      return;
    }
    const api = this.#api();
    if (stored?.file) this.#addFile(item, stored.file);
    else if (stored?.artwork && api)
      await api.artwork(stored.artwork, this.#disconnected.signal).then(
        (answer) => this.#setUploaded(item, answer, api),
        () => this.#restoreLater(id),
      );
    else {
      this.#items.delete(id);
      this.onLost?.(id);
    }
  }

  async #restoreArtwork(id: string): Promise<void> {
    const api = this.#api();
    if (!api) return;
    const item = this.#addItem(id);
    item.sent = 1;
    try {
      const answer = await api.artwork(id, this.#disconnected.signal);
      this.#change(item, {
        name: answer.name,
        state: 'ready',
        facts: answer.facts,
        source: answer.source,
        preview: api.resolve(answer.preview),
      });
    } catch (error) {
      if (asProblem(error).code === 'not-found') this.#items.delete(id);
      else this.#restoreLater(id);
      this.#host.requestUpdate();
    }
  }

  #restoreLater(id: string): void {
    this.#items.delete(id);
    if (!this.#disconnected.signal.aborted) setTimeout(() => void this.restore([id]), RESTORE_RETRY_MS);
  }
}

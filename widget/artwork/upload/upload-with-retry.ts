import type { ArtworkAnswer } from '../../../src/contract/index.ts';
import { asProblem, type ShopApi } from '../../shop/shop-api.ts';
import type { ArtworkItem } from '../artwork-item.ts';

/** Waits between attempts to upload, ms; after the last attempt the customer is asked. */
const RETRY_MS = [500, 2_000, 5_000, 10_000, 20_000];
/** Problems that may pass without the customer doing anything. */
const TEMPORARY = new Set(['offline', 'busy', 'too-many-requests', 'upload-offset']);

/** Code that is loaded with the first file. */
export type UploadCode = {
  readonly uploadFile: typeof import('./upload-file.ts').uploadFile;
  /** where files are stored until they are uploaded, for a reload; null when they are not. */
  readonly fileStorage: typeof import('./file-storage.ts') | null;
};

export type UploadHost = {
  readonly api: () => ShopApi | null;
  readonly code: () => Promise<UploadCode>;
  readonly signal: AbortSignal;
  /** fires 'online' to end a wait at once. */
  readonly online: EventTarget;
  /** takes progress and problems. */
  change(change: Partial<ArtworkItem>): void;
};

/**
 * Uploads a file and tries again after temporary problems, going on where the last attempt stopped. Null when it was
 * aborted or gave up; the item then has the problem.
 */
export async function uploadWithRetry(
  item: Readonly<ArtworkItem>,
  file: File,
  host: UploadHost,
): Promise<{ readonly answer: ArtworkAnswer; readonly api: ShopApi } | null> {
  const upload: Upload = { id: null };
  for (let attempt = 0; ; ) {
    const api = host.api();
    if (!api) return null;
    const before = item.sent;
    try {
      return { answer: await attemptUpload(api, item.id, file, upload, host), api };
    } catch (error) {
      if (host.signal.aborted) return null;
      const problem = asProblem(error);
      attempt = item.sent > before ? 0 : attempt + 1;
      const wait = RETRY_MS[attempt - 1] ?? RETRY_MS[0]!;
      const again = TEMPORARY.has(problem.code) && attempt <= RETRY_MS.length;
      host.change({ problem, state: again ? 'sending' : 'failed' });
      if (!again) return null;
      await pause(problem.retryAfterS ? problem.retryAfterS * 1000 : wait, host.online);
    }
  }
}

/** An upload in pieces; its id at the shop is null before it has begun. */
type Upload = { id: string | null };

async function attemptUpload(
  api: ShopApi,
  id: string,
  file: File,
  upload: Upload,
  { code, signal, change }: UploadHost,
): Promise<ArtworkAnswer> {
  const { uploadFile, fileStorage } = await code();
  const store = (artwork: string | null): Promise<void> | undefined =>
    fileStorage?.storeFile({ id, file: artwork ? null : file, upload: upload.id, artwork, at: Date.now() });
  return withLock(id, signal, async () => {
    // another page, or this one before a reload, may have uploaded it, or a part of it
    const stored = await fileStorage?.storedFile(id);
    if (stored?.artwork) return api.artwork(stored.artwork, signal);
    upload.id = stored?.upload ?? upload.id;
    if (!stored?.file) void store(null);
    const resumable = {
      id: upload.id,
      started: (started: string) => {
        upload.id = started;
        void store(null);
      },
    };
    const answer = await uploadFile(api, file, resumable, (sent) => change({ sent, problem: null }), signal);
    await store(answer.id);
    return answer;
  });
}

/** Waits for a time, or until the connection is back. */
function pause(ms: number, online: EventTarget): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    online.addEventListener(
      'online',
      () => {
        clearTimeout(timer);
        resolve();
      },
      { once: true },
    );
  });
}

/** Runs `work` while no other page uploads the same file, if the browser has locks. */
function withLock<T>(id: string, signal: AbortSignal, work: () => Promise<T>): Promise<T> {
  return navigator.locks ? navigator.locks.request(`platen-order ${id}`, { signal }, work) : work();
}

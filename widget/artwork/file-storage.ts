/** A file the shop does not have yet, as this browser keeps it; or, once it has, what became of it. */
export type KeptFile = {
  /** the unsent id by which placements name it. */
  readonly id: string;
  readonly file: File | null;
  /** id of its upload at the shop, when it is sent in pieces. */
  readonly upload: string | null;
  /** id of the artwork it became. */
  readonly artwork: string | null;
  /** epoch ms. */
  readonly at: number;
};

const STORE = 'files';
const KEPT_MS = 2 * 86_400_000;
let opening: Promise<IDBDatabase> | null = null;

function database(): Promise<IDBDatabase> {
  opening ??= new Promise<IDBDatabase>((resolve, reject) => {
    const request = indexedDB.open('platen-order', 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: 'id' });
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
  });
  opening.catch(() => {
    opening = null;
  });
  return opening;
}

/** One question to the store; null where the browser lets none be kept, or has no room. */
async function run<T>(
  mode: IDBTransactionMode,
  work: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T | null> {
  try {
    const transaction = (await database()).transaction(STORE, mode);
    return await new Promise<T>((resolve, reject) => {
      const request = work(transaction.objectStore(STORE));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onabort = () => reject(transaction.error);
    });
  } catch {
    return null;
  }
}

/** Keeps a file until the shop has it, so that a reload or crash does not lose it. What is two days old goes. */
export async function keepFile(kept: KeptFile): Promise<void> {
  await run('readwrite', (store) => store.put(kept));
  const all = (await run('readonly', (store) => store.getAll())) as KeptFile[] | null;
  for (const { id, at } of all ?? [])
    if (at < kept.at - KEPT_MS) await run('readwrite', (store) => store.delete(id));
}

/** Null when it was not kept, or no longer is. */
export async function keptFile(id: string): Promise<KeptFile | null> {
  return ((await run('readonly', (store) => store.get(id))) as KeptFile | undefined) ?? null;
}

/** A file stored until the shop has it; after that, the id of its artwork. */
export type StoredFile = {
  /** the `unsent-…` id in placements. */
  readonly id: string;
  readonly file: File | null;
  /** id of its upload at the shop, if it is uploaded in pieces. */
  readonly upload: string | null;
  /** id of the artwork it became. */
  readonly artwork: string | null;
  /** when it was stored, epoch ms. */
  readonly at: number;
};

const STORE = 'files';
const MAX_AGE_MS = 2 * 86_400_000;
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

/** Runs one request; null where the browser allows no storage or has no room. */
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

/** Stores a file, so that a reload or crash does not lose it, and deletes those older than two days. */
export async function storeFile(stored: StoredFile): Promise<void> {
  await run('readwrite', (store) => store.put(stored));
  const all = (await run('readonly', (store) => store.getAll())) as StoredFile[] | null;
  for (const { id, at } of all ?? [])
    if (at < stored.at - MAX_AGE_MS) await run('readwrite', (store) => store.delete(id));
}

/** Null when the file was not stored, or is no longer. */
export async function storedFile(id: string): Promise<StoredFile | null> {
  return ((await run('readonly', (store) => store.get(id))) as StoredFile | undefined) ?? null;
}

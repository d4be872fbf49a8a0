import { createHash, randomUUID } from 'node:crypto';
import { mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';

/** A content-addressed file store. Kept narrow, so that an object store can replace it. */
export type FileStore = {
  /**
   * Stores bytes and returns their SHA-256, 64 lower-case hexadecimal digits. Once it resolves they survive a power loss.
   * Storing the same bytes again, even concurrently, is fine.
   */
  put(bytes: Uint8Array): Promise<string>;
  /** The bytes, or null if there are none with this hash. */
  get(sha256: string): Promise<Buffer | null>;
  has(sha256: string): Promise<boolean>;
  /** True if there was a file to delete. */
  delete(sha256: string): Promise<boolean>;
};

/** Bytes hashed before the event loop may go on: about 1 ms of work. */
const HASH_PIECE_BYTES = 512 * 1024;

/** SHA-256 of bytes, 64 lower-case hexadecimal digits. Does not block the event loop for long. */
export async function contentHash(bytes: Uint8Array): Promise<string> {
  const hash = createHash('sha256');
  for (let at = 0; at < bytes.length; at += HASH_PIECE_BYTES) {
    if (at > 0) await setImmediate();
    hash.update(bytes.subarray(at, at + HASH_PIECE_BYTES));
  }
  return hash.digest('hex');
}

/**
 * A store in a folder: `ab/cd/abcd…`, two levels so that no folder grows too big. A file is written to a temporary name,
 * synced and renamed, and the folder is synced, so that readers see the whole file or none.
 * @param folder created if missing
 */
export async function openFileStore(folder: string): Promise<FileStore> {
  const incoming = join(folder, 'incoming');
  await mkdir(incoming, { recursive: true });

  return {
    async put(bytes) {
      const name = await contentHash(bytes);
      const path = pathOf(folder, name);
      // A file with this name is complete, since only complete files are renamed.
      if ((await sizeOf(path)) === bytes.length) return name;
      const temporary = join(incoming, randomUUID());
      try {
        const handle = await open(temporary, 'wx', 0o640);
        try {
          await handle.writeFile(bytes);
          await handle.sync();
        } finally {
          await handle.close();
        }
        await makeShard(folder, name);
        await rename(temporary, path);
        await syncFolder(shardOf(folder, name));
      } catch (error) {
        await rm(temporary, { force: true });
        throw error;
      }
      return name;
    },

    async get(sha256) {
      if (!isHash(sha256)) return null;
      try {
        return await readFile(pathOf(folder, sha256));
      } catch (error) {
        if (isMissing(error)) return null;
        throw error;
      }
    },

    async has(sha256) {
      return isHash(sha256) && (await sizeOf(pathOf(folder, sha256))) !== null;
    },

    async delete(sha256) {
      if (!isHash(sha256)) return false;
      try {
        await rm(pathOf(folder, sha256));
      } catch (error) {
        if (isMissing(error)) return false;
        throw error;
      }
      await syncFolder(shardOf(folder, sha256));
      return true;
    },
  };
}

/** Only a hash may become part of a path. */
function isHash(name: string): boolean {
  return /^[0-9a-f]{64}$/.test(name);
}

function shardOf(folder: string, name: string): string {
  return join(folder, name.slice(0, 2), name.slice(2, 4));
}

function pathOf(folder: string, name: string): string {
  return join(shardOf(folder, name), name);
}

async function sizeOf(path: string): Promise<number | null> {
  try {
    return (await stat(path)).size;
  } catch (error) {
    if (isMissing(error)) return null;
    throw error;
  }
}

/** Creates a file's folder. A new folder is durable only once its parent is synced. */
async function makeShard(folder: string, name: string): Promise<void> {
  const made = await mkdir(shardOf(folder, name), { recursive: true });
  if (made === undefined) return;
  await syncFolder(join(folder, name.slice(0, 2)));
  await syncFolder(folder);
}

async function syncFolder(path: string): Promise<void> {
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } catch (error) {
    // Some systems cannot sync folders; there the rename has to do.
    if (!isUnsupported(error)) throw error;
  } finally {
    await handle.close();
  }
}

function codeOf(error: unknown): unknown {
  return error instanceof Error && 'code' in error ? error.code : undefined;
}

function isMissing(error: unknown): boolean {
  return codeOf(error) === 'ENOENT';
}

function isUnsupported(error: unknown): boolean {
  const code = codeOf(error);
  return code === 'EINVAL' || code === 'EPERM' || code === 'EISDIR';
}

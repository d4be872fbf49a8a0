import { createHash, randomUUID } from 'node:crypto';
import { link, mkdir, open, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Bounds on resumable uploads, for one shop. */
export type PartialLimits = {
  /** uploads at once, including those just finished. */
  readonly count: number;
  /** declared bytes of all of them together. */
  readonly bytes: number;
  /** how long after its start an upload expires, ms. */
  readonly ageMs: number;
  /** the same for uploads of which nothing came, and for finished ones, ms. */
  readonly idleAgeMs: number;
  /** parts of one upload; each is a file. */
  readonly parts: number;
};

/** What the sender declared at the start. */
export type UploadInfo = {
  readonly lengthBytes: number;
  /** its Upload-Metadata header, as received. */
  readonly metadata: string;
  readonly name: string;
  /** hash of the whole file, 64 lower-case hexadecimal digits; null: not given. */
  readonly sha256: string | null;
  /** epoch ms. */
  readonly createdMs: number;
};

/** The state of an upload. */
export type UploadState = UploadInfo & {
  readonly id: string;
  /** bytes received, from the start without a gap. */
  readonly offset: number;
  /** epoch ms. */
  readonly expiresMs: number;
  /** the artwork made of it; null until it is finished. */
  readonly artwork: string | null;
};

/** What became of a part. */
export type PartOutcome =
  /** `truncated`: the connection broke before the part was complete. */
  | { readonly kind: 'stored'; readonly offset: number; readonly truncated: boolean }
  | { readonly kind: 'wrong-offset'; readonly offset: number }
  | { readonly kind: 'checksum-mismatch' }
  /** the upload expired or was removed meanwhile. */
  | { readonly kind: 'gone' }
  | { readonly kind: 'too-many-parts' };

/** The hash a sender gave for one part. */
export type PartChecksum = { readonly algorithm: 'sha1' | 'sha256'; readonly digest: Buffer };

/** Resumable uploads in a folder that several processes may share. */
export type PartialUploads = {
  /** False if there is no room. Removes expired uploads first. */
  begin(id: string, about: UploadInfo): Promise<boolean>;
  /** Null if there is no such upload, or it has expired at `nowMs`. */
  state(id: string, nowMs: number): Promise<UploadState | null>;
  /**
   * Stores a stream as the part that starts at the state's offset. If the connection breaks, what arrived is stored,
   * unless there is a checksum of the whole part.
   */
  storePart(
    state: UploadState,
    stream: AsyncIterable<Uint8Array>,
    checksum: PartChecksum | null,
  ): Promise<PartOutcome>;
  /** The whole file; null if parts of it are missing. */
  bytes(state: UploadState): Promise<Buffer | null>;
  /** Records the artwork made of it and deletes its parts. */
  finish(id: string, artwork: string): Promise<void>;
  remove(id: string): Promise<void>;
  /** Removes expired uploads. @returns how many */
  sweep(nowMs: number): Promise<number>;
};

const ABOUT = 'about.json';
const ARTWORK = 'artwork';
/** An offset, padded so that names sort by offset. */
const PART = /^\d{15}$/;
const UPLOAD = /^[0-9a-f]{32}$/;
const INCOMING = /^new-(\d+)-/;

/**
 * Opens the folder. An upload is a folder `<id>/` with `about.json` and one file per part, named by its offset. A part is
 * written to a temporary file, synced, and hard-linked to its name. Linking fails if the name exists, so that no lock is
 * needed: of two processes given the same part one stores it, and a process that dies leaves only complete parts.
 */
export function openPartialUploads(folder: string, limits: PartialLimits): PartialUploads {
  const folderOf = (id: string): string => join(folder, id);

  async function read(id: string): Promise<UploadState | null> {
    if (!UPLOAD.test(id)) return null;
    let about: UploadInfo;
    let names: string[];
    try {
      about = JSON.parse(await readFile(join(folderOf(id), ABOUT), 'utf8')) as UploadInfo;
      names = await readdir(folderOf(id));
    } catch (error) {
      if (isMissing(error)) return null;
      throw error;
    }
    const artwork = names.includes(ARTWORK) ? await readFile(join(folderOf(id), ARTWORK), 'utf8') : null;
    const offset = artwork === null ? (await partsOf(id, names)).offset : about.lengthBytes;
    const age = artwork === null && offset > 0 ? limits.ageMs : limits.idleAgeMs;
    return { ...about, id, offset, artwork, expiresMs: about.createdMs + age };
  }

  /** The parts from 0 on, up to the first gap. */
  async function partsOf(
    id: string,
    names: readonly string[],
  ): Promise<{ readonly files: readonly string[]; readonly offset: number }> {
    const files: string[] = [];
    let offset = 0;
    for (const name of names.filter((entry) => PART.test(entry)).sort()) {
      if (Number(name) !== offset) break;
      const path = join(folderOf(id), name);
      offset += (await stat(path)).size;
      files.push(path);
    }
    return { files, offset };
  }

  async function listFolder(): Promise<readonly string[]> {
    try {
      return await readdir(folder);
    } catch (error) {
      if (isMissing(error)) return [];
      throw error;
    }
  }

  /** Removes expired uploads and returns the others. */
  async function sweepExpired(
    nowMs: number,
  ): Promise<{ readonly states: UploadState[]; readonly removed: number }> {
    const states: UploadState[] = [];
    let removed = 0;
    for (const name of await listFolder()) {
      const incoming = INCOMING.exec(name)?.[1];
      const state = incoming === undefined ? await read(name) : null;
      if (state !== null && state.expiresMs > nowMs) states.push(state);
      else if (state !== null || Number(incoming) + limits.idleAgeMs <= nowMs) {
        await rm(folderOf(name), { recursive: true, force: true });
        removed++;
      }
    }
    return { states, removed };
  }

  return {
    async begin(id, about) {
      const { states } = await sweepExpired(about.createdMs);
      const declared = states.reduce((sum, state) => sum + (state.artwork ? 0 : state.lengthBytes), 0);
      if (states.length >= limits.count || declared + about.lengthBytes > limits.bytes) return false;
      const incoming = folderOf(`new-${about.createdMs}-${id}`);
      await mkdir(incoming, { recursive: true });
      await writeFile(join(incoming, ABOUT), JSON.stringify(about));
      await rename(incoming, folderOf(id));
      return true;
    },

    async state(id, nowMs) {
      const state = await read(id);
      return state !== null && state.expiresMs > nowMs ? state : null;
    },

    async storePart(state, stream, checksum) {
      const temporary = join(folderOf(state.id), `taking-${randomUUID()}`);
      const hash = checksum && createHash(checksum.algorithm);
      let size = 0;
      let truncated = false;
      const handle = await open(temporary, 'wx', 0o640).catch((error: unknown) => {
        if (isMissing(error)) return null;
        throw error;
      });
      if (handle === null) return { kind: 'gone' };
      try {
        if ((await readdir(folderOf(state.id))).length > limits.parts) return { kind: 'too-many-parts' };
        try {
          for await (const chunk of stream) {
            await handle.writeFile(chunk);
            hash?.update(chunk);
            size += chunk.length;
          }
        } catch (error) {
          if (!(error instanceof TruncatedBodyError)) throw error;
          truncated = true;
        }
        if (checksum && !hash?.digest().equals(checksum.digest)) return { kind: 'checksum-mismatch' };
        if (size === 0) return { kind: 'stored', offset: state.offset, truncated };
        await handle.datasync();
        await link(temporary, join(folderOf(state.id), String(state.offset).padStart(15, '0')));
        return { kind: 'stored', offset: state.offset + size, truncated };
      } catch (error) {
        if (isMissing(error)) return { kind: 'gone' };
        if (codeOf(error) !== 'EEXIST') throw error;
        return { kind: 'wrong-offset', offset: (await read(state.id))?.offset ?? 0 };
      } finally {
        await handle.close();
        await rm(temporary, { force: true });
      }
    },

    async bytes(state) {
      const { files, offset } = await partsOf(state.id, await readdir(folderOf(state.id)));
      if (offset !== state.lengthBytes) return null;
      return Buffer.concat(await Promise.all(files.map((file) => readFile(file))));
    },

    async finish(id, artwork) {
      const temporary = join(folderOf(id), `taking-${randomUUID()}`);
      await writeFile(temporary, artwork);
      await rename(temporary, join(folderOf(id), ARTWORK));
      for (const name of await readdir(folderOf(id)))
        if (PART.test(name)) await rm(join(folderOf(id), name), { force: true });
    },

    async remove(id) {
      if (UPLOAD.test(id)) await rm(folderOf(id), { recursive: true, force: true });
    },

    sweep: async (nowMs) => (await sweepExpired(nowMs)).removed,
  };
}

/** The connection broke before the body was complete. */
export class TruncatedBodyError extends Error {
  override name = 'CutError';
}

function codeOf(error: unknown): unknown {
  return error instanceof Error && 'code' in error ? error.code : undefined;
}

function isMissing(error: unknown): boolean {
  return codeOf(error) === 'ENOENT' || codeOf(error) === 'ENOTDIR';
}

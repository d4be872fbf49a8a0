import { createHash, randomUUID } from 'node:crypto';
import { link, mkdir, open, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Bounds on files that are on their way in several parts, for one shop. */
export type PartialLimits = {
  /** uploads at once, those just finished included. */
  readonly count: number;
  /** of all of them together, as declared, bytes. */
  readonly bytes: number;
  /** an upload is given up so long after it was begun, ms. */
  readonly ageMs: number;
  /** likewise when nothing of it ever came, and when it is finished, ms. */
  readonly idleAgeMs: number;
  /** parts of one upload: each is a file. */
  readonly parts: number;
};

/** What the sender said when it began. */
export type UploadInfo = {
  readonly lengthBytes: number;
  /** its Upload-Metadata, as it came. */
  readonly metadata: string;
  readonly name: string;
  /** hash of the whole file, 64 lower-case hexadecimal digits; null: not told. */
  readonly sha256: string | null;
  /** epoch ms. */
  readonly createdMs: number;
};

/** An upload as it stands. */
export type UploadState = UploadInfo & {
  readonly id: string;
  /** bytes that are here, from the start without a gap. */
  readonly offset: number;
  /** epoch ms after which it is given up. */
  readonly expiresMs: number;
  /** the artwork that was made of it; null while it is not finished. */
  readonly artwork: string | null;
};

/** What came of a part. */
export type PartOutcome =
  | { readonly kind: 'kept'; readonly offset: number; readonly cut: boolean }
  | { readonly kind: 'elsewhere'; readonly offset: number }
  | { readonly kind: 'altered' }
  /** it was given up meanwhile. */
  | { readonly kind: 'gone' }
  | { readonly kind: 'too-many-parts' };

/** Hash a sender gave for one part. */
export type PartChecksum = { readonly algorithm: 'sha1' | 'sha256'; readonly digest: Buffer };

/** Files on their way in parts, in a folder that several processes may share. */
export type PartialUploads = {
  /** False when there is no room. What is too old is swept first. */
  begin(id: string, about: UploadInfo): Promise<boolean>;
  /** Null when there is none of that name, or it is too old at `nowMs`. */
  state(id: string, nowMs: number): Promise<UploadState | null>;
  /**
   * Keeps what comes as the part that starts at the state's offset. Where the stream is cut, what had come by then is
   * kept, unless a checksum was given for the whole part.
   */
  storePart(
    state: UploadState,
    stream: AsyncIterable<Uint8Array>,
    checksum: PartChecksum | null,
  ): Promise<PartOutcome>;
  /** The whole file; null when parts of it are missing. */
  bytes(state: UploadState): Promise<Buffer | null>;
  /** Notes what became of it and lets go of its parts. */
  finish(id: string, artwork: string): Promise<void>;
  remove(id: string): Promise<void>;
  /** Takes away what is too old. @returns how many */
  sweep(nowMs: number): Promise<number>;
};

const ABOUT = 'about.json';
const ARTWORK = 'artwork';
/** Names sort as their offsets do. */
const PART = /^\d{15}$/;
const UPLOAD = /^[0-9a-f]{32}$/;
const INCOMING = /^new-(\d+)-/;

/**
 * Opens the folder. An upload is a folder `<id>/` with `about.json` and one file for each part, named by its offset. A part is
 * written beside its place, synced, and linked to its name: a link fails where one is already, so that of two
 * processes given the same part one keeps it, no lock is needed, and a process that dies leaves whole parts alone.
 */
export function openPartialUploads(folder: string, limits: PartialLimits): PartialUploads {
  const placeOf = (id: string): string => join(folder, id);

  async function read(id: string): Promise<UploadState | null> {
    if (!UPLOAD.test(id)) return null;
    let about: UploadInfo;
    let names: string[];
    try {
      about = JSON.parse(await readFile(join(placeOf(id), ABOUT), 'utf8')) as UploadInfo;
      names = await readdir(placeOf(id));
    } catch (error) {
      if (isMissing(error)) return null;
      throw error;
    }
    const artwork = names.includes(ARTWORK) ? await readFile(join(placeOf(id), ARTWORK), 'utf8') : null;
    const offset = artwork === null ? (await partsOf(id, names)).offset : about.lengthBytes;
    const age = artwork === null && offset > 0 ? limits.ageMs : limits.idleAgeMs;
    return { ...about, id, offset, artwork, expiresMs: about.createdMs + age };
  }

  /** The parts that follow each other from 0 on. */
  async function partsOf(
    id: string,
    names: readonly string[],
  ): Promise<{ readonly files: readonly string[]; readonly offset: number }> {
    const files: string[] = [];
    let offset = 0;
    for (const name of names.filter((entry) => PART.test(entry)).sort()) {
      if (Number(name) !== offset) break;
      const path = join(placeOf(id), name);
      offset += (await stat(path)).size;
      files.push(path);
    }
    return { files, offset };
  }

  async function all(): Promise<readonly string[]> {
    try {
      return await readdir(folder);
    } catch (error) {
      if (isMissing(error)) return [];
      throw error;
    }
  }

  /** What is there and young enough; the rest is taken away. */
  async function sweepExpired(
    nowMs: number,
  ): Promise<{ readonly states: UploadState[]; readonly removed: number }> {
    const states: UploadState[] = [];
    let removed = 0;
    for (const name of await all()) {
      const unborn = INCOMING.exec(name)?.[1];
      const state = unborn === undefined ? await read(name) : null;
      if (state !== null && state.expiresMs > nowMs) states.push(state);
      else if (state !== null || Number(unborn) + limits.idleAgeMs <= nowMs) {
        await rm(placeOf(name), { recursive: true, force: true });
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
      const unborn = placeOf(`new-${about.createdMs}-${id}`);
      await mkdir(unborn, { recursive: true });
      await writeFile(join(unborn, ABOUT), JSON.stringify(about));
      await rename(unborn, placeOf(id));
      return true;
    },

    async state(id, nowMs) {
      const state = await read(id);
      return state !== null && state.expiresMs > nowMs ? state : null;
    },

    async storePart(state, stream, checksum) {
      const temporary = join(placeOf(state.id), `taking-${randomUUID()}`);
      const hash = checksum && createHash(checksum.algorithm);
      let size = 0;
      let cut = false;
      const handle = await open(temporary, 'wx', 0o640).catch((error: unknown) => {
        if (isMissing(error)) return null;
        throw error;
      });
      if (handle === null) return { kind: 'gone' };
      try {
        if ((await readdir(placeOf(state.id))).length > limits.parts) return { kind: 'too-many-parts' };
        try {
          for await (const chunk of stream) {
            await handle.writeFile(chunk);
            hash?.update(chunk);
            size += chunk.length;
          }
        } catch (error) {
          if (!(error instanceof TruncatedBodyError)) throw error;
          cut = true;
        }
        if (checksum && !hash?.digest().equals(checksum.digest)) return { kind: 'altered' };
        if (size === 0) return { kind: 'kept', offset: state.offset, cut };
        await handle.datasync();
        await link(temporary, join(placeOf(state.id), String(state.offset).padStart(15, '0')));
        return { kind: 'kept', offset: state.offset + size, cut };
      } catch (error) {
        if (isMissing(error)) return { kind: 'gone' };
        if (codeOf(error) !== 'EEXIST') throw error;
        return { kind: 'elsewhere', offset: (await read(state.id))?.offset ?? 0 };
      } finally {
        await handle.close();
        await rm(temporary, { force: true });
      }
    },

    async bytes(state) {
      const { files, offset } = await partsOf(state.id, await readdir(placeOf(state.id)));
      if (offset !== state.lengthBytes) return null;
      return Buffer.concat(await Promise.all(files.map((file) => readFile(file))));
    },

    async finish(id, artwork) {
      const temporary = join(placeOf(id), `taking-${randomUUID()}`);
      await writeFile(temporary, artwork);
      await rename(temporary, join(placeOf(id), ARTWORK));
      for (const name of await readdir(placeOf(id)))
        if (PART.test(name)) await rm(join(placeOf(id), name), { force: true });
    },

    async remove(id) {
      if (UPLOAD.test(id)) await rm(placeOf(id), { recursive: true, force: true });
    },

    sweep: async (nowMs) => (await sweepExpired(nowMs)).removed,
  };
}

/** The sender is gone before its part was whole. */
export class TruncatedBodyError extends Error {
  override name = 'CutError';
}

function codeOf(error: unknown): unknown {
  return error instanceof Error && 'code' in error ? error.code : undefined;
}

function isMissing(error: unknown): boolean {
  return codeOf(error) === 'ENOENT' || codeOf(error) === 'ENOTDIR';
}

import { LRUCache } from 'lru-cache';
import { FACTS_VERSION } from '../../src/artwork/index.ts';
import { canonicalJson } from '../../src/canonical-json.ts';
import type { ArtworkAnswer, Remedy, Slip } from '../../src/contract/index.ts';
import type { ArtworkOf, KnownArtwork } from '../../src/quote/index.ts';
import { contentHash, type FilePool, type FileRefusal, type FileStore, isRefusal } from '../files/index.ts';
import { sha256 } from '../sha256.ts';
import type { Removal, StoredArtwork, StoredRaster } from '../store/artworks.ts';
import type { Store } from '../store/store.ts';

/** An artwork with some remedies applied, as stored. */
export type MeasuredArtwork = { readonly artwork: StoredArtwork; readonly raster: StoredRaster };

/** An artwork and whether it was new, or why its file was refused. */
export type ArtworkOutcome = (MeasuredArtwork & { readonly isNew: boolean }) | FileRefusal;

/** Facts in the cache, at most 100 KB each. A slip names at most 400 artworks. */
const MAX_CACHED_FACTS = 1000;
const NO_REMEDIES_HASH = sha256('[]');

export type ArtworkServiceDeps = {
  readonly store: Store;
  readonly pool: FilePool;
  /** the files of one shop. */
  readonly filesOf: (shop: string) => Promise<FileStore>;
  /** epoch ms. */
  readonly now: () => number;
};

/** Customers' artworks, read and measured once for each set of remedies. */
export class ArtworkService {
  readonly #deps: ArtworkServiceDeps;
  /** by shop, artwork and remedies. The facts of a content hash never change. */
  readonly #facts = new LRUCache<string, KnownArtwork>({ max: MAX_CACHED_FACTS });
  /** remedies being applied now, so that the same request twice (a slider dragged back and forth) is worked out once. */
  readonly #pending = new Map<string, Promise<ArtworkOutcome | undefined>>();

  constructor(deps: ArtworkServiceDeps) {
    this.#deps = deps;
  }

  /** Adds a file. The same bytes are the same artwork, whatever their name. */
  async add(shop: string, bytes: Uint8Array, name: string): Promise<ArtworkOutcome> {
    return this.#add(shop, await contentHash(bytes), bytes, name);
  }

  /**
   * The same, if the file has the hash its sender gave.
   * @param sha256 64 lower-case hexadecimal digits; null: no hash was given
   */
  async addIfIntact(
    shop: string,
    bytes: Uint8Array,
    name: string,
    sha256: string | null,
  ): Promise<ArtworkOutcome | 'altered'> {
    const id = await contentHash(bytes);
    return sha256 !== null && sha256 !== id ? 'altered' : this.#add(shop, id, bytes, name);
  }

  async #add(shop: string, id: string, bytes: Uint8Array, name: string): Promise<ArtworkOutcome> {
    const { store, pool, filesOf } = this.#deps;
    const stored = await this.get(shop, id, []);
    if (stored !== undefined) return { ...stored, isNew: false };
    const read = await pool.read(bytes, { name });
    if (isRefusal(read)) return read;
    const files = await filesOf(shop);
    const put = async () => {
      const [, raster, preview] = await Promise.all([
        files.put(bytes),
        files.put(read.raster),
        files.put(read.preview),
      ]);
      return { raster, preview };
    };
    const { raster, preview } = await put();
    const artwork: StoredArtwork = { id, name, source: read.source, createdAt: this.#instant() };
    const measured: StoredRaster = {
      artwork: id,
      remediesHash: NO_REMEDIES_HASH,
      remedies: [],
      facts: read.facts,
      raster,
      preview,
    };
    await store.write(shop, async (parts) => {
      await parts.artworks.add(shop, artwork);
      await parts.artworks.putRaster(shop, measured);
    });
    // If the same artwork was removed meanwhile, its files may be gone: write them again.
    if (!(await files.has(id)) || !(await files.has(raster)) || !(await files.has(preview))) await put();
    this.#remember(shop, artwork, measured);
    return { artwork, raster: measured, isNew: true };
  }

  /** An artwork with these remedies, if they were applied before. */
  async get(shop: string, id: string, remedies: readonly Remedy[]): Promise<MeasuredArtwork | undefined> {
    const { artworks } = this.#deps.store;
    const raster = await artworks.raster(shop, id, remediesHash(remedies));
    if (raster === undefined || raster.facts.version !== FACTS_VERSION) return undefined;
    const artwork = await artworks.get(shop, id);
    return artwork && { artwork, raster };
  }

  /** An artwork with these remedies, applied now if they were not before; undefined if there is no such artwork. */
  async withRemedies(
    shop: string,
    id: string,
    remedies: readonly Remedy[],
  ): Promise<ArtworkOutcome | undefined> {
    const stored = await this.get(shop, id, remedies);
    if (stored !== undefined) return { ...stored, isNew: false };
    const key = keyOf(shop, id, remedies);
    let pending = this.#pending.get(key);
    if (pending === undefined) {
      pending = this.#applyRemedies(shop, id, remedies).finally(() => this.#pending.delete(key));
      this.#pending.set(key, pending);
    }
    return pending;
  }

  async #applyRemedies(
    shop: string,
    id: string,
    remedies: readonly Remedy[],
  ): Promise<ArtworkOutcome | undefined> {
    const { store, pool, filesOf } = this.#deps;
    const artwork = await store.artworks.get(shop, id);
    if (artwork === undefined) return undefined;
    const files = await filesOf(shop);
    const bytes = await files.get(id);
    if (bytes === null) throw new Error(`the file of artwork ${id} of shop '${shop}' is missing`);
    const read = await pool.read(bytes, { name: artwork.name, remedies });
    if (isRefusal(read)) return read;
    const [raster, preview] = await Promise.all([files.put(read.raster), files.put(read.preview)]);
    const measured: StoredRaster = {
      artwork: id,
      remediesHash: remediesHash(remedies),
      remedies: [...remedies],
      facts: read.facts,
      raster,
      preview,
    };
    const exists = await store.write(shop, async (parts) => {
      if ((await parts.artworks.get(shop, id)) === undefined) return false;
      await parts.artworks.putRaster(shop, measured);
      return true;
    });
    if (!exists) return undefined;
    this.#remember(shop, artwork, measured);
    return { artwork, raster: measured, isNew: true };
  }

  /**
   * What a quote needs of the artworks on a slip. Remedies that only the customer's browser has tried are applied now.
   * Missing artworks are left out; the first file that cannot be read is returned as its refusal.
   */
  async forSlip(shop: string, slip: Slip): Promise<ArtworkOf | FileRefusal> {
    for (const { placements } of slip.lines)
      for (const { artwork, remedies } of placements) {
        if (this.#facts.get(keyOf(shop, artwork, remedies)) !== undefined) continue;
        const found = await this.withRemedies(shop, artwork, remedies);
        if (found === undefined) continue;
        if (isRefusal(found)) return found;
        this.#remember(shop, found.artwork, found.raster);
      }
    return (artwork, remedies) => this.#facts.get(keyOf(shop, artwork, remedies));
  }

  async bytes(shop: string, file: string): Promise<Buffer | null> {
    return (await this.#deps.filesOf(shop)).get(file);
  }

  /** Deletes an artwork and its pictures, unless an order uses it. */
  async remove(shop: string, id: string): Promise<Removal> {
    const { store, filesOf } = this.#deps;
    const files = await filesOf(shop);
    return store.write(shop, async (parts) => {
      const pictures = [id, ...(await parts.artworks.files(shop, id))];
      const removal = await parts.artworks.remove(shop, id);
      if (removal !== 'removed') return removal;
      const inUse = await parts.artworks.filesInUse(shop, pictures);
      for (const file of pictures) if (!inUse.has(file)) await files.delete(file);
      return removal;
    });
  }

  #remember(shop: string, artwork: StoredArtwork, raster: StoredRaster): void {
    this.#facts.set(keyOf(shop, artwork.id, raster.remedies), {
      facts: raster.facts,
      source: artwork.source,
    });
  }

  #instant(): string {
    return new Date(this.#deps.now()).toISOString();
  }
}

/** An artwork as the API describes it. @param base address of the shop's routes, such as `/v1/shops/one` */
export function artworkAnswer(base: string, { artwork, raster }: MeasuredArtwork): ArtworkAnswer {
  const address = `${base}/artworks/${artwork.id}`;
  return {
    id: artwork.id,
    name: artwork.name,
    source: artwork.source,
    remedies: raster.remedies,
    facts: raster.facts,
    preview:
      raster.remedies.length === 0
        ? `${address}/preview.png`
        : `${address}/mended/${raster.remediesHash}.png`,
  };
}

function remediesHash(remedies: readonly Remedy[]): string {
  return remedies.length === 0 ? NO_REMEDIES_HASH : sha256(canonicalJson(remedies));
}

function keyOf(shop: string, artwork: string, remedies: readonly Remedy[]): string {
  return remedies.length === 0 ? `${shop} ${artwork}` : `${shop} ${artwork} ${remediesHash(remedies)}`;
}

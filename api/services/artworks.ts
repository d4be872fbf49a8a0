import { LRUCache } from 'lru-cache';
import { FACTS_VERSION } from '../../src/artwork/index.ts';
import { canonicalJson } from '../../src/canonical-json.ts';
import type { ArtworkAnswer, Remedy, Slip } from '../../src/contract/index.ts';
import type { ArtworkOf, KnownArtwork } from '../../src/quote/index.ts';
import { contentHash, type FilePool, type FileRefusal, type FileStore, isRefusal } from '../files/index.ts';
import { sha256 } from '../sha256.ts';
import type { Removal, StoredArtwork, StoredRaster } from '../store/artworks.ts';
import type { Store } from '../store/store.ts';

/** An artwork with some mends, as kept. */
export type MeasuredArtwork = { readonly artwork: StoredArtwork; readonly raster: StoredRaster };

/** What came of reading a file: it, whether it was new, or why not. */
export type ArtworkOutcome = (MeasuredArtwork & { readonly isNew: boolean }) | FileRefusal;

/** Facts kept ready; those of one artwork hold some 100 KB at most. A slip names at most 400. */
const MAX_CACHED_FACTS = 1000;
const NO_REMEDIES_HASH = sha256('[]');

/** What the shelf stands on. */
export type ArtworkServiceDeps = {
  readonly store: Store;
  readonly pool: FilePool;
  /** the files of one shop. */
  readonly filesOf: (shop: string) => Promise<FileStore>;
  /** epoch ms. */
  readonly now: () => number;
};

/** A shop's artworks: read and measured once for each way to mend them. */
export class ArtworkService {
  readonly #deps: ArtworkServiceDeps;
  /** by shop, artwork and remedies. Facts of a content hash never change. */
  readonly #facts = new LRUCache<string, KnownArtwork>({ max: MAX_CACHED_FACTS });
  /** mends being worked out, so that a customer who drags a slider back and forth does not pay twice. */
  readonly #pending = new Map<string, Promise<ArtworkOutcome | undefined>>();

  constructor(deps: ArtworkServiceDeps) {
    this.#deps = deps;
  }

  /** Takes in a file. The same bytes give the same artwork, whatever they are called. */
  async add(shop: string, bytes: Uint8Array, name: string): Promise<ArtworkOutcome> {
    return this.#add(shop, await contentHash(bytes), bytes, name);
  }

  /** Likewise, unless its bytes are not those the sender hashed. @param sha256 64 lower-case hexadecimal digits */
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
    const kept = await this.get(shop, id, []);
    if (kept !== undefined) return { ...kept, isNew: false };
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
    // Whoever took the same artwork away meanwhile may have taken its files, too.
    if (!(await files.has(id)) || !(await files.has(raster)) || !(await files.has(preview))) await put();
    this.#remember(shop, artwork, measured);
    return { artwork, raster: measured, isNew: true };
  }

  /** An artwork with these mends, if that has been worked out. */
  async get(shop: string, id: string, remedies: readonly Remedy[]): Promise<MeasuredArtwork | undefined> {
    const { artworks } = this.#deps.store;
    const raster = await artworks.raster(shop, id, remediesHash(remedies));
    if (raster === undefined || raster.facts.version !== FACTS_VERSION) return undefined;
    const artwork = await artworks.get(shop, id);
    return artwork && { artwork, raster };
  }

  /** An artwork with these mends, worked out now where it has not been; undefined when there is no such artwork. */
  async withRemedies(
    shop: string,
    id: string,
    remedies: readonly Remedy[],
  ): Promise<ArtworkOutcome | undefined> {
    const kept = await this.get(shop, id, remedies);
    if (kept !== undefined) return { ...kept, isNew: false };
    const key = keyOf(shop, id, remedies);
    let working = this.#pending.get(key);
    if (working === undefined) {
      working = this.#applyRemedies(shop, id, remedies).finally(() => this.#pending.delete(key));
      this.#pending.set(key, working);
    }
    return working;
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
    const stillThere = await store.write(shop, async (parts) => {
      if ((await parts.artworks.get(shop, id)) === undefined) return false;
      await parts.artworks.putRaster(shop, measured);
      return true;
    });
    if (!stillThere) return undefined;
    this.#remember(shop, artwork, measured);
    return { artwork, raster: measured, isNew: true };
  }

  /**
   * What a quote needs of the artworks its slip names. Mends that a customer's browser tried by itself are worked out
   * now; what there is no artwork for stays unknown, and the first that cannot be read is answered as such.
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

  /** Takes an artwork and its pictures away, unless an order needs it. */
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

/** How an artwork is told of. @param base address of the shop's routes, such as `/v1/shops/one` */
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

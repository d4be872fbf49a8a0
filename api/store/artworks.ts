import type { Kysely } from 'kysely';
import type { z } from 'zod';
import type { ArtworkFacts, Remedies, SourceInfo } from '../../src/contract/index.ts';
import type { Tables } from './schema.ts';

/** A file as the customer sent it. */
export type StoredArtwork = {
  /** SHA-256 of the bytes. */
  readonly id: string;
  readonly name: string;
  readonly source: SourceInfo;
  readonly createdAt: string;
};

/** Its measured pixels after some remedies (possibly none). `raster` and `preview` are content hashes. */
export type StoredRaster = {
  readonly artwork: string;
  /** SHA-256 of the remedies as canonical JSON. */
  readonly remediesHash: string;
  readonly remedies: z.infer<typeof Remedies>;
  readonly facts: ArtworkFacts;
  readonly raster: string;
  readonly preview: string;
};

/** What became of a request to delete an artwork. */
export type Removal = 'removed' | 'unknown' | 'in-use';

/** Artworks with their measurements, and proofs. */
export class Artworks {
  readonly #db: Kysely<Tables>;

  constructor(db: Kysely<Tables>) {
    this.#db = db;
  }

  async get(shop: string, id: string): Promise<StoredArtwork | undefined> {
    const row = await this.#db
      .selectFrom('artworks')
      .selectAll()
      .where('shop', '=', shop)
      .where('id', '=', id)
      .executeTakeFirst();
    return row && { id: row.id, name: row.name, source: JSON.parse(row.source), createdAt: row.created_at };
  }

  /** Which of these are known. */
  async known(shop: string, ids: readonly string[]): Promise<Set<string>> {
    if (ids.length === 0) return new Set();
    const rows = await this.#db
      .selectFrom('artworks')
      .select('id')
      .where('shop', '=', shop)
      .where('id', 'in', [...ids])
      .execute();
    return new Set(rows.map(({ id }) => id));
  }

  /** Adds an artwork; an existing one stays as it is. */
  async add(shop: string, artwork: StoredArtwork): Promise<void> {
    await this.#db
      .insertInto('artworks')
      .values({
        shop,
        id: artwork.id,
        name: artwork.name,
        source: JSON.stringify(artwork.source),
        created_at: artwork.createdAt,
      })
      .onConflict((oc) => oc.doNothing())
      .execute();
  }

  async raster(shop: string, artwork: string, remediesHash: string): Promise<StoredRaster | undefined> {
    const row = await this.#db
      .selectFrom('artwork_rasters')
      .selectAll()
      .where('shop', '=', shop)
      .where('artwork', '=', artwork)
      .where('remedies_hash', '=', remediesHash)
      .executeTakeFirst();
    return (
      row && {
        artwork: row.artwork,
        remediesHash: row.remedies_hash,
        remedies: JSON.parse(row.remedies),
        facts: JSON.parse(row.facts),
        raster: row.raster,
        preview: row.preview,
      }
    );
  }

  /** Stores measurements, replacing those of an older version. */
  async putRaster(shop: string, raster: StoredRaster): Promise<void> {
    const measured = {
      facts_version: raster.facts.version,
      facts: JSON.stringify(raster.facts),
      raster: raster.raster,
      preview: raster.preview,
    };
    await this.#db
      .insertInto('artwork_rasters')
      .values({
        shop,
        artwork: raster.artwork,
        remedies_hash: raster.remediesHash,
        remedies: JSON.stringify(raster.remedies),
        ...measured,
      })
      .onConflict((oc) => oc.columns(['shop', 'artwork', 'remedies_hash']).doUpdateSet(measured))
      .execute();
  }

  /** Content hashes of all rasters and previews of an artwork. */
  async files(shop: string, artwork: string): Promise<string[]> {
    const rows = await this.#db
      .selectFrom('artwork_rasters')
      .select(['raster', 'preview'])
      .where('shop', '=', shop)
      .where('artwork', '=', artwork)
      .execute();
    return rows.flatMap(({ raster, preview }) => [raster, preview]);
  }

  /** Those of these files that the shop still refers to. */
  async filesInUse(shop: string, files: readonly string[]): Promise<Set<string>> {
    if (files.length === 0) return new Set();
    const list = [...files];
    const rasters = await this.#db
      .selectFrom('artwork_rasters')
      .select(['raster', 'preview'])
      .where('shop', '=', shop)
      .where((eb) => eb.or([eb('raster', 'in', list), eb('preview', 'in', list)]))
      .execute();
    const known = await this.known(shop, list);
    return new Set([...known, ...rasters.flatMap(({ raster, preview }) => [raster, preview])]);
  }

  /** Deletes an artwork, unless an order uses it. */
  async remove(shop: string, id: string): Promise<Removal> {
    const used = await this.#db
      .selectFrom('order_artworks')
      .select('artwork')
      .where('shop', '=', shop)
      .where('artwork', '=', id)
      .limit(1)
      .executeTakeFirst();
    if (used !== undefined) return 'in-use';
    const { numDeletedRows } = await this.#db
      .deleteFrom('artworks')
      .where('shop', '=', shop)
      .where('id', '=', id)
      .executeTakeFirst();
    return numDeletedRows > 0n ? 'removed' : 'unknown';
  }

  async addProof(
    shop: string,
    proof: { hash: string; subject: string; line: string; view: string; createdAt: string },
  ): Promise<void> {
    await this.#db
      .insertInto('proofs')
      .values({
        shop,
        hash: proof.hash,
        subject: proof.subject,
        line: proof.line,
        view: proof.view,
        created_at: proof.createdAt,
      })
      .onConflict((oc) => oc.doNothing())
      .execute();
  }

  /** The subjects that these proofs show, by hash. */
  async proofSubjects(shop: string, hashes: readonly string[]): Promise<Map<string, Set<string>>> {
    const subjects = new Map<string, Set<string>>();
    if (hashes.length === 0) return subjects;
    const rows = await this.#db
      .selectFrom('proofs')
      .select(['hash', 'subject'])
      .where('shop', '=', shop)
      .where('hash', 'in', [...hashes])
      .execute();
    for (const { hash, subject } of rows) {
      const known = subjects.get(hash);
      if (known === undefined) subjects.set(hash, new Set([subject]));
      else known.add(subject);
    }
    return subjects;
  }
}

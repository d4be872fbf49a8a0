import { type Kysely, sql } from 'kysely';
import { MIGRATIONS } from './migrations.ts';
import type { Tables } from './schema.ts';

/** Our lock among PostgreSQL's advisory locks: an arbitrary number that must never change. */
const LOCK = 7_306_512_834;

/**
 * Brings the tables up to date in one transaction that only one process can be in; the others then find nothing to do. On
 * SQLite the transaction is the lock (it begins immediately), on PostgreSQL an advisory lock that ends with it.
 *
 * Not Kysely's `Migrator`: on SQLite it takes no lock and no transaction, and it does not run inside one of ours. Of four
 * processes started at once on an empty file, two failed ("database is locked", "table already exists"). Its records
 * would be in another table, too, where earlier releases would not see that a store is too new for them.
 *
 * @param writer on SQLite, the connection whose transactions begin immediately
 * @throws Error when a newer version of this program changed the tables
 */
export async function migrate(
  writer: Kysely<Tables>,
  kind: 'sqlite' | 'postgres',
  now: string,
): Promise<void> {
  await writer.transaction().execute(async (db) => {
    if (kind === 'postgres') await sql`select pg_advisory_xact_lock(${LOCK})`.execute(db);
    await sql`create table if not exists migrations (name text primary key, applied_at text not null)`.execute(
      db,
    );
    const { rows } = await sql<{ name: string }>`select name from migrations`.execute(db);
    const applied = new Set(rows.map(({ name }) => name));
    const unknown = [...applied].filter((name) => !MIGRATIONS.some((migration) => migration.name === name));
    if (unknown.length > 0)
      throw new Error(
        `the store was changed by a newer version of this program (${unknown.join(', ')}); run that version`,
      );
    for (const { name, up } of MIGRATIONS) {
      if (applied.has(name)) continue;
      await up(db);
      await sql`insert into migrations (name, applied_at) values (${name}, ${now})`.execute(db);
    }
  });
}

import { type Kysely, sql } from 'kysely';
import { MIGRATIONS } from './migrations.ts';
import type { Tables } from './schema.ts';

/** Names our lock among PostgreSQL's advisory locks; any number will do as long as it stays. */
const LOCK = 7_306_512_834;

/**
 * Brings the tables up to date, all in one transaction that no second process can be in: whoever comes later finds
 * nothing left to do. On SQLite the transaction itself is the lock (it begins by taking the right to write), on
 * PostgreSQL an advisory lock that ends with it.
 *
 * @param writer on SQLite, the connection whose transactions begin immediately
 * @throws Error when the tables were made by a newer version of this program
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

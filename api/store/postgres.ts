import { Kysely, PostgresDialect } from 'kysely';
import pg from 'pg';
import type { Tables } from './schema.ts';

const INT8 = 20;

/**
 * Opens a pool of connections. 8-byte integers are read as numbers, as from SQLite; ours are epoch seconds and counts, far
 * below the limit of exact numbers. Reading a larger one throws a RangeError.
 *
 * @param connections at most; default 10
 */
export function openPostgres(url: string, connections = 10): Kysely<Tables> {
  const pool = new pg.Pool({
    connectionString: url,
    max: connections,
    types: {
      getTypeParser: ((oid: number, format?: 'text' | 'binary') =>
        oid === INT8 && format !== 'binary'
          ? exactNumber
          : pg.types.getTypeParser(oid, format as 'text')) as typeof pg.types.getTypeParser,
    },
  });
  // An idle connection that breaks is replaced at its next use. Without a listener the error would end the process.
  pool.on('error', () => {});
  return new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
}

function exactNumber(text: string): number {
  const value = Number(text);
  if (!Number.isSafeInteger(value)) throw new RangeError(`${text} is too large to be read exactly`);
  return value;
}

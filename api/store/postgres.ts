import { Kysely, PostgresDialect } from 'kysely';
import pg from 'pg';
import type { Tables } from './schema.ts';

const INT8 = 20;

/**
 * Opens a pool of connections. Whole numbers of 8 bytes arrive as numbers, as they do from SQLite; ours are epoch seconds
 * and counts, far below what a number holds exactly.
 *
 * @param connections at most, at once; default 10
 * @throws RangeError when such a number came back that a number cannot hold exactly
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
  // A connection cut while idle is replaced at its next use; without a listener it would end the process.
  pool.on('error', () => {});
  return new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
}

function exactNumber(text: string): number {
  const value = Number(text);
  if (!Number.isSafeInteger(value)) throw new RangeError(`${text} is too large to be read exactly`);
  return value;
}

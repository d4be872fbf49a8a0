import { setTimeout as sleep } from 'node:timers/promises';
import Database from 'better-sqlite3';
import {
  CompiledQuery,
  type DatabaseConnection,
  Kysely,
  type SqliteDatabase,
  SqliteDialect,
  SqliteDriver,
  type SqliteStatement,
} from 'kysely';
import type { Tables } from './schema.ts';

/** How long a write waits for another process's, ms. Transactions here take a few ms each. */
const WRITE_WAIT_MS = 10_000;
/** How long SQLite itself waits, blocking our thread, before we wait without blocking. */
const BLOCKING_WAIT_MS = 10;
const MAX_STATEMENTS = 500;

/** Somebody else kept the right to write for too long. */
export class StoreBusyError extends Error {
  override name = 'StoreBusyError';
}

/** Opens the two connections of a process: many read at once beside the one that writes (WAL). */
export async function openSqlite(path: string): Promise<{ reader: Kysely<Tables>; writer: Kysely<Tables> }> {
  const writing = await connect(path);
  const reading = await connect(path);
  reading.pragma('query_only = ON');
  const dialect = (database: Database.Database) => new ImmediateSqliteDialect(database);
  return {
    writer: new Kysely<Tables>({ dialect: dialect(writing) }),
    reader: new Kysely<Tables>({ dialect: dialect(reading) }),
  };
}

/**
 * One connection with the settings every connection must have: SQLite forgets foreign keys and the wait with each.
 * @throws Error when the file cannot be opened or is no database
 */
export async function connect(path: string): Promise<Database.Database> {
  const database = new Database(path, { timeout: BLOCKING_WAIT_MS });
  database.pragma('foreign_keys = ON');
  // Turning WAL on needs the file alone for a moment, and SQLite does not wait for that by itself.
  await retryWhileBusy(() => database.pragma('journal_mode = WAL'));
  database.pragma('synchronous = FULL');
  return database;
}

/** Tries again, without blocking, as long as another process is writing. @throws StoreBusyError after 10 s */
async function retryWhileBusy<T>(work: () => T | Promise<T>): Promise<T> {
  const until = performance.now() + WRITE_WAIT_MS;
  for (let pauseMs = 1; ; pauseMs = Math.min(pauseMs * 1.5, 25)) {
    try {
      return await work();
    } catch (error) {
      if (!isBusy(error)) throw error;
      if (performance.now() > until)
        throw new StoreBusyError(`another process kept the store for over ${WRITE_WAIT_MS / 1000} s`);
    }
    // Not in step with the others who wait.
    await sleep(pauseMs * (0.5 + Math.random()));
  }
}

function isBusy(error: unknown): boolean {
  return error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY');
}

class ImmediateSqliteDialect extends SqliteDialect {
  readonly #database: SqliteDatabase;

  constructor(database: Database.Database) {
    const remembering = new StatementCachingDatabase(database);
    super({ database: remembering });
    this.#database = remembering;
  }

  override createDriver(): SqliteDriver {
    return new ImmediateSqliteDriver({ database: this.#database });
  }
}

/**
 * Transactions take the right to write at once. One that only reads at first and then writes is refused without any
 * wait when another process wrote meanwhile.
 */
class ImmediateSqliteDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await retryWhileBusy(() => connection.executeQuery(CompiledQuery.raw('begin immediate')));
  }
}

/** Prepares every statement once. */
class StatementCachingDatabase implements SqliteDatabase {
  readonly #database: Database.Database;
  readonly #statements = new Map<string, SqliteStatement>();

  constructor(database: Database.Database) {
    this.#database = database;
  }

  prepare(text: string): SqliteStatement {
    let statement = this.#statements.get(text);
    if (statement === undefined) {
      statement = this.#database.prepare(text) as unknown as SqliteStatement;
      if (this.#statements.size >= MAX_STATEMENTS) this.#statements.clear();
      this.#statements.set(text, statement);
    }
    return statement;
  }

  close(): void {
    this.#database.close();
  }
}

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

/** How long a write waits for other processes, ms. Our transactions take a few ms each. */
const WRITE_WAIT_MS = 10_000;
/** How long SQLite itself waits, blocking our thread, before we wait asynchronously. */
const BLOCKING_WAIT_MS = 10;
const MAX_STATEMENTS = 500;

/** Another process held the write lock for too long. */
export class StoreBusyError extends Error {
  override name = 'StoreBusyError';
}

/** Opens a process's two connections: with WAL, readers do not wait for the writer. */
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
 * Opens a connection with the settings that SQLite does not keep between connections.
 * @throws Error if the file cannot be opened or is not a database
 */
export async function connect(path: string): Promise<Database.Database> {
  const database = new Database(path, { timeout: BLOCKING_WAIT_MS });
  database.pragma('foreign_keys = ON');
  // Turning on WAL needs exclusive access for a moment, and SQLite does not wait for that itself.
  await retryWhileBusy(() => database.pragma('journal_mode = WAL'));
  database.pragma('synchronous = FULL');
  return database;
}

/** Retries while another process is writing, without blocking. @throws StoreBusyError after 10 s */
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
    // Jitter, so that waiting processes do not retry in step.
    await sleep(pauseMs * (0.5 + Math.random()));
  }
}

function isBusy(error: unknown): boolean {
  return error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY');
}

class ImmediateSqliteDialect extends SqliteDialect {
  readonly #database: SqliteDatabase;

  constructor(database: Database.Database) {
    const caching = new StatementCachingDatabase(database);
    super({ database: caching });
    this.#database = caching;
  }

  override createDriver(): SqliteDriver {
    return new ImmediateSqliteDriver({ database: this.#database });
  }
}

/**
 * Begins transactions with the write lock. A transaction that reads first and then writes would fail at once if another
 * process wrote meanwhile.
 */
class ImmediateSqliteDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await retryWhileBusy(() => connection.executeQuery(CompiledQuery.raw('begin immediate')));
  }
}

/** Caches prepared statements. */
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

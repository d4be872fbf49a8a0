import { createServer } from 'node:http';
import type { TestProject } from 'vitest/node';
import { type Postgres, startPostgres } from './postgres.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where a test asks for the run's one PostgreSQL; the first to ask has it started. */
    postgresBroker: string;
  }
}

/**
 * Keeps one PostgreSQL for a whole run, started only when some test asks. Tests run in processes of their own, so
 * they ask over a loopback port: no lock files to go stale, and the process that starts it is the one that ends it.
 */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  let starting: Promise<Postgres> | undefined;
  const broker = createServer((_request, response) => {
    starting ??= startPostgres().then((postgres) => {
      process.stderr.write(`PostgreSQL for tests: ${postgres.source}\n`);
      return postgres;
    });
    starting.then(
      ({ url }) => response.writeHead(200).end(url),
      (error: unknown) => response.writeHead(500).end(String(error)),
    );
  });
  await new Promise<void>((done) => broker.listen(0, '127.0.0.1', done));
  const address = broker.address();
  if (address === null || typeof address === 'string') throw new Error('the PostgreSQL broker has no port');
  project.provide('postgresBroker', `http://127.0.0.1:${address.port}`);
  return async () => {
    broker.closeAllConnections();
    await new Promise((done) => broker.close(done));
    await starting?.then(
      (postgres) => postgres.stop(),
      () => {},
    );
  };
}

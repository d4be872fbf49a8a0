import type { TestProject } from 'vitest/node';
import { startPostgres } from '../servers/postgres.ts';
import { openBroker } from './broker.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Broker of the run's one PostgreSQL, which the first request starts. */
    postgresBroker: string;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const broker = await openBroker('postgres', async () => {
    const postgres = await startPostgres();
    process.stderr.write(`PostgreSQL for tests: ${postgres.source}\n`);
    return { answer: postgres.url, end: () => postgres.stop() };
  });
  project.provide('postgresBroker', broker.url);
  return () => broker.close();
}

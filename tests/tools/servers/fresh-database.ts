import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { inject } from 'vitest';
import { requestResource } from '../setup/broker.ts';

/** An empty PostgreSQL database that one test or file of tests has to itself. */
export type FreshDatabase = { readonly url: string; drop(): Promise<void> };

/**
 * Creates an empty database on the run's PostgreSQL, which is started when first needed.
 *
 * @throws Error with the server's message when PostgreSQL cannot be started; a test must then fail, not skip
 */
export async function freshDatabase(): Promise<FreshDatabase> {
  const server = await requestResource(inject('postgresBroker'));
  const name = `platen_test_${randomBytes(8).toString('hex')}`;
  const url = new URL(server);
  url.pathname = `/${name}`;
  await asAdmin(server, `create database ${name}`);
  // Connections that a test left open must not keep its database alive.
  return { url: url.href, drop: () => asAdmin(server, `drop database if exists ${name} with (force)`) };
}

async function asAdmin(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}

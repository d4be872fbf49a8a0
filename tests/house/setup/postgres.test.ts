import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import pg from 'pg';
import { describe, expect, it } from 'vitest';
import { freshDatabase } from '../../tools/servers/fresh-database.ts';

async function ask(url: string, query: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url });
  // A server that is killed may end the connection before the query fails.
  client.on('error', () => {});
  await client.connect();
  try {
    return (await client.query<Record<string, unknown>>(query)).rows;
  } finally {
    await client.end();
  }
}

describe("the tests' PostgreSQL", () => {
  it('gives each caller its own empty database', async () => {
    const [one, two] = await Promise.all([freshDatabase(), freshDatabase()]);
    await ask(one.url, 'create table only_here (id bigint)');
    const find = "select count(*)::int as n from information_schema.tables where table_name = 'only_here'";
    expect(await ask(one.url, find)).toEqual([{ n: 1 }]);
    expect(await ask(two.url, find)).toEqual([{ n: 0 }]);
    await Promise.all([one.drop(), two.drop()]);
    await expect(ask(one.url, 'select 1')).rejects.toThrow(/does not exist/);
  });

  it('is a real server: durable and in UTF-8', async () => {
    const database = await freshDatabase();
    const [row] = await ask(
      database.url,
      "select current_setting('fsync') as fsync, current_setting('server_encoding') as encoding, 'naïve – 紙' as text",
    );
    expect(row).toEqual({ fsync: 'on', encoding: 'UTF8', text: 'naïve – 紙' });
    await database.drop();
  });

  it('drops a database that a test still has open', async () => {
    const database = await freshDatabase();
    const held = new pg.Client({ connectionString: database.url });
    held.on('error', () => {});
    await held.connect();
    await database.drop();
    await expect(ask(database.url, 'select 1')).rejects.toThrow(/does not exist/);
    await held.end().catch(() => {});
  });

  it.skipIf(process.env['DATABASE_URL'])(
    'ends with the process that started it, even when that was killed',
    async () => {
      const tool = resolve(import.meta.dirname, '../../tools/servers/postgres.ts');
      const code = `import(${JSON.stringify(tool)}).then(async (m) => {
        console.log((await m.startPostgres()).url);
        setInterval(() => {}, 1000);
      });`;
      const child = spawn(process.execPath, ['--import', 'tsx', '--eval', code], {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      const url = await new Promise<string>((done, fail) => {
        child.stdout.once('data', (chunk: Buffer) => done(chunk.toString().trim()));
        child.once('exit', (exit) => fail(new Error(`exited ${exit} before PostgreSQL was up`)));
      });
      const [row] = await ask(url, "select current_setting('data_directory') as folder");
      const folder = String(row?.['folder']);
      expect(existsSync(folder)).toBe(true);
      child.kill('SIGKILL');
      const answers = () => ask(url, 'select 1').then(Boolean, () => false);
      await expect.poll(answers).toBe(false);
      await expect.poll(() => existsSync(folder)).toBe(false);
    },
  );
});

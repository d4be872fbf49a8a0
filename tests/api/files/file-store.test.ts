import { createHash, randomBytes } from 'node:crypto';
import { mkdtemp, readdir, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { contentHash, type FileStore, openFileStore } from '../../../api/files/index.ts';

let home: string;
let store: FileStore;

beforeEach(async () => {
  home = await mkdtemp(join(tmpdir(), 'file-store-'));
  store = await openFileStore(join(home, 'files'));
});
afterEach(() => rm(home, { recursive: true, force: true }));

async function everything(): Promise<string[]> {
  return (await readdir(home, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => entry.name);
}

describe('a file store', () => {
  it('names bytes by SHA-256 (FIPS 180-4, example "abc")', async () => {
    const name = await store.put(Buffer.from('abc'));
    expect(name).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(await store.has(name)).toBe(true);
    expect(await store.get(name)).toEqual(Buffer.from('abc'));
  });

  it('returns the bytes that were stored', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 3000 }), async (bytes) => {
        const name = await store.put(bytes);
        expect(name).toBe(createHash('sha256').update(bytes).digest('hex'));
        expect(await store.get(name)).toEqual(Buffer.from(bytes));
      }),
      { numRuns: 30 },
    );
  });

  it('hashes long files in pieces, with the same result', async () => {
    const bytes = randomBytes(3 * 1024 * 1024 + 17);
    expect(await contentHash(bytes)).toBe(createHash('sha256').update(bytes).digest('hex'));
  });

  it('stores one file for many equal ones at once, and no temporary files', async () => {
    const bytes = randomBytes(200_000);
    const names = await Promise.all(Array.from({ length: 20 }, () => store.put(bytes)));
    expect(new Set(names).size).toBe(1);
    expect(await everything()).toEqual([names[0]]);
  });

  it('replaces a truncated file', async () => {
    const bytes = randomBytes(5000);
    const name = await store.put(bytes);
    await writeFile(join(home, 'files', name.slice(0, 2), name.slice(2, 4), name), bytes.subarray(0, 100));
    await store.put(bytes);
    expect(await store.get(name)).toEqual(bytes);
  });

  it('deletes once', async () => {
    const name = await store.put(Buffer.from('x'));
    expect(await store.delete(name)).toBe(true);
    expect(await store.delete(name)).toBe(false);
    expect(await store.has(name)).toBe(false);
    expect(await store.get(name)).toBeNull();
    expect(await everything()).toEqual([]);
  });

  it('is the same after reopening', async () => {
    const name = await store.put(Buffer.from('kept'));
    expect(await (await openFileStore(join(home, 'files'))).get(name)).toEqual(Buffer.from('kept'));
  });

  it.each([
    '../../../etc/hostname',
    '..',
    '',
    'a'.repeat(63),
    'A'.repeat(64),
    `${'a'.repeat(63)}/`,
    `${'a'.repeat(64)}/../../outside`,
    `${'a'.repeat(64)}\0`,
  ])('never looks up %j', async (name) => {
    await writeFile(join(home, 'outside'), 'secret');
    expect(await store.get(name)).toBeNull();
    expect(await store.has(name)).toBe(false);
    expect(await store.delete(name)).toBe(false);
    expect((await stat(join(home, 'outside'))).size).toBe(6);
  });

  it('rejects if it cannot write, and leaves nothing behind', async () => {
    const name = createHash('sha256').update('y').digest('hex');
    await writeFile(join(home, 'files', name.slice(0, 2)), 'a file where a folder must be');
    await expect(store.put(Buffer.from('y'))).rejects.toThrow();
    expect(await everything()).toEqual([name.slice(0, 2)]);
  });
});

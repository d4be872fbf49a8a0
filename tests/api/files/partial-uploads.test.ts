import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openPartialUploads, type PartialUploads, TruncatedBodyError } from '../../../api/files/index.ts';

const LIMITS = { count: 5, bytes: 1000, ageMs: 1000, idleAgeMs: 100, parts: 10 };
const ID = 'a'.repeat(32);
const ABOUT = { lengthBytes: 10, metadata: '', name: 'x', sha256: null, createdMs: 0 };

let folder: string;
/** Two processes on one folder. */
let one: PartialUploads;
let two: PartialUploads;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'platen-partial-'));
  one = openPartialUploads(folder, LIMITS);
  two = openPartialUploads(folder, LIMITS);
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function* pieces(...texts: string[]): AsyncGenerator<Uint8Array> {
  for (const text of texts) {
    await new Promise((done) => setTimeout(done, 1));
    if (text === 'CUT') throw new TruncatedBodyError('cut');
    yield Buffer.from(text);
  }
}
const state = async (from = one) => (await from.state(ID, 0))!;

describe('a resumable upload', () => {
  it('is assembled in order, whichever process received a part', async () => {
    await one.begin(ID, ABOUT);
    await one.storePart(await state(), pieces('01', '2'), null);
    await two.storePart(await state(two), pieces('3456'), null);
    await one.storePart(await state(), pieces('789'), null);
    expect(await state(two)).toMatchObject({ offset: 10, artwork: null });
    expect((await two.bytes(await state(two)))?.toString()).toBe('0123456789');
    await two.finish(ID, 'hash');
    expect(await state()).toMatchObject({ offset: 10, artwork: 'hash' });
    expect(await one.bytes(await state())).toBeNull();
  });

  it('stores one of two parts with the same offset', async () => {
    await one.begin(ID, ABOUT);
    const [here, there] = await Promise.all([
      one.storePart(await state(), pieces('aaa'), null),
      two.storePart(await state(two), pieces('bb', 'bb'), null),
    ]);
    const kinds = [here.kind, there.kind];
    expect([...kinds].sort()).toEqual(['stored', 'wrong-offset']);
    const winner = kinds.indexOf('stored') === 0 ? 3 : 4;
    expect(here).toMatchObject({ offset: winner });
    expect(there).toMatchObject({ offset: winner });
    expect((await state()).offset).toBe(winner);
    expect((await readdir(join(folder, ID))).length).toBe(2);
  });

  it('stores what arrived before the connection broke, unless the part has a checksum', async () => {
    await one.begin(ID, ABOUT);
    expect(await one.storePart(await state(), pieces('012', 'CUT', '3'), null)).toEqual({
      kind: 'stored',
      offset: 3,
      truncated: true,
    });
    const digest = createHash('sha1').update('3456').digest();
    expect(await one.storePart(await state(), pieces('34', 'CUT'), { algorithm: 'sha1', digest })).toEqual({
      kind: 'checksum-mismatch',
    });
    expect((await state()).offset).toBe(3);
    expect((await one.storePart(await state(), pieces('34', '56'), { algorithm: 'sha1', digest })).kind).toBe(
      'stored',
    );
    expect(await readdir(join(folder, ID))).toHaveLength(3);
  });

  it('leaves nothing behind for a part that is not stored, even if the disk fails', async () => {
    await one.begin(ID, ABOUT);
    async function* failing(): AsyncGenerator<Uint8Array> {
      yield Buffer.from('0');
      throw new Error('no space left');
    }
    await expect(one.storePart(await state(), failing(), null)).rejects.toThrow('no space');
    expect(await one.storePart(await state(), pieces('CUT'), null)).toMatchObject({
      offset: 0,
      truncated: true,
    });
    expect(await readdir(join(folder, ID))).toEqual(['about.json']);
  });

  it('that was removed meanwhile is gone, without an error', async () => {
    await one.begin(ID, ABOUT);
    const before = await state();
    const slow = one.storePart(before, pieces('0', '1', '2'), null);
    await two.remove(ID);
    expect((await slow).kind).toBe('gone');
    expect((await two.storePart(before, pieces('0'), null)).kind).toBe('gone');
  });

  it('ignores what a process left behind when it died', async () => {
    await one.begin(ID, ABOUT);
    await one.storePart(await state(), pieces('01'), null);
    // a part that was being written, one after a gap, and an upload that was never born
    await writeFile(join(folder, ID, 'taking-x'), '23');
    await writeFile(join(folder, ID, '5'.padStart(15, '0')), '567');
    await mkdir(join(folder, `new-0-${'b'.repeat(32)}`));
    expect((await state()).offset).toBe(2);
    expect(await two.sweep(99)).toBe(0);
    expect(await two.sweep(100)).toBe(1);
    expect(await two.sweep(1000)).toBe(1);
    expect(await readdir(folder)).toEqual([]);
  });

  it('is limited in number and in bytes', async () => {
    const name = (n: number): string => String(n).padStart(32, '0');
    expect(await one.begin(name(1), { ...ABOUT, lengthBytes: 990 })).toBe(true);
    expect(await one.begin(name(2), { ...ABOUT, lengthBytes: 11 })).toBe(false);
    for (let n = 2; n <= 5; n++) expect(await one.begin(name(n), { ...ABOUT, lengthBytes: 1 })).toBe(true);
    expect(await two.begin(name(6), { ...ABOUT, lengthBytes: 1 })).toBe(false);
    expect(await two.begin(name(6), { ...ABOUT, lengthBytes: 1, createdMs: 100 })).toBe(true);
  });
});

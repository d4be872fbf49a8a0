/** Reads hostile files while their processes are watched. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { type FilePool, type FileRefusal, isRefusal, type ReadArtwork } from '../../api/files/index.ts';
import { cpuS, residentMiB } from '../../api/files/pool/process-usage.ts';
import { paint, writeRgba } from '../api/files/fixtures/png.ts';

/** What a file may take of the machine: more is a fault whatever the answer. */
const MOST_S = 2;
const MOST_EXTRA_MIB = 300;

/** A file as any other, read meanwhile. */
export const good = writeRgba(
  64,
  48,
  paint(64, 48, (x) => [200, 16, 46, x < 8 ? 0 : 255]),
);

/** Processes of this one that read files, by their command line. */
export function readers(): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => {
      try {
        const parent = readFileSync(`/proc/${pid}/stat`, 'latin1').split(') ')[1]?.split(' ')[1];
        return (
          Number(parent) === process.pid &&
          readFileSync(`/proc/${pid}/cmdline`, 'latin1').includes('pool/child')
        );
      } catch {
        return false;
      }
    });
}

type Watched = {
  readonly answer: ReadArtwork | FileRefusal;
  /** processor time of the process that worked most, s. */
  readonly workS: number;
  readonly extraMiB: number;
};

/**
 * Reads a file while watching what its processes take: at most 2 s of a processor and 300 MiB. A good file read meanwhile
 * must come out as ever.
 */
export async function watchReading(pool: FilePool, bytes: Uint8Array, name?: string): Promise<Watched> {
  await pool.ready();
  const start = new Map(readers().map((pid) => [pid, { s: cpuS(pid) ?? 0, mib: residentMiB(pid) ?? 0 }]));
  let workS = 0;
  let extraMiB = 0;
  const look = setInterval(() => {
    for (const [pid, { s, mib }] of start) {
      workS = Math.max(workS, (cpuS(pid) ?? 0) - s);
      extraMiB = Math.max(extraMiB, (residentMiB(pid) ?? 0) - mib);
    }
  }, 5);
  const [answer, other] = await Promise.all([pool.read(bytes, { name }), pool.read(good)]);
  clearInterval(look);
  expect(isRefusal(other) ? other : other.facts.inkBox).toEqual({ left: 8, top: 0, width: 56, height: 48 });
  expect(workS).toBeLessThan(MOST_S);
  expect(extraMiB).toBeLessThan(MOST_EXTRA_MIB);
  return { answer, workS, extraMiB };
}

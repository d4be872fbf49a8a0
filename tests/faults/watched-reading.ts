/** Reads hostile files and measures what their processes use. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { type FilePool, type FileRefusal, isRefusal, type ReadArtwork } from '../../api/files/index.ts';
import { cpuS, residentMiB } from '../../api/files/pool/process-usage.ts';
import { paint, writeRgba } from '../api/files/fixtures/png.ts';

/**
 * What reading a file may use. A process over its bounds (1.5 s of CPU time, 280 MiB) is killed at the next check, which
 * comes late on a busy machine: the limits for killed processes are wide, and still far below what such files ask for.
 */
const MAX_CPU_S = 10;
const MAX_EXTRA_MIB = 300;
const MAX_EXTRA_MIB_KILLED = 1500;

/** An ordinary file, read at the same time. */
export const good = writeRgba(
  64,
  48,
  paint(64, 48, (x) => [200, 16, 46, x < 8 ? 0 : 255]),
);

/** Ids of our reader processes. */
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
  /** CPU time of the process that used most, s. */
  readonly workS: number;
  readonly extraMiB: number;
};

/**
 * Reads a file and checks the CPU time and memory that its process used. A good file read at the same time must be read
 * as usual.
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
  const killed = isRefusal(answer) && /^(took-too-long|too-much-memory)$/.test(answer.refused);
  expect(workS).toBeLessThan(MAX_CPU_S);
  expect(extraMiB).toBeLessThan(killed ? MAX_EXTRA_MIB_KILLED : MAX_EXTRA_MIB);
  return { answer, workS, extraMiB };
}

import { readFileSync } from 'node:fs';

const MIB = 1024 * 1024;
const PAGE_BYTES = 4096;
/** Ticks of proc(5) `stat`; USER_HZ is 100 on every architecture that Node runs on. */
const TICKS_PER_S = 100;

/**
 * Resident memory of a process, MiB (proc(5), `statm`). Null on systems other than Linux, where only the limits on drawings
 * and on time apply.
 */
export function residentMiB(pid: number | undefined): number | null {
  const pages = Number(procFile(pid, 'statm')?.split(' ')[1]);
  return Number.isFinite(pages) ? (pages * PAGE_BYTES) / MIB : null;
}

/** CPU time of all threads of a process, s (proc(5), `stat`: utime and stime). Null if the system does not say. */
export function cpuS(pid: number | undefined): number | null {
  const stat = procFile(pid, 'stat');
  // The second field is the program's name in parentheses, which may contain anything.
  const fields = stat?.slice(stat.lastIndexOf(')') + 2).split(' ');
  const ticks = Number(fields?.[11]) + Number(fields?.[12]);
  return Number.isFinite(ticks) ? ticks / TICKS_PER_S : null;
}

function procFile(pid: number | undefined, name: 'stat' | 'statm'): string | null {
  if (pid === undefined) return null;
  try {
    return readFileSync(`/proc/${pid}/${name}`, 'latin1');
  } catch {
    return null;
  }
}

import type { EpochS } from '../calendar/time.ts';

/** Part of a step function of time: segment i runs from times[i] to times[i + 1] (the last: to the next chunk). */
export type LevelChunk = {
  readonly times: Float64Array;
  readonly levels: Int32Array;
  readonly max: number;
  readonly min: number;
};

export function levelChunk(times: Float64Array, levels: Int32Array): LevelChunk {
  let max = levels[0]!;
  let min = levels[0]!;
  for (let i = 1; i < levels.length; i++) {
    if (levels[i]! > max) max = levels[i]!;
    if (levels[i]! < min) min = levels[i]!;
  }
  return { times, levels, max, min };
}

/** Segments in one chunk: enough that few chunks need to be skipped, few enough to copy cheaply. */
export const CHUNK_SEGMENTS = 256;

/**
 * The sum of loads, in chunks of `CHUNK_SEGMENTS` segments. The first segment starts at -Infinity.
 *
 * @param from load i lasts from from[i] to to[i] and takes parts[i]
 */
export function sumOfLoads(
  from: ArrayLike<EpochS>,
  to: ArrayLike<EpochS>,
  parts: ArrayLike<number>,
): LevelChunk[] {
  const times = [Number.NEGATIVE_INFINITY];
  const levels = [0];
  let level = 0;
  for (const [at, change] of loadChanges(from, to, parts)) {
    level += change;
    if (times[times.length - 1] === at) levels[levels.length - 1] = level;
    else if (levels[levels.length - 1] !== level) {
      times.push(at);
      levels.push(level);
    }
  }
  const chunks: LevelChunk[] = [];
  for (let i = 0; i < times.length; i += CHUNK_SEGMENTS) {
    chunks.push(
      levelChunk(
        Float64Array.from(times.slice(i, i + CHUNK_SEGMENTS)),
        Int32Array.from(levels.slice(i, i + CHUNK_SEGMENTS)),
      ),
    );
  }
  return chunks;
}

/**
 * Rises and falls of a sum of loads, in order of time. Sorts plain numbers that encode both the second and the index
 * of the load, which is much faster than sorting objects.
 */
function* loadChanges(
  from: ArrayLike<EpochS>,
  to: ArrayLike<EpochS>,
  parts: ArrayLike<number>,
): Generator<[at: EpochS, change: number]> {
  const count = from.length;
  let origin = Number.POSITIVE_INFINITY;
  for (let i = 0; i < count; i++) origin = Math.min(origin, from[i]!);
  // 2^53 holds 2^30 seconds (34 years) times 2^23 edges
  const slots = 2 * count;
  const keys = new Float64Array(slots);
  for (let i = 0; i < count; i++) {
    keys[2 * i] = (from[i]! - origin) * slots + 2 * i;
    keys[2 * i + 1] = (to[i]! - origin) * slots + 2 * i + 1;
  }
  keys.sort();
  for (let k = 0; k < slots; k++) {
    const slot = keys[k]! % slots;
    const i = slot >> 1;
    yield slot % 2 === 0 ? [from[i]!, parts[i]!] : [to[i]!, -parts[i]!];
  }
}

/** Index of the last of ascending times that is at or before `at` (at least 0). */
export function segmentAt(times: Float64Array, at: EpochS): number {
  let low = 0;
  let high = times.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (times[middle]! <= at) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * The chunk with `parts` added in [from, to), as far as that lies in it. Neighboring segments with the same level are
 * merged, except that the first segment always stays: its time is where the chunk starts.
 *
 * @param chunkEnd where the next chunk starts; Infinity for the last chunk
 */
export function withLoad(
  chunk: LevelChunk,
  chunkEnd: EpochS,
  from: EpochS,
  to: EpochS,
  parts: number,
): LevelChunk {
  const count = chunk.times.length;
  const first = from <= chunk.times[0]! ? 0 : segmentAt(chunk.times, from);
  let last = to >= chunkEnd ? count - 1 : segmentAt(chunk.times, to);
  if (chunk.times[last] === to) last--;
  // at most two new edges
  const times = new Float64Array(count + 2);
  const levels = new Int32Array(count + 2);
  let size = 0;
  const push = (at: number, level: number): void => {
    if (size > 0 && levels[size - 1] === level) return;
    times[size] = at;
    levels[size] = level;
    size++;
  };
  const copy = (start: number, end: number): void => {
    times.set(chunk.times.subarray(start, end), size);
    levels.set(chunk.levels.subarray(start, end), size);
    size += Math.max(0, end - start);
  };
  copy(0, first);
  const head = chunk.times[first]!;
  if (head < from) push(head, chunk.levels[first]!);
  push(Math.max(head, from), chunk.levels[first]! + parts);
  // these segments all change by the same amount, so no two neighbors become equal
  const changedFrom = size;
  copy(first + 1, last + 1);
  for (let i = changedFrom; i < size; i++) levels[i]! += parts;
  if (to < (last + 1 < count ? chunk.times[last + 1]! : chunkEnd)) push(to, chunk.levels[last]!);
  if (last + 1 < count) push(chunk.times[last + 1]!, chunk.levels[last + 1]!);
  copy(last + 2, count);
  return levelChunk(times.slice(0, size), levels.slice(0, size));
}

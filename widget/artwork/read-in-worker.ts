import { ArtworkReader } from './artwork-reader.ts';
import workerUrl from './artwork-worker.ts?worker&url';
import type { Assets } from './assets.ts';
import type { LocalReader } from './local-reader.ts';
import { isSameOrigin, startWorker } from './start-worker.ts';

/** One worker for all slips of a page, by the address of its script. */
const readers = new Map<string, ArtworkReader>();

/**
 * Reads files in a worker. Where the worker does not start this is reported, and everything is left to the shop. The
 * addresses of pictures are the caller's to revoke.
 */
export function localReader(assets: Assets): LocalReader {
  const address = assets.address('workers/artwork-worker.js', workerUrl);
  // a script of another origin is stopped by a policy, which does not change while the page is open
  const reader =
    readers.get(address) ?? new ArtworkReader(() => startWorker(address, 'artwork'), isSameOrigin(address));
  readers.set(address, reader);
  const reported = <Answer>(answer: Answer): Answer => {
    if (!reader.hasStarted) assets.report(address);
    return answer;
  };
  return {
    async read(file, remedies, signal) {
      const local = reported(await reader.read(file, remedies, { signal }));
      return local && { facts: local.facts, preview: URL.createObjectURL(local.picture) };
    },
    findings: async (file, remedies, input, signal) =>
      reported(await reader.find(file, remedies, input, signal)),
  };
}

const SOS = 0xda;
const EOI = 0xd9;

/**
 * Counts the scans of a JPEG, up to `limit + 1`. A progressive file of a few KB can demand thousands of passes over a huge
 * picture.
 */
export function countScans(bytes: Uint8Array, limit: number): number {
  let scans = 0;
  let at = 2;
  while (at + 4 <= bytes.length && scans <= limit) {
    if (bytes[at] !== 0xff) {
      // Entropy-coded data: the next marker is an FF not followed by 00.
      at = bytes.indexOf(0xff, at);
      if (at < 0) break;
      const next = bytes[at + 1];
      if (next === 0x00 || next === 0xff) {
        at += next === 0xff ? 1 : 2;
        continue;
      }
    }
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === EOI) break;
    if (marker === 0x00 || marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += 2;
      continue;
    }
    if (marker === SOS) scans++;
    at += 2 + ((bytes[at + 2]! << 8) | bytes[at + 3]!);
  }
  return scans;
}

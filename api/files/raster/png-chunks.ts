/** What the chunks of a PNG say, without decoding pixels. */
export type PngSummary = {
  /** the end chunk is present. */
  readonly complete: boolean;
  /** frames of an animation; 1 if it is not animated (acTL, PNG third edition). */
  readonly frames: number;
};

const SIGNATURE_BYTES = 8;

/** Walks the chunks of a PNG (PNG third edition, 5.3: length, type, data, CRC). Bytes after IEND are ignored. */
export function summarizePng(bytes: Uint8Array): PngSummary {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  let frames = 1;
  let at = SIGNATURE_BYTES;
  while (at + 12 <= bytes.length) {
    const length = view.getUint32(at);
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (type === 'IEND') return { complete: true, frames };
    if (type === 'acTL' && length >= 8 && at + 12 <= bytes.length)
      frames = Math.max(1, view.getUint32(at + 8));
    at += 12 + length;
  }
  return { complete: false, frames };
}

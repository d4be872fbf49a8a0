import { randomBytes } from 'node:crypto';
import { crc32 } from 'node:zlib';
import sharp from 'sharp';

/** Bytes of the last chunk of any PNG, IEND. */
const END_BYTES = 12;

/**
 * A simple picture in a large file, different each time: a disc, and a private ancillary chunk of random bytes, which
 * readers must ignore (PNG, third edition, 5.4), so that a test of uploads need not wait for decoding.
 *
 * @param bytes size of the file, approximately
 */
export async function largePng(bytes: number): Promise<Buffer> {
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" width="1800" height="1500"><circle cx="900" cy="750" r="660" fill="#b4432e"/></svg>';
  const png = await sharp(Buffer.from(svg)).png().toBuffer();
  const body = Buffer.concat([Buffer.from('raNd', 'latin1'), randomBytes(bytes)]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(bytes);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([png.subarray(0, -END_BYTES), length, body, check, png.subarray(-END_BYTES)]);
}

import { type BinaryToTextEncoding, hash, timingSafeEqual } from 'node:crypto';

/** SHA-256 of a text in UTF-8; lower-case hexadecimal unless told otherwise. */
export function sha256(text: string, encoding: BinaryToTextEncoding = 'hex'): string {
  return hash('sha256', text, encoding);
}

/**
 * Whether a secret has this hash, compared in constant time.
 * @param hashHex 64 hexadecimal digits
 */
export function hasHash(secret: string, hashHex: string): boolean {
  return timingSafeEqual(Buffer.from(sha256(secret), 'hex'), Buffer.from(hashHex, 'hex'));
}

/** What of the tus resumable upload protocol 1.0.0 (2016-03-25) is in headers. @see https://tus.io/protocols/resumable-upload */
import type { PartChecksum } from '../files/index.ts';
import type { AppContext } from './env.ts';
import { faultAt, ProblemError } from './problem.ts';
import { cleanName } from './upload.ts';

export const TUS_VERSION = '1.0.0';
export const TUS_EXTENSIONS = 'creation,expiration,termination,checksum';
export const TUS_CHECKSUMS = 'sha1,sha256';
/** The content type of a part. */
export const PART_TYPE = 'application/offset+octet-stream';
const MAX_METADATA_CHARS = 4000;

/** Names our version in the answer and requires it of the request. @throws ProblemError `upload-protocol` */
export function requireVersion(c: AppContext): void {
  c.header('Tus-Resumable', TUS_VERSION);
  if (c.req.header('tus-resumable') === TUS_VERSION) return;
  throw new ProblemError('upload-protocol', `send Tus-Resumable: ${TUS_VERSION}`, {
    headers: { 'Tus-Version': TUS_VERSION },
  });
}

/** The number of bytes in a header. @throws ProblemError `invalid-input` */
export function byteCount(c: AppContext, header: string): number {
  const given = c.req.header(header);
  if (given === undefined || !/^\d{1,15}$/.test(given))
    throw faultAt(header, 'must be a whole number of bytes', given ?? 'nothing', '0 or more');
  return Number(given);
}

/**
 * The file's name and the hash of the whole file (null: not given), from Upload-Metadata.
 * @throws ProblemError `invalid-input`
 */
export function readMetadata(header: string): { readonly name: string; readonly sha256: string | null } {
  if (header.length > MAX_METADATA_CHARS)
    throw faultAt(
      'upload-metadata',
      'is too long',
      header.length,
      `at most ${MAX_METADATA_CHARS} characters`,
    );
  const values = new Map<string, string>();
  for (const pair of header.split(',')) {
    const [key = '', value = '', more] = pair.trim().split(/ +/);
    if (key === '') continue;
    if (more !== undefined || !/^[A-Za-z0-9+/]*={0,2}$/.test(value))
      throw faultAt(
        'upload-metadata',
        `the value of "${key.slice(0, 40)}" is not Base64`,
        value.slice(0, 40),
        'Base64',
      );
    values.set(key, Buffer.from(value, 'base64').toString('utf8'));
  }
  const sha256 = values.get('sha256') ?? null;
  if (sha256 !== null && !/^[0-9a-f]{64}$/.test(sha256))
    throw faultAt(
      'upload-metadata',
      'sha256 is not a hash',
      sha256.slice(0, 80),
      '64 lower-case hexadecimal digits',
    );
  return { name: cleanName(values.get('filename') ?? ''), sha256 };
}

/** The hash of one part, from Upload-Checksum; null if there is none. @throws ProblemError `invalid-input` */
export function readChecksum(header: string | undefined): PartChecksum | null {
  if (header === undefined) return null;
  const [algorithm, text = ''] = header.trim().split(/ +/);
  if (algorithm !== 'sha1' && algorithm !== 'sha256')
    throw faultAt(
      'upload-checksum',
      'this algorithm is not known',
      algorithm?.slice(0, 40),
      'sha1 or sha256',
    );
  return { algorithm, digest: Buffer.from(text, 'base64') };
}

import { fileTypeFromBuffer } from 'file-type';
import type { SourceInfo } from '../../src/contract/index.ts';
import { type FileRefusal, notAPicture, unsupportedKind } from './refusal.ts';

export type FileKind = SourceInfo['kind'];
/** Kinds made of pixels. */
export type RasterKind = Exclude<FileKind, 'svg' | 'pdf'>;

/** Names of the kinds that can be read. */
export const KIND_NAMES: Readonly<Record<FileKind, string>> = {
  png: 'PNG',
  jpeg: 'JPEG',
  webp: 'WebP',
  avif: 'AVIF',
  tiff: 'TIFF',
  gif: 'GIF',
  svg: 'SVG',
  pdf: 'PDF',
};

/** By file-type's extensions. */
const READABLE: ReadonlyMap<string, FileKind> = new Map([
  ['png', 'png'],
  ['apng', 'png'],
  ['jpg', 'jpeg'],
  ['webp', 'webp'],
  ['avif', 'avif'],
  ['tif', 'tiff'],
  ['gif', 'gif'],
  ['pdf', 'pdf'],
]);

/** Artwork that cannot be read here: kinds whose media type does not begin with `image/`, and better names than the extension. */
const ARTWORK_NAMES: ReadonlyMap<string, string> = new Map([
  ['heic', 'HEIC'],
  ['heif', 'HEIF'],
  ['eps', 'EPS'],
  ['ps', 'PostScript'],
  ['ai', 'AI'],
  ['indd', 'INDD'],
  ['gz', 'SVGZ or another packed file'],
]);

/**
 * Identifies a file by its bytes alone, ignoring its name and media type.
 * @param bytes the whole file
 */
export async function fileKind(bytes: Uint8Array): Promise<{ readonly kind: FileKind } | FileRefusal> {
  if (bytes.length === 0) return { refused: 'empty-file', params: {} };
  const opening = openingText(bytes);
  if (opening !== null && isSvgOpening(opening)) return { kind: 'svg' };

  const type = await fileTypeFromBuffer(bytes);
  if (type !== undefined && type.ext !== 'xml') {
    const kind = READABLE.get(type.ext);
    if (kind !== undefined) return { kind };
    const named = ARTWORK_NAMES.get(type.ext);
    if (named !== undefined) return unsupportedKind(named);
    if (type.mime.startsWith('image/')) return unsupportedKind(type.ext.toUpperCase());
    return notAPicture(type.ext.toUpperCase());
  }
  if (hasPdfHeader(bytes)) return { kind: 'pdf' };
  // A TIFF without its directory (cut off) has only its first bytes (TIFF 6.0, section 2).
  if (opening === null && /^(II\*\0|MM\0\*)/.test(String.fromCharCode(...bytes.subarray(0, 4))))
    return { kind: 'tiff' };
  if (type?.ext === 'xml') return notAPicture('XML');
  if (opening === null) return notAPicture('unknown');
  return notAPicture(/<(!doctype\s+html|html|head|body|script|iframe)\b/i.test(opening) ? 'HTML' : 'text');
}

/** How far to look for the first tag of a drawing, after comments and a document type. */
const OPENING_BYTES = 64 * 1024;

/** The beginning of the file as text; null if it is not text. */
function openingText(bytes: Uint8Array): string | null {
  const part = bytes.subarray(0, OPENING_BYTES);
  const encoding =
    part[0] === 0xff && part[1] === 0xfe
      ? 'utf-16le'
      : part[0] === 0xfe && part[1] === 0xff
        ? 'utf-16be'
        : null;
  if (encoding !== null) return new TextDecoder(encoding).decode(part);
  if (part.includes(0)) return null;
  // Latin-1 decodes any byte; only ASCII matters here, so drawings in old encodings are recognized, too.
  return new TextDecoder('latin1').decode(part).replace(/^\u00ef\u00bb\u00bf/, '');
}

/** True if the first element is `svg`, after any comments, processing instructions and document type. */
function isSvgOpening(text: string): boolean {
  let rest = text.trimStart();
  while (rest.startsWith('<?') || rest.startsWith('<!')) {
    const end = rest.startsWith('<!--')
      ? after(rest, '-->')
      : rest.startsWith('<?')
        ? after(rest, '?>')
        : endOfDoctype(rest);
    if (end < 0) return /^<!doctype\s+([\w.-]+:)?svg\b/i.test(rest);
    rest = rest.slice(end).trimStart();
  }
  return /^<([\w.-]+:)?svg(?=[\s/>])/.test(rest);
}

function after(text: string, mark: string): number {
  const at = text.indexOf(mark);
  return at < 0 ? -1 : at + mark.length;
}

function endOfDoctype(text: string): number {
  const subset = text.indexOf('[');
  const close = text.indexOf('>');
  if (subset < 0 || (close >= 0 && close < subset)) return after(text, '>');
  const match = /\]\s*>/.exec(text);
  return match === null ? -1 : match.index + match[0].length;
}

/** PDF readers accept the header anywhere in the first 1024 bytes (ISO 32000-1, Annex H, note 13, from memory). */
function hasPdfHeader(bytes: Uint8Array): boolean {
  return Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(1024, bytes.length)).includes('%PDF-');
}

/** The kind that a file name's ending claims; null for an unknown ending. */
export function kindByName(name: string): { readonly kind: FileKind; readonly ending: string } | null {
  const ending = /\.([a-z0-9]{1,10})$/i.exec(name.trim())?.[1]?.toLowerCase();
  if (ending === undefined) return null;
  const kind = ENDINGS.get(ending);
  return kind === undefined ? null : { kind, ending };
}

const ENDINGS: ReadonlyMap<string, FileKind> = new Map([
  ['png', 'png'],
  ['apng', 'png'],
  ['jpg', 'jpeg'],
  ['jpeg', 'jpeg'],
  ['jpe', 'jpeg'],
  ['jfif', 'jpeg'],
  ['webp', 'webp'],
  ['avif', 'avif'],
  ['tif', 'tiff'],
  ['tiff', 'tiff'],
  ['gif', 'gif'],
  ['svg', 'svg'],
  ['pdf', 'pdf'],
]);

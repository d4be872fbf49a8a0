/** Names of the kinds that can be sent as artwork, for refusals of other kinds. */
export const SENDABLE_KINDS = ['PNG', 'JPEG', 'WebP', 'AVIF', 'TIFF', 'GIF', 'SVG', 'PDF'] as const;

/**
 * Why a file was not read, with the figures for a message. A result, never thrown. Closed: a new code needs a text in every
 * locale.
 *
 * - `empty-file`: no bytes at all.
 * - `too-large`: more bytes than the shop accepts.
 * - `unsupported-kind`: a picture or drawing of a kind that cannot be read; `kind` names it, `send` lists what to send.
 * - `not-a-picture`: anything else (a web page, a text, an archive); `kind` names it if known.
 * - `incomplete-file`: the end is missing, cut off while saving or sending.
 * - `damaged-file`: not valid for its kind.
 * - `locked-file`: needs a password.
 * - `too-many-pixels`: more pixels or a longer side than the shop accepts, by the header; nothing was decoded.
 * - `too-complex`: more of something (`what`) than can be drawn safely; `found` is 0 if not counted.
 * - `entities-in-drawing`: an SVG that defines entities.
 * - `took-too-long`, `too-much-memory`: reading it was stopped at that limit.
 * - `nothing-to-print`: no ink.
 * - `reader-failed`: the process that read it exited by itself; the cause may be the file or the server.
 * - `busy`: too many files are waiting; send the file again after `retryAfterS` seconds.
 */
export type FileRefusal =
  | { readonly refused: 'empty-file'; readonly params: Record<string, never> }
  | {
      readonly refused: 'too-large';
      readonly params: { readonly bytes: number; readonly limitBytes: number };
    }
  | {
      readonly refused: 'unsupported-kind' | 'not-a-picture';
      readonly params: { readonly kind: string; readonly send: readonly string[] };
    }
  | {
      readonly refused: 'incomplete-file' | 'damaged-file' | 'locked-file';
      readonly params: { readonly kind: string };
    }
  | {
      readonly refused: 'too-many-pixels';
      readonly params: {
        readonly widthPx: number;
        readonly heightPx: number;
        readonly limitPx: number;
        readonly limitSidePx: number;
      };
    }
  | {
      readonly refused: 'too-complex';
      readonly params: { readonly what: ComplexThing; readonly found: number; readonly limit: number };
    }
  | { readonly refused: 'entities-in-drawing'; readonly params: Record<string, never> }
  | { readonly refused: 'took-too-long'; readonly params: { readonly limitS: number } }
  | { readonly refused: 'too-much-memory'; readonly params: { readonly limitMiB: number } }
  | { readonly refused: 'nothing-to-print'; readonly params: Record<string, never> }
  | { readonly refused: 'reader-failed'; readonly params: Record<string, never> }
  | { readonly refused: 'busy'; readonly params: { readonly retryAfterS: number } };

/**
 * What a drawing (or, for `scans`, a JPEG) can have too much of. `shown-elements`: elements once references are expanded;
 * `ring`: a part that contains itself; `filter`: primitives of one filter; `layers`: nested groups with opacity, masks and
 * filters; `effects`: all of those together, in ms of work per million pixels.
 */
export type ComplexThing =
  | 'elements'
  | 'depth'
  | 'text'
  | 'styles'
  | 'shown-elements'
  | 'ring'
  | 'filter'
  | 'layers'
  | 'effects'
  | 'embedded-pictures'
  | 'scans';

export type RefusalCode = FileRefusal['refused'];

export function isRefusal(answer: object): answer is FileRefusal {
  return 'refused' in answer;
}

export function unsupportedKind(kind: string): FileRefusal {
  return { refused: 'unsupported-kind', params: { kind, send: SENDABLE_KINDS } };
}

export function notAPicture(kind: string): FileRefusal {
  return { refused: 'not-a-picture', params: { kind, send: SENDABLE_KINDS } };
}

export function tooComplex(what: ComplexThing, found: number, limit: number): FileRefusal {
  return { refused: 'too-complex', params: { what, found, limit } };
}

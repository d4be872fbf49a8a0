import type { JobAnswer } from '../jobs.ts';

/** Messages from a process of the pool; the bytes of a result are sent along. */
export type FromChild =
  | { readonly type: 'ready' }
  /** the header of a picture is accepted, or a drawing is drawn: allow time and memory for its pixels. */
  | { readonly type: 'pixels'; readonly pixels: number }
  | { readonly type: 'done'; readonly answer: JobAnswer['answer'] }
  | { readonly type: 'fault'; readonly message: string };

/** Largest message: rasters of the largest pictures as PNG, with a margin. */
export const MAX_MESSAGE_BYTES = 1024 * 1024 * 1024;

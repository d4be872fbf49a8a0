import type { JobAnswer } from '../jobs.ts';

/** What a process of the pool says; the bytes of an answer travel beside it. */
export type FromChild =
  | { readonly type: 'ready' }
  /** the header of a picture has passed, or a drawing has been drawn: allow time and memory for so many pixels. */
  | { readonly type: 'pixels'; readonly pixels: number }
  | { readonly type: 'done'; readonly answer: JobAnswer['answer'] }
  | { readonly type: 'fault'; readonly message: string };

/** Most bytes of one message: rasters of the largest pictures as PNG, with room. */
export const MAX_MESSAGE_BYTES = 1024 * 1024 * 1024;

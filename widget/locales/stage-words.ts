import type { MessageFormat } from './message-format.ts';

/** Where an artwork's ink lies, as read to the customer. */
export type WordedPosition = {
  readonly widthMm: number;
  readonly xMm: number;
  readonly yMm: number;
  readonly angleDeg: number;
};

/** Words of the drawing. */
export type StageWords = {
  readonly drawing: (say: MessageFormat, view: string) => string;
  readonly artworks: string;
  readonly keys: string;
  readonly artwork: (
    say: MessageFormat,
    p: WordedPosition & { readonly name: string; readonly face: string; readonly heightMm: number },
  ) => string;
  readonly moved: (say: MessageFormat, p: WordedPosition) => string;
  readonly wide: (say: MessageFormat, widthMm: number) => string;
  readonly outside: string;
  readonly inKeepOut: (say: MessageFormat, name: string) => string;
  readonly loading: string;
  readonly failed: string;
  readonly dropHere: string;
  readonly chooseFile: string;
};

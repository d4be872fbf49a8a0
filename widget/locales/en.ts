import type { Say } from './say.ts';

/** English: every message there is. The other languages have the same members. */
export const en = {
  stage: {
    drawing: (_say: Say, view: string) => `${view}, drawn to scale`,
    artworks: 'Artwork on the drawing',
    keys: 'Arrow keys move it, with Shift further. Plus and minus change its width, square brackets turn it, Delete takes it off, Escape lets go.',
    artwork: (
      say: Say,
      p: {
        name: string;
        face: string;
        widthMm: number;
        heightMm: number;
        xMm: number;
        yMm: number;
        angleDeg: number;
      },
    ) =>
      `${p.name} on ${p.face}: ${say.size(p.widthMm, p.heightMm)}, ${en.stage.across(say, p.xMm)}, ${en.stage.down(say, p.yMm)}${
        p.angleDeg === 0 ? '' : `, ${en.stage.turn(say, p.angleDeg)}`
      }`,
    across: (say: Say, xMm: number) =>
      Math.abs(xMm) < 0.005
        ? 'on the center line'
        : `${say.len(Math.abs(xMm))} ${xMm > 0 ? 'right' : 'left'} of center`,
    down: (say: Say, yMm: number) => `${say.len(yMm)} from the top`,
    turn: (say: Say, deg: number) => `turned ${say.angle(deg)}`,
    wide: (say: Say, widthMm: number) => `${say.len(widthMm)} wide`,
    moved: (say: Say, p: { widthMm: number; xMm: number; yMm: number; angleDeg: number }) =>
      `${en.stage.across(say, p.xMm)}, ${en.stage.down(say, p.yMm)}, ${en.stage.wide(say, p.widthMm)}${
        p.angleDeg === 0 ? '' : `, ${en.stage.turn(say, p.angleDeg)}`
      }`,
    outside: 'reaches outside the printable area',
    inKeepOut: (_say: Say, name: string) => `touches ${name}`,
    loading: 'picture on its way',
    failed: 'picture cannot be shown',
    dropHere: 'Drop artwork here',
    chooseFile: 'or choose a file',
    sizeArea: (_say: Say, sizes: string) => `room on ${sizes}`,
  },
};
export type Messages = typeof en;

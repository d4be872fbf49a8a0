import { describe, expect, it } from 'vitest';
import type { PublicCatalog } from '../../../src/catalog/index.ts';
import { emptyLine } from '../../../widget/draft/draft.ts';
import { withBlank } from '../../../widget/draft/with-blank.ts';

type Blank = PublicCatalog['blanks'][number];

const blank = (id: string, sizes: string[], colors: string[], faces: string[]): Blank =>
  ({
    id,
    sizes: sizes.map((size) => ({ id: size })),
    colors: colors.map((color) => ({ id: color })),
    faces: faces.map((face) => ({ id: face })),
  }) as Blank;

const line = {
  ...emptyLine('line-1'),
  blank: 'tee',
  color: 'navy',
  counts: [
    { size: 's', count: 2 },
    { size: 'm', count: 3 },
  ],
  placements: ['front', 'sleeve'].map((face) => ({ id: face, face }) as never),
  finish: 'soft',
};

describe('choosing another blank', () => {
  it('keeps the color, sizes and faces that both blanks have', () => {
    const changed = withBlank(line, blank('hoodie', ['m', 'l'], ['black', 'navy'], ['front']), 'standard');
    expect(changed).toMatchObject({ blank: 'hoodie', color: 'navy', finish: 'soft' });
    expect(changed.counts).toEqual([{ size: 'm', count: 3 }]);
    expect(changed.placements.map(({ face }) => face)).toEqual(['front']);
  });

  it('takes the first color and no sizes where the blanks have none in common', () => {
    const changed = withBlank(line, blank('cap', ['one', 'kids'], ['red'], ['front']), 'standard');
    expect(changed).toMatchObject({ color: 'red', counts: [] });
  });

  it('gives all pieces to the only size of a blank, and at least one', () => {
    const mug = blank('mug', ['one'], ['white'], ['around']);
    expect(withBlank(line, mug, null).counts).toEqual([{ size: 'one', count: 5 }]);
    expect(withBlank(emptyLine('line-2'), mug, 'standard')).toMatchObject({
      counts: [{ size: 'one', count: 1 }],
      finish: 'standard',
    });
  });
});

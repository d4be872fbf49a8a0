import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differencesOf } from '../../../src/catalog/differences.ts';
import { shopInput } from '../../fixtures/shop.ts';

describe('differencesOf', () => {
  it('identifies entries by id, so that an insertion is one difference', () => {
    const before = shopInput();
    const after = structuredClone(before);
    after.blanks[0]!.sizes.unshift({ id: 'xs', name: 'XS', cost: '2.90' });
    after.blanks[0]!.sizes[2]!.cost = '3.10';
    expect(differencesOf(before, after)).toEqual([
      { kind: 'added', at: 'blanks.tee.sizes.xs', after: { id: 'xs', name: 'XS', cost: '2.90' } },
      { kind: 'changed', at: 'blanks.tee.sizes.m.cost', before: '3.00', after: '3.10' },
    ]);
  });

  it('finds what was removed and what was moved', () => {
    const before = { list: [{ id: 'a' }, { id: 'b' }, { id: 'c' }], note: 'old' };
    const after = { list: [{ id: 'c' }, { id: 'a' }] };
    expect(differencesOf(before, after)).toEqual([
      { kind: 'moved', at: 'list.c', before: 2, after: 0 },
      { kind: 'moved', at: 'list.a', before: 0, after: 1 },
      { kind: 'removed', at: 'list.b', before: { id: 'b' } },
      { kind: 'removed', at: 'note', before: 'old' },
    ]);
  });

  it('finds none if and only if the values are equal', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (one, other) => {
        expect(differencesOf(one, structuredClone(one))).toEqual([]);
        const same = JSON.stringify(one) === JSON.stringify(other);
        if (!same && differencesOf(one, other).length === 0) {
          // Only the order of members or inherited names could hide a difference.
          expect(one).toEqual(other);
        }
      }),
    );
  });
});

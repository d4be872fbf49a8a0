import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Slip } from '../../../src/contract/index.ts';
import {
  type Draft,
  type DraftLine,
  emptyDraft,
  emptyLine,
  firstMissing,
  freeId,
  toSlip,
  withCount,
} from '../../../widget/draft/draft.ts';
import { readDraft } from '../../../widget/draft/read-draft.ts';
import { draftFromLink, draftToLink } from '../../../widget/draft/slip-link.ts';

const HASH = 'a'.repeat(64);

const finished = (id = 'line-1'): DraftLine => ({
  ...emptyLine(id),
  blank: 'tee',
  color: 'black',
  counts: [{ size: 'm', count: 2 }],
  placements: [
    {
      id: 'art-1',
      face: 'front',
      artwork: HASH,
      remedies: [],
      xMm: 0,
      yMm: 100.25,
      widthMm: 87.3,
      angleDeg: 33.33,
    },
  ],
  finish: 'standard',
});
const draft = (lines: DraftLine[]): Draft => ({ ...emptyDraft(), lines, delivery: 'pick-up' });

describe('a draft', () => {
  it('asks for what is missing, in the order of the slip', () => {
    const line = finished();
    expect(firstMissing(emptyLine('line-1'))).toBe('item');
    expect(firstMissing({ ...line, color: null })).toBe('color');
    expect(firstMissing({ ...line, counts: [] })).toBe('sizes');
    expect(firstMissing({ ...line, placements: [] })).toBe('artwork');
    expect(firstMissing({ ...line, placements: [{ ...line.placements[0]!, artwork: 'unsent-1' }] })).toBe(
      'upload',
    );
    expect(firstMissing({ ...line, finish: null })).toBe('finish');
    expect(firstMissing(line)).toBeNull();
  });

  it('becomes a valid slip without its unfinished lines', () => {
    const slip = toSlip(draft([finished(), emptyLine('line-2')]));
    expect(Slip.parse(slip).lines.map((line) => line.id)).toEqual(['line-1']);
  });

  it('is no slip while no line is finished or no delivery is chosen', () => {
    expect(toSlip(draft([emptyLine('line-1')]))).toBeNull();
    expect(toSlip({ ...draft([finished()]), delivery: null })).toBeNull();
  });

  it('survives a link unchanged', () => {
    const before = draft([{ ...finished(), placements: [{ ...finished().placements[0]!, widthMm: 1 / 3 }] }]);
    expect(draftFromLink(draftToLink(before))).toEqual(before);
  });

  it('is unchanged after twenty saves and loads', () => {
    const first = draft([finished()]);
    let text = JSON.stringify(first);
    for (let round = 0; round < 20; round++) text = JSON.stringify(readDraft(JSON.parse(text)));
    expect(text).toBe(JSON.stringify(first));
  });

  it('is read from any JSON without an error', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const read = readDraft(value);
        if (read) expect(readDraft(JSON.parse(JSON.stringify(read)))).toEqual(read);
      }),
    );
    expect(draftFromLink('%%%')).toBeNull();
    expect(readDraft({ format: 2, lines: [emptyLine('x')] })).toBeNull();
  });

  it('leaves out a placement with invalid numbers', () => {
    const bad = JSON.parse(JSON.stringify(draft([finished()])));
    bad.lines[0].placements[0].widthMm = 'NaN';
    expect(readDraft(bad)?.lines[0]?.placements).toEqual([]);
  });

  it('keeps sizes in the order of the blank and removes those of count 0', () => {
    const order = ['s', 'm', 'l'];
    let line = withCount({ ...finished(), counts: [] }, 'l', 3, order);
    line = withCount(line, 's', 1, order);
    expect(line.counts).toEqual([
      { size: 's', count: 1 },
      { size: 'l', count: 3 },
    ]);
    expect(withCount(line, 's', 0, order).counts).toEqual([{ size: 'l', count: 3 }]);
  });

  it('takes the smallest free id', () => {
    expect(freeId('art', ['art-1', 'art-3'])).toBe('art-2');
    expect(freeId('art', [])).toBe('art-1');
  });
});

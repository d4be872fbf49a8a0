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
import { History } from '../../../widget/draft/history.ts';
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

  it('becomes a slip the contract takes, without its unfinished lines', () => {
    const slip = toSlip(draft([finished(), emptyLine('line-2')]));
    expect(Slip.parse(slip).lines.map((line) => line.id)).toEqual(['line-1']);
  });

  it('is no slip while nothing is finished or no delivery is known', () => {
    expect(toSlip(draft([emptyLine('line-1')]))).toBeNull();
    expect(toSlip({ ...draft([finished()]), delivery: null })).toBeNull();
  });

  it('comes back from a link as it went', () => {
    const before = draft([{ ...finished(), placements: [{ ...finished().placements[0]!, widthMm: 1 / 3 }] }]);
    expect(draftFromLink(draftToLink(before))).toEqual(before);
  });

  it('is the same after twenty saves and loads', () => {
    const first = draft([finished()]);
    let text = JSON.stringify(first);
    for (let round = 0; round < 20; round++) text = JSON.stringify(readDraft(JSON.parse(text)));
    expect(text).toBe(JSON.stringify(first));
  });

  it('survives whatever storage or a link may hold', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const read = readDraft(value);
        if (read) expect(readDraft(JSON.parse(JSON.stringify(read)))).toEqual(read);
      }),
    );
    expect(draftFromLink('%%%')).toBeNull();
    expect(readDraft({ format: 2, lines: [emptyLine('x')] })).toBeNull();
  });

  it('drops a placement whose numbers are not numbers', () => {
    const bad = JSON.parse(JSON.stringify(draft([finished()])));
    bad.lines[0].placements[0].widthMm = 'NaN';
    expect(readDraft(bad)?.lines[0]?.placements).toEqual([]);
  });

  it('keeps sizes in the order of the blank and takes 0 off', () => {
    const order = ['s', 'm', 'l'];
    let line = withCount({ ...finished(), counts: [] }, 'l', 3, order);
    line = withCount(line, 's', 1, order);
    expect(line.counts).toEqual([
      { size: 's', count: 1 },
      { size: 'l', count: 3 },
    ]);
    expect(withCount(line, 's', 0, order).counts).toEqual([{ size: 'l', count: 3 }]);
  });

  it('gives the same id for the same steps', () => {
    expect(freeId('art', ['art-1', 'art-3'])).toBe('art-2');
    expect(freeId('art', [])).toBe('art-1');
  });
});

describe('undo', () => {
  it('goes back and forth over any steps', () => {
    fc.assert(
      fc.property(fc.array(fc.integer(), { minLength: 1, maxLength: 40 }), (values) => {
        const history = new History<number>(-1);
        for (const value of values) history.push(value);
        for (let i = 0; i < values.length; i++) history.undo();
        expect(history.present).toBe(-1);
        expect(history.canUndo).toBe(false);
        for (let i = 0; i < values.length; i++) history.redo();
        expect(history.present).toBe(values.at(-1));
      }),
    );
  });

  it('takes a drag as one step, and the next drag as another', () => {
    const history = new History(0);
    for (const value of [1, 2, 3]) history.push(value, 'drag');
    history.endGroup();
    history.push(4, 'drag');
    expect(history.undo()).toBe(3);
    expect(history.undo()).toBe(0);
  });

  it('takes a drag that was put back as no step', () => {
    const history = new History({ x: 0 });
    history.push({ x: 5 });
    for (const x of [6, 9, 5]) history.push({ x }, 'drag');
    history.endGroup();
    expect(history.undo()).toEqual({ x: 0 });
    expect(history.canUndo).toBe(false);
  });

  it('keeps what the shop answered through undo: an amended value is in the past too', () => {
    const history = new History(['unsent']);
    history.push(['unsent', 'second']);
    history.rewrite((list) => list.map((entry) => (entry === 'unsent' ? 'sent' : entry)));
    expect(history.undo()).toEqual(['sent']);
  });
});

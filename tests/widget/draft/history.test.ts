import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { History } from '../../../widget/draft/history.ts';

describe('undo', () => {
  it('goes back and forth over any number of steps', () => {
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

  it('takes each drag as one step', () => {
    const history = new History(0);
    for (const value of [1, 2, 3]) history.push(value, 'drag');
    history.endGroup();
    history.push(4, 'drag');
    expect(history.undo()).toBe(3);
    expect(history.undo()).toBe(0);
  });

  it('takes a drag back to where it began as no step', () => {
    const history = new History({ x: 0 });
    history.push({ x: 5 });
    for (const x of [6, 9, 5]) history.push({ x }, 'drag');
    history.endGroup();
    expect(history.undo()).toEqual({ x: 0 });
    expect(history.canUndo).toBe(false);
  });

  it('keeps a rewritten value, as past values are rewritten too', () => {
    const history = new History(['unsent']);
    history.push(['unsent', 'second']);
    history.rewrite((list) => list.map((entry) => (entry === 'unsent' ? 'sent' : entry)));
    expect(history.undo()).toEqual(['sent']);
  });
});

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { QuoteAnswer } from '../../../src/contract/index.ts';
import { BASE, type MutableSlip, openTestApi, placed, problemOf, type TestApi } from '../test-api.ts';

let rig: TestApi;
beforeAll(async () => {
  rig = await openTestApi();
});
afterAll(() => rig.close());

const TEAM = ['ADA', 'BO', 'CY', 'DEE', 'ÉVE', 'FLO', '07', "O'HARA"];

type Names = NonNullable<MutableSlip['lines'][number]['names']>;

/** A tee for each text, with the text on its back. */
function named(texts: readonly string[], change: (names: Names) => void = () => {}) {
  return rig.slip((slip) => {
    const line = slip.lines[0]!;
    line.color = 'navy';
    line.counts = [{ size: 'm', count: texts.length }];
    line.placements = [];
    line.names = {
      id: 'names',
      face: 'back',
      font: 'condensed-bold',
      hex: '#ffffff',
      xMm: 0,
      yMm: 120,
      angleDeg: 0,
      capHeightMm: 50,
      widthMm: 260,
      entries: texts.map((text) => ({ size: 'm', text })),
    };
    change(line.names);
  });
}

async function faultsOf(slip: unknown) {
  const problem = await problemOf(await rig.post(`${BASE}/quotes`, { slip }));
  return { code: problem.code, status: problem.status, faults: problem.faults };
}

describe('names, one for each piece', () => {
  it('make the transfer win for a small run, but not for a run of one text', async () => {
    const methodOf = ({ lines }: QuoteAnswer) => lines[0]!.placements[0]!.method.id;
    const each = await rig.quote(named(TEAM));
    expect(methodOf(each)).toBe('white-toner-transfer');
    expect(each.because.map(({ code }) => code)).toContain('each-different');
    const alike = await rig.quote(named(Array.from({ length: 96 }, () => 'CREW')));
    expect(methodOf(alike)).toBe('garment-print');
  });

  it('are stored with the order for the floor', async () => {
    const { number } = await placed(await rig.order(named(TEAM)));
    const ticket = await (await rig.own(`/tickets/${number}`)).text();
    for (const text of TEAM) expect(ticket).toContain(JSON.stringify(text).slice(1, -1));
  });

  it('are charged by the piece', async () => {
    const answer = await rig.quote(named(TEAM));
    const charge = answer.lines[0]!.charges.find(({ code }) => code === 'names')!;
    expect(charge.amount).toBe((3 * TEAM.length).toFixed(2));
  });
});

describe('invalid names', () => {
  const entry = (place: number, change: object) =>
    TEAM.map((text, index) => ({ size: 'm', text, ...(index === place ? change : {}) }));
  const cases: readonly (readonly [what: string, change: object, at: string, status?: number])[] = [
    ['a face of type there is not', { font: 'curly' }, 'font', 422],
    ['a face the blank has not', { face: 'lid' }, 'face', 422],
    ['a letter the face of type lacks', { entries: entry(1, { text: '王' }) }, 'entries.1.text'],
    ['a picture for a letter', { entries: entry(0, { text: 'ADA 🎉' }) }, 'entries.0.text'],
    ['a sign that turns text around', { entries: entry(2, { text: 'A\u202eB' }) }, 'entries.2.text'],
    ['a line break', { entries: entry(2, { text: 'A\nB' }) }, 'entries.2.text'],
    ['a name short', { entries: entry(9, {}).slice(1) }, 'entries'],
    ['a name too many', { entries: [...entry(9, {}), { size: 'm', text: 'X' }] }, 'entries'],
    ['a size the line has not', { entries: entry(0, { size: 'xl' }) }, 'entries.0.size'],
    ['nothing but space', { entries: entry(3, { text: ' \u00a0\t' }) }, 'entries.3.text'],
    ['no end', { entries: entry(3, { text: 'A'.repeat(41) }) }, 'entries.3.text'],
    ['a number for a text', { entries: entry(6, { text: 7 }) }, 'entries.6.text'],
    ['letters too high', { capHeightMm: 401 }, 'capHeightMm'],
    ['a color by name', { hex: 'white' }, 'hex'],
  ];
  it.each(cases)('%s: a fault at its place', async (_, change, at, status = 400) => {
    const found = await faultsOf(named(TEAM, (names) => Object.assign(names, change)));
    expect(found).toMatchObject({ status, code: status === 422 ? 'unknown-id' : 'invalid-input' });
    expect(found.faults.map((fault) => fault.at)).toContain(`slip.lines.0.names.${at}`);
    for (const fault of found.faults) expect(fault.message).not.toBe('');
  });

  it('every name is reported, with the code of each letter', async () => {
    const { faults } = await faultsOf(named(['ADA', '王', 'B\u200bO', '🎉']));
    expect(faults.map(({ at, message }) => [at, message])).toEqual([
      ['slip.lines.0.names.entries.1.text', 'the face of type "condensed-bold" lacks "王" (U+738B)'],
      ['slip.lines.0.names.entries.2.text', 'the face of type "condensed-bold" lacks U+200B'],
      ['slip.lines.0.names.entries.3.text', 'the face of type "condensed-bold" lacks "🎉" (U+1F389)'],
    ]);
  });

  it('too many names are refused', async () => {
    const { faults } = await faultsOf(named(Array.from({ length: 2_001 }, () => 'A')));
    expect(faults.map(({ at }) => at)).toContain('slip.lines.0.names.entries');
  });

  it('letters too small for their strokes are refused, with the size needed', async () => {
    const slip = named(['BARTHOLOMEW'], (names) => {
      names.capHeightMm = 3;
      names.widthMm = 10;
    });
    const refusal = (await (await rig.post(`${BASE}/quotes`, { slip })).json()) as {
      kind: string;
      nearest: { code: string; params: { capHeightMm: number; widthMm: number } }[];
    };
    expect(refusal.kind).toBe('refusal');
    const { capHeightMm, widthMm } = refusal.nearest.find(({ code }) => code === 'larger-letters')!.params;
    await rig.quote(named(['BARTHOLOMEW'], (names) => Object.assign(names, { capHeightMm, widthMm })));
  });
});

import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FilePool, openFilePool } from '../../../api/files/index.ts';
import { ArtworkAnswer, ProofAnswer, type SlipInput } from '../../../src/contract/index.ts';
import {
  BASE,
  disc,
  type MutableSlip,
  openTestApi,
  orderBody,
  placed,
  problemOf,
  type TestApi,
} from '../test-api.ts';

let pool: FilePool;
let rig: TestApi;
let artwork: string;
beforeAll(async () => {
  pool = await openFilePool({ size: 1 });
  rig = await openTestApi({ pool });
  const { data, width, height } = disc(400, 300, 120);
  const png = await sharp(data, { raw: { width, height, channels: 4 } })
    .png()
    .toBuffer();
  const sent = await rig.fetch(`${BASE}/artworks`, { method: 'POST', body: new Uint8Array(png) });
  artwork = ArtworkAnswer.parse(await sent.json()).id;
});
afterAll(async () => {
  await rig.close();
  await pool.close();
});

const slipOf = (change?: (line: MutableSlip['lines'][number]) => void): SlipInput =>
  rig.slip((slip) => {
    slip.lines[0]!.placements![0]!.artwork = artwork;
    change?.(slip.lines[0]!);
  });

/** A blue name on the back of each piece. */
const withNames = (...texts: readonly string[]) =>
  slipOf((line) => {
    line.names = {
      id: 'names',
      face: 'back',
      font: 'slab-bold',
      hex: '#0057b8',
      xMm: 0,
      yMm: 80,
      angleDeg: 0,
      capHeightMm: 60,
      widthMm: 260,
      entries: texts.map((text) => ({ size: 'm', text })),
    };
  });

const draw = (slip: SlipInput, view = 'front', line = 'tees') =>
  rig.post(`${BASE}/proofs`, { slip, line, view });

async function drawn(slip: SlipInput, view?: string) {
  const response = await draw(slip, view);
  expect(response.status).toBe(200);
  const answer = ProofAnswer.parse(await response.json());
  const picture = await rig.fetch(answer.url);
  expect(picture.status).toBe(200);
  const { data, info } = await sharp(Buffer.from(await picture.arrayBuffer()))
    .raw()
    .toBuffer({ resolveWithObject: true });
  /** Counts pixels that are clearly blue, or clearly red. */
  let [blue, red] = [0, 0];
  for (let at = 0; at < data.length; at += info.channels) {
    if (data[at + 2]! - Math.max(data[at]!, data[at + 1]!) > 60) blue++;
    if (data[at]! - Math.max(data[at + 1]!, data[at + 2]!) > 60) red++;
  }
  return { answer, picture, blue, red };
}

describe('the proof routes', () => {
  it('name a proof by its hash; it never changes and is sandboxed when opened on its own', async () => {
    const first = await drawn(slipOf());
    expect(first.red).toBeGreaterThan(1000);
    expect(first.answer).toEqual({
      line: 'tees',
      view: 'front',
      hash: expect.stringMatching(/^[0-9a-f]{64}$/),
      url: `${BASE}/proofs/${first.answer.hash}.png`,
    });
    expect(Object.fromEntries(first.picture.headers)).toMatchObject({
      'content-type': 'image/png',
      etag: `"${first.answer.hash}"`,
      'cache-control': expect.stringContaining('immutable'),
      'content-security-policy': "default-src 'none'; sandbox",
      'x-content-type-options': 'nosniff',
    });
    const again = await rig.fetch(first.answer.url, {
      headers: { 'if-none-match': `"${first.answer.hash}"` },
    });
    expect(again.status).toBe(304);
    expect((await drawn(slipOf())).answer).toEqual(first.answer);
    const moved = await drawn(slipOf((line) => (line.placements![0]!.xMm = 12)));
    expect(moved.answer.hash).not.toBe(first.answer.hash);
  });

  it('show the name of the first piece, and say so', async () => {
    const { answer, blue, red } = await drawn(withNames('KESTREL', 'Ögür', '10'), 'back');
    expect(answer.name).toEqual({ text: 'KESTREL', pieces: 3 });
    expect(red).toBe(0);
    // 7 letters, 60 mm high, on a back of about 600 mm drawn 1200 px high.
    expect(blue).toBeGreaterThan(3000);
    const other = await drawn(withNames('10', 'Ögür', 'KESTREL'), 'back');
    expect(other.answer.name).toEqual({ text: '10', pieces: 3 });
    expect(other.blue).toBeLessThan(blue / 2);
    const front = await drawn(withNames('KESTREL', 'Ögür', '10'), 'front');
    expect(front.answer.name).toBeUndefined();
    expect([front.blue, front.red > 1000]).toEqual([0, true]);
  });

  it('accept a proof as approval of its own slip only', async () => {
    const slip = withNames('KESTREL', 'Ögür', '10');
    const { answer } = await drawn(slip, 'back');
    const order = async (wanted: SlipInput, key: string) => {
      const { token } = await rig.quote(wanted);
      return rig.post(
        `${BASE}/orders`,
        { ...orderBody(token, wanted), proofs: [answer.hash] },
        { 'idempotency-key': `"proof-${key}-0123456789"` },
      );
    };
    await placed(await order(slip, 'same'));
    const renamed = await problemOf(await order(withNames('KESTREL', 'Ögür', '11'), 'renamed'));
    expect(renamed.status).toBeGreaterThanOrEqual(400);
    expect(renamed.faults[0]).toMatchObject({ at: 'proofs.0' });
  });

  it.each([
    ['line', { line: 'caps' }, 'unknown-id', 'line'],
    ['view', { view: 'inside' }, 'unknown-id', 'view'],
  ])('refuse an unknown %s, with the known ones', async (_, wrong, code, at) => {
    const problem = await problemOf(
      await rig.post(`${BASE}/proofs`, { slip: slipOf(), line: 'tees', view: 'front', ...wrong }),
    );
    expect(problem).toMatchObject({ status: 422, code });
    expect(problem.faults[0]).toMatchObject({ at, value: Object.values(wrong)[0] });
    expect(problem.faults[0]!.allowed).toMatch(at === 'line' ? /tees/ : /front/);
  });

  it('refuse a slip that cannot be made', async () => {
    const huge = slipOf((line) => (line.placements![0]!.widthMm = 2000));
    expect(await problemOf(await draw(huge))).toMatchObject({ code: 'invalid-input' });
    const missing = slipOf((line) => (line.placements![0]!.artwork = 'e'.repeat(64)));
    expect(await problemOf(await draw(missing))).toMatchObject({ code: 'unknown-artwork' });
  });

  it('answer 404 for a proof that was never drawn', async () => {
    expect((await rig.fetch(`${BASE}/proofs/${'0'.repeat(64)}.png`)).status).toBe(404);
    // An artwork is not available as a proof.
    expect((await rig.fetch(`${BASE}/proofs/${artwork}.png`)).status).toBe(404);
  });
});

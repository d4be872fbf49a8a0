import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FilePool, openFilePool } from '../../../api/files/index.ts';
import { ArtworkAnswer } from '../../../src/contract/index.ts';
import { BASE, disc, openTestApi, placed, problemOf, type TestApi } from '../test-api.ts';

let pool: FilePool;
let rig: TestApi;
let png: Buffer;
beforeAll(async () => {
  pool = await openFilePool({ size: 2 });
  rig = await openTestApi({ pool });
  png = await pngOf(120);
});
afterAll(async () => {
  await rig.close();
  await pool.close();
});

async function pngOf(radius: number): Promise<Buffer> {
  const { data, width, height } = disc(400, 300, radius);
  return sharp(data, { raw: { width, height, channels: 4 } })
    .png()
    .toBuffer();
}

function form(
  ...parts: readonly (readonly [name: string, bytes: Uint8Array | string, file?: string])[]
): RequestInit {
  const body = new FormData();
  for (const [name, content, file] of parts)
    if (file === undefined) body.append(name, content as string);
    else body.append(name, new Blob([content as Uint8Array<ArrayBuffer>]), file);
  return { method: 'POST', body };
}
const send = (init: RequestInit) => rig.fetch(`${BASE}/artworks`, init);

describe('sending an artwork', () => {
  it('in a form or as the body gives the same artwork', async () => {
    const first = await send(form(['file', png, 'disc.png']));
    expect(first.status).toBe(201);
    const artwork = ArtworkAnswer.parse(await first.json());
    expect(first.headers.get('location')).toBe(`${BASE}/artworks/${artwork.id}`);
    expect(artwork).toMatchObject({
      name: 'disc.png',
      source: { kind: 'png', bytes: png.length },
      remedies: [],
    });
    expect(artwork.facts).toMatchObject({ widthPx: 400, heightPx: 300 });

    const raw = await send({
      method: 'POST',
      headers: { 'content-type': 'image/jpeg', 'content-disposition': 'attachment; filename="../other.png"' },
      body: new Uint8Array(png),
    });
    // Known already, under any name; its bytes decide its kind.
    expect(raw.status).toBe(200);
    expect(await raw.json()).toEqual(artwork);
    expect(await (await rig.fetch(`${BASE}/artworks/${artwork.id}`)).json()).toEqual(artwork);
  });

  it('gives a preview that can only be displayed', async () => {
    const artwork = ArtworkAnswer.parse(await (await send(form(['file', png, 'disc.png']))).json());
    const preview = await rig.fetch(artwork.preview);
    expect(preview.status).toBe(200);
    expect(preview.headers.get('content-type')).toBe('image/png');
    expect(preview.headers.get('content-security-policy')).toContain('sandbox');
    expect(preview.headers.get('cache-control')).toContain('immutable');
    const bytes = Buffer.from(await preview.arrayBuffer());
    expect(await sharp(bytes).metadata()).toMatchObject({ format: 'png', width: 400, height: 300 });
    const again = await rig.fetch(artwork.preview, {
      headers: { 'if-none-match': preview.headers.get('etag')! },
    });
    expect(again.status).toBe(304);
  });

  it('with several files is refused, with their names', async () => {
    const problem = await problemOf(
      await send(
        form(['file', png, 'one.png'], ['file', await pngOf(50), 'two.png'], ['file', png, 'three.png']),
      ),
    );
    expect(problem).toMatchObject({ status: 400, code: 'invalid-input' });
    expect(problem.faults[0]).toMatchObject({ at: 'file', value: 'one.png, two.png, three.png' });
  });

  it.each([
    ['a part of another name', () => form(['upload', png, 'x.png']), 'upload'],
    ['a text in place of a file', () => form(['file', 'words']), 'file'],
    ['an empty form', () => ({ method: 'POST', body: new FormData() }), 'file'],
    [
      'a form that is none',
      () => ({
        method: 'POST',
        headers: { 'content-type': 'multipart/form-data; boundary=x' },
        body: 'nonsense',
      }),
      'file',
    ],
    ['no bytes', () => ({ method: 'POST', headers: { 'content-type': 'image/png' }, body: '' }), 'file'],
    ['a file of no bytes', () => form(['file', new Uint8Array(), 'empty.png']), 'file'],
  ] as const)('%s is refused with its place', async (_, init, at) => {
    const problem = await problemOf(await send(init()));
    expect(problem).toMatchObject({ status: 400, code: 'invalid-input' });
    expect(problem.faults[0]!.at).toBe(at);
  });

  it('of an unsupported kind is answered with the supported ones', async () => {
    const page = await problemOf(await send(form(['file', Buffer.from('<!doctype html><p>x'), 'x.jpg'])));
    expect(page).toMatchObject({ status: 415, code: 'unsupported-file' });
    expect(page.detail).toContain('PNG');
    const cut = await problemOf(await send(form(['file', png.subarray(0, png.length / 2), 'x.png'])));
    expect(cut).toMatchObject({ status: 422, code: 'unreadable-file' });
    expect(cut.detail).toContain('incomplete');
    const clear = await sharp({ create: { width: 20, height: 20, channels: 4, background: '#0000' } })
      .png()
      .toBuffer();
    expect((await problemOf(await send(form(['file', clear, 'x.png'])))).detail).toContain(
      'nothing to print',
    );
  });

  it('is refused with a retry time if too many are waiting', async () => {
    const small = await openFilePool({ size: 1, queue: 0 });
    const busy = await openTestApi({ pool: small });
    try {
      await small.ready();
      const answers = await Promise.all(
        [30, 40, 50, 60].map(async (radius) =>
          busy.fetch(`${BASE}/artworks`, form(['file', await pngOf(radius), 'x.png'])),
        ),
      );
      const refused = answers.filter(({ status }) => status === 503);
      expect(refused.length).toBeGreaterThan(0);
      expect(answers.filter(({ status }) => status === 201).length).toBeGreaterThan(0);
      expect(Number(refused[0]!.headers.get('retry-after'))).toBeGreaterThan(0);
      expect((await problemOf(refused[0]!)).code).toBe('busy');
    } finally {
      await busy.close();
      await small.close();
    }
  });

  it('twenty times at once makes one artwork', async () => {
    const twice = await pngOf(77);
    const answers = await Promise.all(
      Array.from({ length: 12 }, () => send(form(['file', twice, 'x.png'])).then((answer) => answer.json())),
    );
    expect(new Set(answers.map((answer) => (answer as { id: string }).id)).size).toBe(1);
  });
});

describe('applying remedies to an artwork', () => {
  const remedies = [{ kind: 'recolor', hex: '#00ff00' }];

  it('measures it again and shows it', async () => {
    const { id } = ArtworkAnswer.parse(await (await send(form(['file', png, 'disc.png']))).json());
    const response = await rig.post(`${BASE}/artworks/${id}/mended`, { remedies });
    expect(response.status).toBe(200);
    const mended = ArtworkAnswer.parse(await response.json());
    expect(mended).toMatchObject({ id, remedies });
    expect(mended.facts.colors[0]!.hex.toLowerCase()).toBe('#00ff00');
    const { data, info } = await sharp(Buffer.from(await (await rig.fetch(mended.preview)).arrayBuffer()))
      .raw()
      .toBuffer({ resolveWithObject: true });
    const middle = 4 * (150 * info.width + 200);
    expect([...data.subarray(middle, middle + 4)]).toEqual([0, 255, 0, 255]);
    // A quote may name remedies that were not requested before: a browser tried them itself.
    const slip = rig.slip((s) => {
      s.lines[0]!.placements![0]!.artwork = id;
      s.lines[0]!.placements![0]!.remedies = [{ kind: 'trim' }];
    });
    expect((await rig.quote(slip)).kind).toBe('quote');
  });

  it('requires known remedies and a known artwork', async () => {
    const { id } = ArtworkAnswer.parse(await (await send(form(['file', png, 'disc.png']))).json());
    const wrong = await problemOf(
      await rig.post(`${BASE}/artworks/${id}/mended`, { remedies: [{ kind: 'sharpen' }] }),
    );
    expect(wrong).toMatchObject({ status: 400, code: 'invalid-input' });
    const none = await rig.post(`${BASE}/artworks/${'0'.repeat(64)}/mended`, { remedies });
    expect(await problemOf(none)).toMatchObject({ status: 404, code: 'not-found' });
  });
});

describe('an owner', () => {
  it('can download the original file under its name', async () => {
    const bytes = await pngOf(33);
    const name = 'Größe "1"\r\nX-Evil: 1\u202egnp.exe';
    const { id } = ArtworkAnswer.parse(await (await send(form(['file', bytes, name]))).json());
    expect((await rig.fetch(`${BASE}/owner/artworks/${id}/original`)).status).toBe(401);
    const original = await rig.own(`/artworks/${id}/original`);
    expect(Buffer.from(await original.arrayBuffer())).toEqual(bytes);
    expect(original.headers.get('content-type')).toBe('application/octet-stream');
    expect(original.headers.get('content-security-policy')).toContain('sandbox');
    const disposition = original.headers.get('content-disposition')!;
    expect(disposition).toMatch(/^attachment; filename\*=UTF-8''Gr%C3%B6%C3%9Fe%20/);
    expect(decodeURIComponent(disposition)).not.toMatch(/[\r\n\u202e]/);
    expect(original.headers.get('x-evil')).toBeNull();
  });

  it('can delete an artwork with its pictures, unless an order uses it', async () => {
    const bytes = await pngOf(131);
    const artwork = ArtworkAnswer.parse(await (await send(form(['file', bytes, 'x.png']))).json());
    const slip = rig.slip((s) => {
      s.lines[0]!.placements![0]!.artwork = artwork.id;
    });
    const gone = await rig.own(`/artworks/${artwork.id}`, { method: 'DELETE' });
    expect(gone.status).toBe(204);
    expect((await rig.fetch(`${BASE}/artworks/${artwork.id}`)).status).toBe(404);
    expect((await rig.fetch(artwork.preview)).status).toBe(404);
    expect((await rig.own(`/artworks/${artwork.id}/original`)).status).toBe(404);
    expect((await rig.own(`/artworks/${artwork.id}`, { method: 'DELETE' })).status).toBe(404);

    await send(form(['file', bytes, 'x.png']));
    await placed(await rig.order(slip));
    const used = await problemOf(await rig.own(`/artworks/${artwork.id}`, { method: 'DELETE' }));
    expect(used).toMatchObject({ status: 409, code: 'artwork-in-use' });
    expect((await rig.fetch(artwork.preview)).status).toBe(200);
  });

  it('has orders refused for an artwork deleted after the quote', async () => {
    const bytes = await pngOf(132);
    const { id } = ArtworkAnswer.parse(await (await send(form(['file', bytes, 'x.png']))).json());
    const slip = rig.slip((s) => {
      s.lines[0]!.placements![0]!.artwork = id;
    });
    const { token } = await rig.quote(slip);
    await rig.own(`/artworks/${id}`, { method: 'DELETE' });
    const body = { token, slip, contact: { name: 'A', email: 'a@example.org' } };
    const problem = await problemOf(await rig.post(`${BASE}/orders`, body, { 'idempotency-key': '"gone"' }));
    expect(problem).toMatchObject({ status: 422, code: 'unknown-artwork' });
    expect(problem.faults[0]!.at).toBe('slip.lines.0.placements.0.artwork');
  });
});

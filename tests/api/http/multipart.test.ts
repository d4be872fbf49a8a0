import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FormError, readForm } from '../../../api/http/multipart.ts';

const TYPE = 'multipart/form-data; boundary=edge';

async function* cut(bytes: Uint8Array, sizes: readonly number[]): AsyncGenerator<Uint8Array> {
  for (let at = 0, turn = 0; at < bytes.length; turn++) {
    const size = Math.max(1, sizes[turn % sizes.length] ?? bytes.length);
    yield bytes.subarray(at, at + size);
    at += size;
  }
}

const part = (head: string, content: Uint8Array | string) =>
  Buffer.concat([
    Buffer.from(`--edge\r\nContent-Disposition: form-data; ${head}\r\n\r\n`),
    Buffer.from(content as Uint8Array),
    Buffer.from('\r\n'),
  ]);
const END = Buffer.from('--edge--\r\n');

describe('a multipart form', () => {
  it('is parsed the same for any chunks and any file content', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uint8Array({ maxLength: 300 }),
        fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 5 }),
        async (tail, sizes) => {
          // What looks like an edge, and is none.
          const content = Buffer.concat([Buffer.from('\r\n--edg\r\n-edge\r--edge'), tail]);
          const form = Buffer.concat([
            part('name="file"; filename="ä b.png"\r\nContent-Type: image/png', content),
            part('name="note"', 'words'),
            END,
          ]);
          const parts = await readForm(cut(form, sizes), TYPE, 1000);
          expect(parts.map(({ name }) => name)).toEqual(['file', 'note']);
          expect(parts[0]!.file!.name).toBe('ä b.png');
          expect(Buffer.from(parts[0]!.file!.bytes).equals(content)).toBe(true);
          expect(parts[1]!.file).toBeNull();
        },
      ),
    );
  });

  it('cuts a file one byte after the limit', async () => {
    const form = Buffer.concat([part('name="file"; filename="x"', Buffer.alloc(500, 1)), END]);
    expect((await readForm(cut(form, [64]), TYPE, 100))[0]!.file!.bytes.length).toBe(101);
    expect((await readForm(cut(form, [64]), TYPE, 500))[0]!.file!.bytes.length).toBe(500);
  });

  it('may have an empty file, and two files of one name', async () => {
    const twice = Buffer.concat([
      part('name="file"; filename="a"', ''),
      part('name="file"; filename="b"', 'bb'),
      END,
    ]);
    const parts = await readForm(cut(twice, [7]), TYPE, 100);
    expect(parts.map(({ file }) => [file!.name, file!.bytes.length])).toEqual([
      ['a', 0],
      ['b', 2],
    ]);
  });

  it.each([
    ['without a boundary', 'multipart/form-data', END],
    ['without its end', TYPE, part('name="file"; filename="x"', 'cut off')],
    ['of something else', TYPE, Buffer.from('{"file":1}')],
  ])('%s is refused', async (_, type, bytes) => {
    await expect(readForm(cut(bytes, [16]), type, 100)).rejects.toThrow(FormError);
  });

  it('is drained even if it is invalid, so that the sender reads the answer', async () => {
    let taken = 0;
    async function* watched() {
      for await (const piece of cut(Buffer.alloc(5000, 'x'), [100])) {
        taken += piece.length;
        yield piece;
      }
    }
    await expect(readForm(watched(), TYPE, 100)).rejects.toThrow(FormError);
    expect(taken).toBe(5000);
  });
});

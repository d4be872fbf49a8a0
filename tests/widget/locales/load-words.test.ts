import { expect, it } from 'vitest';
import { demoCatalog } from '../../../demo/catalog.ts';
import { checkCatalog } from '../../../src/catalog/check.ts';
import { publicView } from '../../../src/catalog/index.ts';
import { reason } from '../../../src/contract/index.ts';
import { loadWords } from '../../../widget/locales/load-words.ts';

it('says of which face a reason is where it is of one among several, and nothing before the words came', async () => {
  const { catalog } = checkCatalog(demoCatalog) as { catalog: Parameters<typeof publicView>[0] };
  let came: () => void = () => {};
  const coming = new Promise<void>((done) => {
    came = done;
  });
  const { words } = await loadWords('en', 'mm', publicView(catalog, 1), came, null);
  const flip = { count: 24, method: 'garment-print' };
  const ofBack = reason('method-flips-at', { ...flip, on: 'back' }, 'lines.0.placements.1');
  expect(words.reason(ofBack)).toBe('');
  await coming;
  const plain = words.reason(reason('method-flips-at', flip, 'lines.0'));
  expect(plain).toMatch(/^From 24 pieces on/);
  expect(words.reason(ofBack)).toBe(`Back: ${plain}`);
});

it('in the place of words that were all there, all of another language are there at once', async () => {
  const first = await loadWords('en', 'mm', null, () => {}, null);
  expect(first.words.ui('remove')).toBe('');
  await first.later.fetch();
  expect(first.words.ui('remove')).toBe('Remove');
  const { words } = await loadWords('de', 'mm', null, () => {}, first);
  expect([words.ui('remove'), words.state('accepted')]).toEqual(['Entfernen', 'Angenommen']);
});

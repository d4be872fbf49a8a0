import type { PricePolicy } from '../shop.ts';
import { type FaultList, listedIds, type Sections } from './sections.ts';

/** Checks the price policy. */
export function checkPrices(sections: Sections, list: FaultList): void {
  const { prices } = sections;
  if (prices === undefined) return;
  for (const member of ['margin', 'floorMargin'] as const)
    if (Number(prices[member]) >= 1)
      list.add(
        `prices.${member}`,
        prices[member],
        'a margin of 1 asks for an endless price: price = cost / (1 - margin)',
        'from 0 to less than 1',
      );
  checkEnding(prices, list);
  const first = new Map<string, number>();
  prices.list.forEach((entry, index) => {
    const at = `prices.list.${index}`;
    list.requireKnown(`${at}.blank`, entry.blank, sections.ids.blanks, 'blank');
    list.requireKnown(`${at}.finish`, entry.finish, sections.ids.finishes, 'finish');
    const pair = `${entry.blank} ${entry.finish}`;
    const before = first.get(pair);
    if (before === undefined) first.set(pair, index);
    else
      list.add(
        at,
        pair,
        'this blank and finish have a price already',
        `one entry for each; see prices.list.${before}`,
      );
    checkBreaks(at, entry.breaks, list);
  });
  if (prices.mode === 'list') checkComplete(sections, first, list);
}

function checkBreaks(at: string, breaks: PricePolicy['list'][number]['breaks'], list: FaultList): void {
  if (breaks[0]!.from !== 1)
    list.add(`${at}.breaks.0.from`, breaks[0]!.from, 'the first price does not start at one piece', '1');
  breaks.forEach((step, index) => {
    const before = breaks[index - 1];
    if (before === undefined) return;
    if (step.from <= before.from)
      list.add(
        `${at}.breaks.${index}.from`,
        step.from,
        'the counts of the breaks do not ascend',
        `more than ${before.from}`,
      );
    if (Number(step.unit) > Number(before.unit))
      list.add(
        `${at}.breaks.${index}.unit`,
        step.unit,
        'a larger count has a higher unit price',
        `at most ${before.unit}`,
      );
  });
}

function checkEnding(prices: PricePolicy, list: FaultList): void {
  if (prices.ending === null) return;
  const step = Number(prices.ending.step);
  if (step === 0)
    list.add(
      'prices.ending.step',
      prices.ending.step,
      'prices cannot rise in steps of nothing',
      'more than 0',
    );
  else if (Number(prices.ending.offset) >= step)
    list.add(
      'prices.ending.offset',
      prices.ending.offset,
      'the ending is not smaller than the step between prices',
      `less than ${prices.ending.step}`,
    );
}

/** In list mode every blank has a price in every finish. */
function checkComplete(sections: Sections, priced: ReadonlyMap<string, number>, list: FaultList): void {
  for (const { item: blank } of sections.blanks) {
    const missing = sections.finishes.filter(({ item: finish }) => !priced.has(`${blank.id} ${finish.id}`));
    for (const { item: finish } of missing)
      list.add(
        'prices.list',
        `${blank.id}, ${finish.id}`,
        `blank "${blank.id}" has no list price in finish "${finish.id}"`,
        `an entry for every blank (${listedIds(sections.ids.blanks)}) and finish (${listedIds(sections.ids.finishes)})`,
      );
  }
}

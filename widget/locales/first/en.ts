import type { Line } from '../message-format.ts';

/** The keys of every language: a new one goes into all files of this folder. */
const ui = {
  // the slip
  slip: 'Order slip',
  loading: 'One moment',
  'try-again': 'Try again',
  undo: 'Undo',
  redo: 'Redo',
  'not-saved': 'Not saved: this device has no storage left',
  offline: 'No connection. Your slip is kept; prices return once you are back online.',
  'copy-link': 'Copy a link to this slip',
  'link-copied': 'Link copied',
  print: 'Print the slip',
  millimeters: 'Millimeters',
  inches: 'Inches',
  // lines
  'line-of': (p, s) => `Line ${s.n(p.number)}: ${s.text(p.name)}`,
  'add-line': 'Add another item',
  'duplicate-line': 'Copy this line',
  'remove-line': 'Remove this line',
  'new-item': 'New item',
  'no-items': 'This shop has nothing to order right now.',
  item: 'Item',
  color: 'Color',
  sizes: 'Sizes',
  pieces: (p, s) => s.plural(p.count, { one: '# piece', other: '# pieces' }),
  'count-range': (p, s) => `A whole number up to ${s.n(p.most)}`,
  'lack-item': 'Choose an item',
  'lack-color': 'Choose a color',
  'lack-sizes': 'Enter how many of each size',
  'lack-artwork': 'Add artwork or names',
  'lack-upload': 'Your artwork is still uploading',
  'lack-finish': 'Choose a finish',
  'lack-names': 'The list needs one name for each piece',
  // artwork
  artwork: 'Artwork',
  placements: (p, s) => s.plural(p.count, { one: '# print', other: '# prints' }),
  'add-artwork': 'Add artwork',
  'drop-here': 'or drop a file here',
  'file-kinds': 'PNG, JPEG, WebP, AVIF, TIFF, GIF, SVG or PDF',
  'use-again': (p, s) => `Use ${s.text(p.name)} again`,
  sending: (p, s) => `${s.text(p.name)} is being sent`,
  face: 'Where',
  // names
  names: 'Names',
  'add-names': 'Add a name or number to each piece',
  'cell-refused': (p, s) =>
    `Row ${s.n(p.row)}, column ${s.n(p.column)}: “${s.text(p.text)}” was ignored. A count must be a whole number up to ${s.n(p.most)}, next to one of the sizes.`,
  'cells-refused': (p, s) =>
    s.plural(p.count, { one: '# more cell was ignored', other: '# more cells were ignored' }),
  // finish and price
  finish: 'Finish',
  method: 'Printed by',
  'unit-price': 'Each',
  'unit-price-from': 'Each, from',
  total: 'Total',
  'price-by-count': 'Price by count',
  why: 'Why',
  'what-would-help': 'What would help:',
  'same-day': 'ready the same day',
  'days-later': (p, s) => s.plural(p.count, { one: '# day later', other: '# days later' }),
  'days-earlier': (p, s) => s.plural(p.count, { one: '# day earlier', other: '# days earlier' }),
  'hand-and-wash': (p, s) =>
    `${s.text(p.hand)}, ${s.plural(p.washes, { one: 'lasts # wash', other: 'lasts # washes' })}`,
  'hand-0': 'cannot be felt',
  'hand-1': 'barely felt',
  'hand-2': 'can be felt',
  'hand-3': 'a thick layer',
  // the day
  ready: 'Ready',
  'needed-by': 'Needed by',
  'no-day': 'no hurry',
  'any-day': 'No hurry',
  'choose-day': 'Choose a day',
  delivery: 'Delivery',
  rush: 'Rush',
  'rush-would': (p, s) => `${s.moreOrLess(p.fee)}, ready ${s.day(p.day)}`,
  'spoken-answer': (p, s) => `${s.money(p.unit)} each, ${s.money(p.total)} in total, ready ${s.day(p.day)}`,
  // ordering
  'to-order': 'Continue to order',
  'proof-missing':
    'The proof cannot be drawn right now. You can still order; the shop will show it to you before printing.',
  'order-number': (p, s) => `Order ${s.text(p.number)}`,
  'status-page': 'Page of this order',
} satisfies Record<string, Line>;

export type UiKey = keyof typeof ui;

/** English, the language every other falls back to. */
export const messages = { direction: 'ltr', ui } as const;

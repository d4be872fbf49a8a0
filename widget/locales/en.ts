import type { Say, Values } from './say.ts';

/** English: every message there is. The other languages have the same members. */
export const en = {
  stage: {
    drawing: (_say: Say, view: string) => `${view}, drawn to scale`,
    artworks: 'Artwork on the drawing',
    keys: 'Arrow keys move it, with Shift further. Plus and minus change its width, square brackets turn it, Delete takes it off, Escape lets go.',
    artwork: (
      say: Say,
      p: {
        name: string;
        face: string;
        widthMm: number;
        heightMm: number;
        xMm: number;
        yMm: number;
        angleDeg: number;
      },
    ) =>
      `${p.name} on ${p.face}: ${say.size(p.widthMm, p.heightMm)}, ${en.stage.across(say, p.xMm)}, ${en.stage.down(say, p.yMm)}${
        p.angleDeg === 0 ? '' : `, ${en.stage.turn(say, p.angleDeg)}`
      }`,
    across: (say: Say, xMm: number) =>
      Math.abs(xMm) < 0.005
        ? 'on the center line'
        : `${say.len(Math.abs(xMm))} ${xMm > 0 ? 'right' : 'left'} of center`,
    down: (say: Say, yMm: number) => `${say.len(yMm)} from the top`,
    turn: (say: Say, deg: number) => `turned ${say.angle(deg)}`,
    wide: (say: Say, widthMm: number) => `${say.len(widthMm)} wide`,
    moved: (say: Say, p: { widthMm: number; xMm: number; yMm: number; angleDeg: number }) =>
      `${en.stage.across(say, p.xMm)}, ${en.stage.down(say, p.yMm)}, ${en.stage.wide(say, p.widthMm)}${
        p.angleDeg === 0 ? '' : `, ${en.stage.turn(say, p.angleDeg)}`
      }`,
    outside: 'reaches outside the printable area',
    inKeepOut: (_say: Say, name: string) => `touches ${name}`,
    loading: 'picture on its way',
    failed: 'picture cannot be shown',
    dropHere: 'Drop artwork here',
    chooseFile: 'or choose a file',
    sizeArea: (_say: Say, sizes: string) => `room on ${sizes}`,
  },
  /** The slip's own words. Values are the figures named in each sentence. */
  ui: {
    slip: 'Order slip',
    undo: 'Undo',
    redo: 'Redo',
    loading: 'One moment …',
    'try-again': 'Try again',
    item: 'Item',
    'new-item': 'New item',
    'line-of': (v: Values, say: Say) => `Line ${say.n(v.number)}: ${say.text(v.name)}`,
    color: 'Color',
    sizes: 'Sizes',
    pieces: (v: Values, say: Say) => say.plural(v.count, { one: '# piece', other: '# pieces' }),
    'count-range': (v: Values, say: Say) => `A whole number from 0 to ${say.n(v.most)}`,
    'price-by-count': 'Price by count',
    'count-at-price': (v: Values, say: Say) =>
      `${say.n(v.count)} pieces at ${say.money(v.unit)} each, ${say.money(v.total)} in all`,
    artwork: 'Artwork',
    placements: (v: Values, say: Say) =>
      say.plural(v.count, { one: '# print a piece', other: '# prints a piece' }),
    'add-artwork': 'Add artwork',
    'drop-here': 'or drop a file here or on the drawing',
    'use-again': (v: Values, say: Say) => `Use ${say.text(v.name)} again`,
    sending: (v: Values, say: Say) => `Sending ${say.text(v.name)}`,
    adjust: 'Size and place',
    remove: 'Take off',
    face: 'Face',
    width: 'Width',
    'from-center': 'From center',
    'from-top': 'From top',
    angle: 'Turned',
    'length-range': (v: Values, say: Say) =>
      `A length from ${say.text(v.leastText)} to ${say.text(v.mostText)}`,
    'angle-range': 'An angle from -360 to 360 degrees',
    'duplicate-to': (v: Values, say: Say) => `Also on: ${say.text(v.name)}`,
    mended: 'Mended',
    'take-back': 'Take back',
    before: 'Before',
    after: 'After',
    apply: 'Use it mended',
    'severity-note': 'Good to know:',
    'severity-warning': 'Look at this:',
    'severity-stops': 'This will not print:',
    finish: 'Finish',
    'days-later': (v: Values, say: Say) => say.plural(v.count, { one: '# day later', other: '# days later' }),
    'days-earlier': (v: Values, say: Say) =>
      say.plural(v.count, { one: '# day earlier', other: '# days earlier' }),
    'hand-and-wash': (v: Values, say: Say) => `${say.text(v.hand)}, about ${say.n(v.washes)} washes`,
    'hand-0': 'hardly felt',
    'hand-1': 'light to the touch',
    'hand-2': 'can be felt',
    'hand-3': 'a layer you feel',
    names: 'Names or numbers',
    'add-names': 'Add names or numbers, one per piece',
    'names-list': 'One row a piece: the name, then its size',
    'names-file': 'Read a CSV file',
    'names-too-long': (v: Values, say: Say) =>
      `Row ${say.n(v.row)}: "${say.text(v.text)}" is over 40 characters.`,
    'names-too-many': (v: Values, say: Say) => `Row ${say.n(v.row)}: more than 2,000 names.`,
    'names-unknown-size': (v: Values, say: Say) =>
      `Row ${say.n(v.row)}: this item has no size "${say.text(v.text)}".`,
    font: 'Lettering',
    delivery: 'How you get it',
    'needed-by': 'Needed by',
    'no-day': 'any day',
    'choose-day': 'Choose a day',
    'any-day': 'Any day will do',
    'month-before': 'Earlier',
    'month-after': 'Later',
    'earliest-day': (v: Values, say: Say) => `Earliest possible: ${say.day(v.day)}`,
    rush: 'Rush',
    'rush-would': (v: Values, say: Say) => `${say.moreOrLess(v.fee)}, ready ${say.day(v.day)}`,
    'add-line': 'Add another item',
    'duplicate-line': 'Copy this line',
    'remove-line': 'Remove this line',
    method: 'Method',
    'unit-price': 'Each',
    'unit-price-from': 'Each, from',
    total: 'Total',
    ready: 'Ready',
    why: 'Why?',
    because: 'Why this way',
    sum: 'How it adds up',
    tax: (v: Values, say: Say) => `Tax ${say.percent(v.rate)}`,
    'tax-included': (v: Values, say: Say) => `of which tax ${say.percent(v.rate)}`,
    instead: 'Instead you could',
    'change-finish': (v: Values, say: Say) => `Choose ${say.name('finish', v.finish)}`,
    'change-method': (v: Values, say: Say) => `Have it done by ${say.name('method', v.method)}`,
    'change-count': (v: Values, say: Say) => `Order ${say.n(v.count)} pieces`,
    'change-rush': (v: Values) => (v.rush ? 'Pay for rush' : 'Do without rush'),
    'change-needed-by': (v: Values, say: Say) =>
      v.neededBy ? `Need it by ${say.day(v.neededBy)}` : 'Need it on no certain day',
    'change-screened': 'Have large areas screened',
    'what-would-help': 'What would help:',
    'lack-item': 'Pick an item to see its price.',
    'lack-color': 'Choose a color.',
    'lack-sizes': 'Say how many of which size.',
    'lack-artwork': 'Add your artwork.',
    'lack-upload': 'Your artwork is on its way.',
    'lack-finish': 'Choose a finish.',
    'lack-names': 'The names list and the counts do not agree.',
    'to-order': 'Order',
    'your-order': 'Your order',
    name: 'Your name',
    email: 'Email',
    phone: 'Phone, if you like',
    note: 'Anything we should know',
    proof: 'Proof',
    'proof-coming': 'The shop is drawing your proof …',
    'proof-missing': 'The proof could not be drawn now. Your slip is what counts.',
    'proof-of': (v: Values, say: Say) => `Proof: ${say.text(v.name)}`,
    approve: 'The proof is as I want it; print it so.',
    'back-to-slip': 'Back to the slip',
    'place-order': (v: Values, say: Say) =>
      v.total ? `Place order for ${say.money(v.total)}` : 'Place order',
    ordering: 'Placing your order …',
    'order-number': (v: Values, say: Say) => `Order ${say.text(v.number)}`,
    state: 'Where it stands',
    'now-ready': 'Now ready',
    'status-page': 'See where it stands',
    'new-slip': 'Start a new slip',
    'spoken-answer': (v: Values, say: Say) =>
      `${say.money(v.unit)} each, ${say.money(v.total)} in all, ready ${say.day(v.day)}`,
  },
};
export type Messages = typeof en;

import type { CodeMessages } from '../code-messages.ts';
import { formatNote, type Line, type MessageFormat } from '../message-format.ts';
import type { WordedPosition } from '../stage-words.ts';

/** Words for what the catalog names by a fixed word. */
const surfaces: Readonly<Record<string, string>> = { flat: 'flat', curved: 'curved', cylinder: 'round' };
const fibers: Readonly<Record<string, string>> = {
  cotton: 'cotton',
  polyester: 'polyester',
  linen: 'linen',
  viscose: 'viscose',
  wool: 'wool',
  elastane: 'elastane',
};
const qualities: Readonly<Record<string, string>> = {
  hand: 'how it feels',
  gloss: 'gloss',
  washLife: 'wash life',
  washLifeCycles: 'wash life',
  breathability: 'how it breathes',
};
const across = (say: MessageFormat, xMm: number) =>
  Math.abs(xMm) < 0.005
    ? 'on the center line'
    : `${say.len(Math.abs(xMm))} ${xMm > 0 ? 'right' : 'left'} of center`;
const place = (say: MessageFormat, p: WordedPosition) =>
  `${across(say, p.xMm)}, ${say.len(p.yMm)} from the top${
    p.angleDeg === 0 ? '' : `, turned ${say.angle(p.angleDeg)}`
  }`;

/** The keys of every language: a new one goes into all files of this folder. */
const details = {
  // the slip
  remove: 'Remove',
  adjust: 'Adjust',
  apply: 'Apply',
  // artwork
  width: 'Width',
  'from-center': 'From center',
  'from-top': 'From top',
  angle: 'Angle',
  'angle-range': (_p, s) => `From ${s.angle(-360)} to ${s.angle(360)}`,
  'length-range': (p, s) => `From ${s.text(p.leastText)} to ${s.text(p.mostText)}`,
  'usual-positions': 'Usual positions',
  'duplicate-to': (p, s) => `Copy to ${s.text(p.name)}`,
  'also-on': 'Copy to',
  // findings
  checking: 'Checking the artwork…',
  'no-findings': 'Artwork checked: no problems found',
  noticed: (p, s) => s.plural(p.count, { one: '# thing noticed', other: '# things noticed' }),
  'severity-note': 'Good to know',
  'severity-warning': 'Please check',
  'severity-stops': (p, s) => `Not with ${s.names('method', p.methods, 'or')}`,
  before: 'Before',
  after: 'After',
  mended: 'Fixed',
  'take-back': 'Undo fix',
  // names
  'names-list': 'One name per row, with its size',
  'names-file': 'Load the list from a file',
  'names-too-long': (p, s) => `Row ${s.n(p.row)}: a name has ${s.n(40)} letters at most`,
  'names-too-many': (p, s) => `Row ${s.n(p.row)}: a list has ${s.n(2000)} rows at most`,
  'names-unknown-size': (p, s) => `Row ${s.n(p.row)}: there is no size ${s.text(p.text)}`,
  'rows-refused': (p, s) =>
    s.plural(p.count, { one: '# more row has an error', other: '# more rows have errors' }),
  'names-no-name': (p, s) => `Row ${s.n(p.row)}: there is no name`,
  'names-count': (p, s) => s.plural(p.count, { one: '# name', other: '# names' }),
  'names-off': (p, s) =>
    `${s.text(p.size)}: ${s.plural(p.names, { one: '# name', other: '# names' })} for ${s.plural(p.pieces, { one: '# piece', other: '# pieces' })}`,
  'names-set-pieces': (p, s) =>
    s.plural(p.count, { one: 'Make # piece, as listed', other: 'Make # pieces, as listed' }),
  'names-file-large': (p, s) => `The file is over ${s.bytes(p.bytes)}`,
  widest: 'Widest',
  'name-shown': (p, s) => `On the drawing: ${s.text(p.name)} (${s.n(p.number)} of ${s.n(p.count)})`,
  'name-next': 'Show the next name',
  font: 'Lettering',
  'cap-height': 'Height of the capitals',
  // finish and price
  tax: (p, s) => `Tax ${s.percent(p.rate)}`,
  'tax-included': (p, s) => `Tax ${s.percent(p.rate)}, included`,
  sum: 'How the total adds up',
  'every-count': 'What each count changes',
  'count-at-price': (p, s) =>
    `${s.plural(p.count, { one: '# piece', other: '# pieces' })}: ${s.money(p.unit)} each, ${s.money(p.total)} in total`,
  because: 'Why this choice',
  instead: 'What else you could do',
  'change-finish': (p, s) => `Finish: ${s.name('finish', p.finish)}`,
  'change-method': (p, s) => `Printed by ${s.name('method', p.method)}`,
  'change-count': (p, s) => s.plural(p.count, { one: '# piece', other: '# pieces' }),
  'change-rush': (p) => (p.rush === false ? 'Without rush' : 'With rush'),
  'change-needed-by': (p, s) => (p.neededBy ? `Needed by ${s.day(p.neededBy)}` : 'Without a date'),
  // the day
  'now-ready': 'Ready now by',
  'earliest-day': (p, s) => `The earliest day is ${s.day(p.day)}`,
  'month-before': 'Month before',
  'month-after': 'Month after',
  'price-holds': (p, s) => `Price and day hold until ${s.text(p.until)}`,
  // ordering
  'your-order': 'Your order',
  'back-to-slip': 'Back to the slip',
  name: 'Name',
  email: 'Email',
  phone: 'Phone',
  note: 'Note for the shop',
  optional: 'optional',
  'fault-name': 'Please write your name.',
  'fault-email': 'Please write an email address, such as ada@quill.example.',
  'fault-approve': 'Please check the proof, then tick this box.',
  proof: 'Proof',
  'proof-of': (p, s) => `Proof of ${s.text(p.name)}`,
  'proof-name': (p, s) => `Shown with “${s.text(p.text)}”; each piece gets its own name or number.`,
  'proof-coming': 'The proof is being drawn',
  approve: 'I have checked the proof: print it like this',
  'place-order': (p, s) => (p.total ? `Order for ${s.money(p.total)}` : 'Order'),
  ordering: 'Your order is being placed',
  'order-placed': 'Thank you. The shop has your order.',
  state: 'State',
  'new-slip': 'Start a new slip',
} satisfies Record<string, Line>;

export type DetailKey = keyof typeof details;

/** English, the language every other falls back to. */
export const messages: CodeMessages & { readonly details: typeof details } = {
  details,
  reasons: {
    'surface-unfit': (p, s) =>
      `This area is ${s.word(surfaces, p.surface)}; it can only print on surfaces that are ${s.anyOf(surfaces, p.allowed)}.`,
    'off-the-face': (p, s) =>
      `The print, ${s.size(p.widthMm, p.heightMm)}, extends past the printable area of ${s.size(p.areaWidthMm, p.areaHeightMm)} on size ${s.name('size', p.size)}.`,
    'in-keep-out': (p, s) =>
      `The print touches ${s.name('keep-out', p.keepOut)}, where nothing can be printed.`,
    'too-large-for-bed': (p, s) =>
      `The print, ${s.size(p.widthMm, p.heightMm)}, does not fit the bed of ${s.size(p.bedWidthMm, p.bedHeightMm)}.`,
    'too-large-for-sheet': (p, s) =>
      `The print, ${s.size(p.widthMm, p.heightMm)}, does not fit a sheet of ${s.size(p.sheetWidthMm, p.sheetHeightMm)}.`,
    'fiber-unfit': (p, s) =>
      `It needs at least ${s.percent(p.leastShare)} ${s.anyOf(fibers, p.fibers)}; this cloth has ${s.percent(p.share)}.`,
    'cloth-too-light': 'The cloth is too light for it.',
    'cloth-too-dark': 'The cloth is too dark for it.',
    'line-too-thin': (p, s) =>
      `The thinnest line would be ${s.fine(p.lineMm)}; lines need at least ${s.fine(p.leastMm)}.`,
    'gap-too-thin': (p, s) =>
      `The thinnest gap would be ${s.fine(p.gapMm)}; gaps need at least ${s.fine(p.leastMm)} to stay open.`,
    'too-few-pixels': (p, s) =>
      `At this size the picture has ${s.n(p.dpi)} dots per inch; ${s.n(p.leastDpi)} are needed.`,
    'soft-alpha-lost': (p, s) =>
      `${s.percent(p.share)} of the ink is semi-transparent, as in shadows and fades, and would be lost.`,
    'too-few-pieces': (p, s) =>
      `It starts at ${s.plural(p.least, { one: '# piece', other: '# pieces' })}; there are ${s.n(p.pieces)}.`,
    'too-many-pieces': (p, s) =>
      `It is available for up to ${s.plural(p.most, { one: '# piece', other: '# pieces' })}; there are ${s.n(p.pieces)}.`,
    'hand-too-thick': 'It would feel thicker than the finish allows.',
    'gloss-out-of-bounds': 'Its gloss does not match the finish.',
    'wash-life-too-short': (p, s) =>
      `It lasts ${s.plural(p.washLife, { one: '# wash', other: '# washes' })}; the finish requires ${s.n(p.least)}.`,
    'breathability-too-low': 'It breathes less than the finish requires.',
    'not-together-on-a-piece': (p, s) => `It cannot be on the same piece as ${s.name('method', p.other)}.`,
    'no-station': 'No press or printer of the shop can hold this.',
    'nothing-to-print': 'There is no ink in this artwork.',
    'method-not-asked': (p, s) => `You asked for ${s.name('method', p.asked)}.`,
    'no-placement': 'There is nothing to print yet: add artwork or names.',
    'no-method-fits': 'The shop has no way to print this as it is.',
    'needed-by-too-early': (p, s) =>
      `${s.day(p.neededBy)} is too early. The earliest day is ${s.day(p.earliest)}.`,
    'plan-full': (p, s) =>
      `The shop is booked for the next ${s.plural(p.horizonDays, { one: 'day', other: '# days' })}.`,
    'only-fit': (p, s) => `${s.name('method', p.method)} is the only method that fits.`,
    'best-margin-rate': (p, s) =>
      `${s.name('method', p.method)} keeps the shop moving better than ${s.name('method', p.other)}.`,
    'lowest-price': (p, s) =>
      `${s.name('method', p.method)} costs ${s.money(p.difference)} less than ${s.name('method', p.other)}.`,
    'earliest-day': (p, s) =>
      `With ${s.name('method', p.method)} it is ready ${s.day(p.day)}, with ${s.name('method', p.other)} ${s.day(p.otherDay)}.`,
    'equal-so-listed-first': (p, s) =>
      `${s.name('method', p.method)} and ${s.name('method', p.other)} come out the same; the shop prefers the first.`,
    'finish-asks': (p, s) =>
      `The finish ${s.name('finish', p.finish)} decides: ${s.word(qualities, p.quality)}.`,
    'keeps-needed-by': (p, s) =>
      `${s.name('method', p.method)} is ready by ${s.day(p.neededBy)}; ${s.name('method', p.other)} would be ready ${s.day(p.otherDay)}.`,
    'underbase-needed': (p, s) => `On ${s.name('color', p.color)} a layer of white goes beneath the colors.`,
    'treatment-added': (p, s) =>
      `${s.name('treatment', p.treatment)} is added for the finish ${s.name('finish', p.finish)}.`,
    'many-alike': (p, s) =>
      `${s.plural(p.pieces, { one: '# piece', other: '# pieces alike' })}: one set-up serves them all.`,
    'each-different': (p, s) =>
      `${s.plural(p.pieces, { one: '# piece', other: '# pieces, each different' })}: every one is a print of its own.`,
    'bound-reached': (p, s) =>
      `There were too many combinations to try them all; this is within ${s.percent(p.gap)} of the best.`,
    'next-count-cheaper': (p, s) =>
      `From ${s.plural(p.count, { one: '# piece', other: '# pieces' })} on, each costs ${s.money(p.unit)}.`,
    'count-capped': (p, s) =>
      `You pay no more than ${s.plural(p.count, { one: '# piece', other: '# pieces' })} would cost: ${s.money(p.total)}.`,
    'floor-applied': 'This is the least the shop can make it for.',
    'set-up-fee': 'Setup is charged once.',
    'rush-fee': 'The earlier day costs extra.',
    'size-surcharge': 'Some sizes cost more.',
    'after-cutoff': (p, s) => `Orders after ${s.time(p.cutoff)} count as the next working day's.`,
    'move-onto-face': 'Move it onto the printable area.',
    'make-smaller': (p, s) => `Make it ${s.len(p.widthMm)} wide or less.`,
    'use-other-face': (p, s) => `Put it on ${s.name('face', p.face)}.`,
    'use-other-finish': (p, s) => `Choose the finish ${s.name('finish', p.finish)}.`,
    'use-other-blank': (p, s) => `Take another blank: ${s.name('blank', p.blank)}.`,
    'thicken-lines': (p, s) => `Thicken the lines to ${s.fine(p.toMm)}.`,
    'widen-gaps': (p, s) => `Widen the gaps to ${s.fine(p.toMm)}.`,
    'larger-letters': (p, s) =>
      `Make the letters ${s.len(p.capHeightMm)} high and allow ${s.len(p.widthMm)} of width.`,
    'use-other-color': (p, s) => `Choose the color ${s.name('color', p.color)}.`,
    'fewer-pieces': (p, s) => `Take ${s.plural(p.pieces, { one: '# piece', other: '# pieces' })} or fewer.`,
    'more-pieces': (p, s) => `Take ${s.plural(p.pieces, { one: '# piece', other: '# pieces' })} or more.`,
    'firm-up-soft-alpha': 'Make the semi-transparent parts solid.',
    'sharper-file': (p, s) => `Send a file at least ${s.n(p.widthPx)} pixels wide.`,
    'choose-later-day': (p, s) => `Choose ${s.day(p.day)} or later.`,
    'pay-rush': (p, s) => `With rush, for ${s.money(p.fee)}, it is ready ${s.day(p.day)}.`,
    'rush-brings-nothing-earlier': (p, s) => `Rush would not make it earlier than ${s.day(p.day)}.`,
    'method-flips-below': (p, s) =>
      `Up to ${s.plural(p.count, { one: '# piece', other: '# pieces' })} it would be ${s.name('method', p.method)}.`,
    'method-flips-at': (p, s) =>
      `From ${s.plural(p.count, { one: '# piece', other: '# pieces' })} on it would be ${s.name('method', p.method)}.`,
  },
  findings: {
    'nothing-to-print': 'The picture is empty: there is nothing to print in it.',
    'too-few-pixels': (p, s) =>
      `At ${s.len(p.widthMm)} wide the picture has ${s.n(p.dpi)} dots per inch and will look soft. It is crisp up to ${s.len(p.goodWidthMm)}, or with a file ${s.n(p.neededWidthPx)} pixels wide.`,
    'thin-lines': (p, s) =>
      `Lines as thin as ${s.fine(p.lineMm)} may break up; they hold from ${s.fine(p.leastMm)} up, at a width of ${s.len(p.goodWidthMm)}.`,
    'thin-gaps': (p, s) =>
      `Gaps as thin as ${s.fine(p.gapMm)} may fill with ink; they stay open from ${s.fine(p.leastMm)} up, at a width of ${s.len(p.goodWidthMm)}.`,
    'soft-alpha': (p, s) =>
      `${s.percent(p.share)} of the ink is semi-transparent, as in shadows and fades. It prints solid or not at all.`,
    'background-box': (p, s) =>
      `The motif stands in a filled box (${s.text(p.hex)}); the box would be printed too.`,
    vanishes: (p, s) => `${s.percent(p.share)} of the ink is so close to the cloth that it will not be seen.`,
    'light-rim': 'A light rim is left around the motif, as from cutting out on white.',
    'out-of-gamut': (p, s) =>
      `Some colors cannot be reached with ink and will look duller: ${s.list(p.colors)}.`,
    'large-solid': (p, s) =>
      `A solid of ${s.len(p.diameterMm)} across lets no air through; it wears better when broken into fine dots.`,
    'mostly-empty': (p, s) =>
      `The ink fills ${s.percent(p.share)} of the picture. It is placed by its ink, not by the empty sheet.`,
    'extreme-shape': (p, s) =>
      `The artwork is ${s.n(p.ratio)} times as long as it is high or wide. Check its size.`,
    'source-note': (p, s) => formatNote(messages.notes, p, s),
  },
  remedies: {
    'remove-background': 'Remove the background',
    trim: 'Trim the empty edges',
    'firm-up': 'Make semi-transparent parts solid',
    'screen-soft': 'Turn semi-transparent parts into fine dots',
    thicken: 'Thicken thin lines',
    outline: 'Put an outline around it',
    'screen-solids': 'Break large solids into fine dots',
    recolor: 'Print it in another color',
  },
  notes: {
    'turned-by-metadata': 'The picture was stored rotated; it is shown upright.',
    'cmyk-converted':
      'The file has print colors (CMYK); they were converted and may look a little different.',
    'wide-gamut-converted': 'The file has more colors than a screen; they were adjusted.',
    'sixteen-bit-reduced': 'The file has finer shades than can be printed; they were reduced.',
    'first-frame-only': (p, s) =>
      `The file is animated; the first of ${s.plural(p.frames, { one: '# frame', other: '# frames' })} is printed.`,
    'first-page-only': (p, s) =>
      `The first of ${s.plural(p.pages, { one: '# page', other: '# pages' })} is printed.`,
    'missing-font': (p, s) =>
      `The shop does not have the font ${s.list(p.fonts)}; another stands in. Send the lettering as outlines to keep it.`,
    'no-size-in-file': 'The file does not say its size; give the width you want.',
    'external-reference-dropped': (p, s) =>
      s.plural(p.count, {
        one: 'A picture the file only points to is missing.',
        other: '# pictures the file only points to are missing.',
      }),
    'active-content-dropped': 'The file contained a script; it was removed.',
    'name-does-not-match': (p, s) => `The file is named ${s.text(p.named)} and is ${s.text(p.found)}.`,
    reduced: (p, s) =>
      `The picture, ${s.n(p.fromWidthPx)} × ${s.n(p.fromHeightPx)} pixels, is larger than can be used and was reduced.`,
  },
  charges: {
    'size-surcharge': (p, s) => (p.size ? `Size ${s.name('size', p.size)}` : 'Larger sizes'),
    'extra-placement': 'Further prints',
    names: 'Names',
    'finish-surcharge': 'Finish',
    'break-cap': 'Capped at the next price step',
    'set-up-order': 'Setup',
    'set-up-design': 'Design setup',
    rush: 'Rush',
    delivery: 'Delivery',
    rounding: 'Rounding',
  },
  problems: {
    'malformed-json': 'The shop could not read what was sent. Please try again.',
    'invalid-input': 'Something on the slip is not valid.',
    'missing-key': 'A key is needed for this.',
    'wrong-key': 'The key is not valid.',
    'not-allowed': 'This is not allowed with that key.',
    'not-found': 'There is nothing here.',
    'method-not-allowed': 'The shop does not accept that here.',
    'unknown-shop': 'There is no such shop.',
    'unknown-artwork': 'The shop does not have this artwork any more. Please add it again.',
    'unknown-id': 'The shop no longer offers something on this slip. Please choose again.',
    'artwork-in-use': 'This artwork belongs to an order and stays.',
    'quote-expired': 'The price was held until now. Here is a new one.',
    'quote-altered': 'The price did not come from this shop.',
    'slip-differs': 'The slip has changed since its price was worked out. Here is a new price.',
    'day-not-kept': 'The day has just been taken by another order. Here is the new day.',
    'key-reused': 'This order was sent before with other contents.',
    'still-running': 'Your order is already being placed. One moment.',
    'precondition-failed': 'It has changed since it was read.',
    'precondition-required': 'Say which version is meant.',
    'catalog-faulty': 'The catalog has errors.',
    'too-large': 'The file is too large.',
    'upload-protocol': 'The file could not be sent: the shop speaks another version of the upload protocol.',
    'upload-offset': 'Part of the file was lost and is being sent again.',
    'upload-altered': 'The file was damaged on its way. Please send it again.',
    'unsupported-file': 'This kind of file cannot be printed from. Send a PNG, JPEG, SVG or PDF.',
    'unreadable-file':
      'The file cannot be read; it may be damaged or cut off. Save it again and send it once more.',
    'unsupported-media': 'This kind of content is not accepted here.',
    'too-many-requests': 'Too many requests at once. Please wait a moment.',
    'state-not-allowed': 'The order cannot go to that state.',
    busy: 'The shop is busy right now; it will be tried again.',
    'server-fault': 'Something went wrong at the shop. Your slip is kept.',
  },
  states: {
    accepted: 'Accepted',
    'in-work': 'In production',
    packed: 'Packed',
    'handed-over': 'Handed over',
    cancelled: 'Cancelled',
  },
  late: {
    'not-kept': 'The promised day cannot be kept; we are sorry.',
    'no-day-yet': 'not known yet',
    equipment: 'A machine your order needs is out of order.',
    remake: 'Pieces of your order have to be made again.',
    'work-before': 'Work before your order took longer than planned.',
    hours: 'The shop’s hours changed.',
    people: 'Fewer people are at work than planned.',
  },
  stage: {
    drawing: (_say, view) => `${view}, drawn to scale`,
    artworks: 'Artwork on the drawing',
    keys: 'Arrow keys move it, with Shift further. Plus and minus change its width, square brackets rotate it, Delete removes it, Escape deselects it.',
    artwork: (say, p) => `${p.name} on ${p.face}: ${say.size(p.widthMm, p.heightMm)}, ${place(say, p)}`,
    moved: (say, p) => `${place(say, p)}, ${say.len(p.widthMm)} wide`,
    wide: (say, widthMm) => `${say.len(widthMm)} wide`,
    outside: 'extends past the printable area',
    inKeepOut: (_say, name) => `touches ${name}`,
    loading: 'picture loading',
    failed: 'picture cannot be shown',
    dropHere: 'Drop artwork here',
    chooseFile: 'or choose a file',
  },
};

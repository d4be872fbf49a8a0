import { scaleBand, scaleLinear } from 'd3-scale';
import { area, curveStepAfter, line } from 'd3-shape';
import { html } from 'hono/html';
import type { CrewMoment, DrawnDay, DrawnWork, UnitDay } from '../../src/promise/index.ts';
import type { ClockWords } from './clock-words.ts';
import type { PlanPageModel } from './page-model.ts';
import { fillTemplate } from './words.ts';

/** The result of html``. */
export type Markup = ReturnType<typeof html>;

const NAMES_PX = 156;
const EDGE_PX = 16;
const AXIS_PX = 24;
const ROW_PX = 34;
const CREW_PX = 54;
const GAP_PX = 8;
const MIN_WIDTH_PX = 1036;
const HOUR_PX = 96;
/** Number of order colors in the style sheet. */
const HUES = 8;
/** Approximate width of a letter in a label. */
const LETTER_PX = 7.2;
const MAX_NAME_LETTERS = 20;
/** Batches narrower than this are not separated by lines. */
const MIN_BATCH_PX = 4;
/** Narrowest bar for a rotated label. */
const MIN_SIDEWAYS_PX = 10;
const SIDEWAYS_LETTER_PX = 6.8;
const MIN_FRAME_PX = 14;
const HOUR_S = 3600;

/** The hours shown in all charts of a page, s after midnight. */
export type HoursShown = { readonly fromS: number; readonly toS: number };

/** The hours in which anything is open or booked on any of the days; null if there are none. */
export function hoursShown(days: readonly DrawnDay[]): HoursShown | null {
  let fromS = Number.POSITIVE_INFINITY;
  let toS = Number.NEGATIVE_INFINITY;
  for (const day of days) {
    for (const { from, to } of day.units.flatMap(({ open, work }) => [...open, ...work])) {
      fromS = Math.min(fromS, from - day.from);
      toS = Math.max(toS, to - day.from);
    }
  }
  if (fromS >= toS) return null;
  return { fromS: Math.floor(fromS / HOUR_S) * HOUR_S, toS: Math.ceil(toS / HOUR_S) * HOUR_S };
}

/** What a day has: work or outages to draw, only open hours, or neither. */
export function contentOf(day: DrawnDay): 'drawn' | 'free' | 'closed' {
  if (day.units.some(({ work }) => work.length > 0)) return 'drawn';
  const open = day.units.filter((unit) => unit.open.length > 0);
  if (open.length === 0) return 'closed';
  return open.some(({ outOfUse }) => outOfUse.length > 0) || open.length < day.units.length
    ? 'drawn'
    : 'free';
}

/** Definitions that the charts of a page share. */
export function sharedMarks(): Markup {
  return html`<svg class="marks" width="0" height="0" aria-hidden="true"><defs>
<pattern id="down" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="8" height="8" class="down-ground"/><rect width="3" height="8" class="down-stripe"/></pattern>
</defs></svg>`;
}

/**
 * The chart of one day: a row for every unit of every station, hours across, work as bars, and below them how much of the
 * crew is busy. In a right-to-left language time runs from right to left.
 */
export function dayChart(model: PlanPageModel, clock: ClockWords, day: DrawnDay, hours: HoursShown): Markup {
  const from = Math.min(day.from + hours.fromS, day.to);
  const to = Math.min(day.from + hours.toS, day.to);
  const width = NAMES_PX + EDGE_PX + Math.max(MIN_WIDTH_PX, ((to - from) / HOUR_S) * HOUR_PX);
  const ends = model.rightToLeft ? [width - NAMES_PX, EDGE_PX] : [NAMES_PX, width - EDGE_PX];
  const x = scaleLinear([from, to], ends);
  const rowsPx = day.units.length * ROW_PX;
  const row = scaleBand(day.units.map(keyOf), [AXIS_PX, AXIS_PX + rowsPx])
    .paddingInner(0.16)
    .paddingOuter(0.08);
  const crewTop = AXIS_PX + rowsPx + GAP_PX;
  const height = crewTop + CREW_PX + GAP_PX;
  const box = (a: number, b: number): Box => ({
    x: round(Math.min(x(a), x(b))),
    width: round(Math.abs(x(b) - x(a))),
  });
  const axis = {
    from,
    to,
    box,
    x,
    nameX: model.rightToLeft ? width - NAMES_PX + 10 : NAMES_PX - 10,
  };
  const steps = day.units.flatMap(({ work }) => work);
  const about = fillTemplate(model.words.chartOf, {
    day: clock.day(day.day),
    steps: clock.number(new Set(steps.map(({ booking }) => booking)).size),
    orders: clock.number(new Set(steps.map(({ booking }) => booking.job)).size),
  });
  const id = `chart-${day.day}`;
  return html`<svg width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="${id}-t ${id}-d">
<title id="${id}-t">${about}</title><desc id="${id}-d">${model.words.chartNote}</desc>
${day.units.map((unit) => unitGround(model, axis, unit, row(keyOf(unit))!, row.bandwidth()))}
${crewRow(model, clock, axis, day.crew, crewTop)}
${hourLines(axis, clock, day, AXIS_PX, crewTop + CREW_PX)}
${day.units.map((unit) => unit.work.map((work) => bar(model, clock, axis, work, row(keyOf(unit))!, row.bandwidth())))}
${nowLine(model, axis, AXIS_PX, crewTop + CREW_PX)}
</svg>`;
}

/** The legend of that day's orders. */
export function orderKey(model: PlanPageModel, day: DrawnDay): Markup {
  const orders = new Set(day.units.flatMap(({ work }) => work.map(({ booking }) => booking.job)));
  return html`<ul class="legend key" aria-hidden="true">${[...orders]
    .sort((a, b) => Number(a) - Number(b))
    .map(
      (order) =>
        html`<li><svg width="14" height="14"><g class="bar ${hueOf(model, order)}"><rect width="14" height="14"/></g></svg>${order}</li>`,
    )}</ul>`;
}

function hueOf(model: PlanPageModel, order: string): string {
  return `hue-${(model.placeOf.get(order) ?? 0) % HUES}`;
}

type Box = { readonly x: number; readonly width: number };
type Axis = {
  readonly from: number;
  readonly to: number;
  readonly box: (a: number, b: number) => Box;
  readonly x: (at: number) => number;
  /** where row names end. */
  readonly nameX: number;
};

function keyOf({ station, unit }: UnitDay): string {
  return `${station} ${unit}`;
}

function hourLines(axis: Axis, clock: ClockWords, day: DrawnDay, top: number, bottom: number): Markup[] {
  const hours: number[] = [];
  // Counted from midnight, so that a day with a clock change shows the skipped or repeated hour.
  for (let at = day.from; at <= axis.to; at += HOUR_S) if (at >= axis.from) hours.push(at);
  return hours.map((at) => {
    const x = round(axis.x(at));
    return html`<line class="hour" x1="${x}" x2="${x}" y1="${top}" y2="${bottom}"/><text class="tick" x="${x}" y="${top - 8}" text-anchor="middle">${clock.hour(at)}</text>`;
  });
}

/** A unit's name, its open hours and its outages. */
function unitGround(model: PlanPageModel, axis: Axis, unit: UnitDay, top: number, height: number): Markup {
  const name = model.unitName(unit.station, unit.unit);
  const whole = axis.box(axis.from, axis.to);
  const y = round(top);
  const h = round(height);
  const drawn = (spans: readonly { from: number; to: number }[]): Box[] =>
    spans
      .map(({ from, to }) => ({ from: Math.max(from, axis.from), to: Math.min(to, axis.to) }))
      .filter(({ from, to }) => to > from)
      .map(({ from, to }) => axis.box(from, to));
  return html`<text class="name" x="${axis.nameX}" y="${round(top + height / 2 + 4)}" text-anchor="end">${truncate(name)}<title>${name}</title></text>
<rect class="shut" x="${whole.x}" y="${y}" width="${whole.width}" height="${h}"/>
${drawn(unit.open).map((box) => html`<rect class="open" x="${box.x}" y="${y}" width="${box.width}" height="${h}"/>`)}
${drawn(unit.outOfUse).map((box) => html`<rect fill="url(#down)" x="${box.x}" y="${y}" width="${box.width}" height="${h}"><title>${name}: ${model.words.outOfUse}</title></rect>`)}
`;
}

function bar(
  model: PlanPageModel,
  clock: ClockWords,
  axis: Axis,
  work: DrawnWork,
  top: number,
  height: number,
): Markup {
  const { booking, part } = work;
  const late = model.lateOrders.has(booking.job);
  const isSetUp = part === 'set-up' || booking.part === 'set-up';
  const { x, width } = axis.box(work.from, work.to);
  const y = round(top);
  const h = round(height);
  return html`<g class="bar ${hueOf(model, booking.job)} ${isSetUp ? 'set-up' : booking.state}"><title>${barTitle(model, clock, work, isSetUp, late)}</title>
<rect x="${x}" y="${y}" width="${width}" height="${h}"/>
${isSetUp ? '' : batchLines(axis, work, y, h)}
${booking.state === 'started' ? html`<rect class="begun" x="${x}" y="${round(y + h - 4)}" width="${width}" height="4"/>` : ''}
${late ? lateMark({ x, width }, y, h) : ''}
${isSetUp ? '' : label(booking.job, late, booking.state === 'finished', { x, width }, y, h)}</g>
`;
}

/** A cap, and a frame if there is room: a late order is marked by more than color. */
function lateMark({ x, width }: Box, y: number, h: number): Markup {
  const cap = html`<rect class="late-cap" x="${x}" y="${y}" width="${width}" height="5"/>`;
  if (width < MIN_FRAME_PX) return cap;
  return html`${cap}<rect class="late" x="${round(x + 1)}" y="${round(y + 1)}" width="${round(width - 2)}" height="${round(h - 2)}"/>`;
}

/** The tooltip of a bar. */
function barTitle(
  model: PlanPageModel,
  clock: ClockWords,
  work: DrawnWork,
  isSetUp: boolean,
  late: boolean,
): string {
  const { words } = model;
  const { booking } = work;
  return [
    `${words.order} ${booking.job}`,
    `${model.stepName(booking)} (${isSetUp ? words.setUp : words.run})`,
    model.unitName(booking.station, booking.unit),
    `${clock.time(work.from)}–${clock.time(work.to)}`,
    ...(isSetUp && booking.joined ? [words.sharedSetUp] : []),
    ...(!isSetUp && work.batches > 1 ? [`${words.batches}: ${clock.number(work.batches)}`] : []),
    `${words.people}: ${clock.number(work.crewShare)}`,
    words.states[booking.state],
    ...(late ? [words.lateOrder] : []),
  ].join(' · ');
}

function batchLines(axis: Axis, work: DrawnWork, y: number, h: number): Markup[] {
  const places = work.batchEnds.map((end) => round(axis.x(end)));
  const closest = Math.abs(axis.x(work.to) - axis.x(work.from)) / (places.length + 1);
  if (closest < MIN_BATCH_PX) return [];
  return places.map((x) => html`<line class="batch" x1="${x}" x2="${x}" y1="${y}" y2="${y + h}"/>`);
}

/** The order's number on its bar: rotated on a narrow bar, left out on one too narrow for that. */
function label(order: string, late: boolean, finished: boolean, box: Box, y: number, h: number): Markup | '' {
  const text = `${late ? '! ' : ''}${finished ? '✓ ' : ''}${order}`;
  const middle = round(box.x + box.width / 2);
  if (box.width >= text.length * LETTER_PX + 4)
    return html`<text class="label" x="${middle}" y="${round(y + h / 2 + 4)}" text-anchor="middle">${text}</text>`;
  if (box.width < MIN_SIDEWAYS_PX || order.length * SIDEWAYS_LETTER_PX > h) return '';
  const center = round(y + h / 2);
  return html`<text class="label sideways" x="${middle}" y="${center}" dy="3" text-anchor="middle" transform="rotate(-90 ${middle} ${center})">${order}</text>`;
}

function crewRow(
  model: PlanPageModel,
  clock: ClockWords,
  axis: Axis,
  crew: readonly CrewMoment[],
  top: number,
): Markup {
  const most = Math.max(model.crewCount, ...crew.map(({ busy }) => busy), 1);
  const y = scaleLinear([0, most], [top + CREW_PX, top + 6]);
  const moments = withinHours(axis, crew);
  const busy = area<CrewMoment>(
    ({ at }) => round(axis.x(at)),
    round(y(0)),
    (moment) => round(y(moment.busy)),
  ).curve(curveStepAfter);
  const there = line<CrewMoment>(
    ({ at }) => round(axis.x(at)),
    (moment) => round(y(moment.there)),
  ).curve(curveStepAfter);
  const whole = axis.box(axis.from, axis.to);
  const scaleX = model.rightToLeft ? whole.x + whole.width : whole.x;
  return html`<g class="crew"><text class="name" x="${axis.nameX}" y="${round(top + CREW_PX / 2 + 4)}" text-anchor="end">${model.words.crew} (${clock.number(model.crewCount)})</text>
<rect class="open" x="${whole.x}" y="${top}" width="${whole.width}" height="${CREW_PX}"/>
<path class="busy" d="${busy(moments) ?? ''}"/><path class="there" d="${there(moments) ?? ''}"/>
${y
  .ticks(Math.min(3, Math.floor(most)))
  .filter(Number.isInteger)
  .map(
    (people) =>
      html`<text class="tick people" x="${scaleX + (model.rightToLeft ? -4 : 4)}" y="${round(y(people) - 2)}" text-anchor="start">${clock.number(people)}</text>`,
  )}</g>`;
}

/** The crew's load within the hours shown, with a moment at both ends. */
function withinHours(axis: Axis, crew: readonly CrewMoment[]): CrewMoment[] {
  const before = crew.findLast(({ at }) => at <= axis.from) ?? { there: 0, busy: 0 };
  const within = crew.filter(({ at }) => at > axis.from && at < axis.to);
  const last = within.at(-1) ?? before;
  return [{ ...before, at: axis.from }, ...within, { ...last, at: axis.to }];
}

function nowLine(model: PlanPageModel, axis: Axis, top: number, bottom: number): Markup | '' {
  if (model.now < axis.from || model.now > axis.to) return '';
  const x = round(axis.x(model.now));
  return html`<g class="now"><line x1="${x}" x2="${x}" y1="${top - 4}" y2="${bottom}"/><title>${model.words.nowLine}</title></g>`;
}

function truncate(name: string): string {
  const letters = [...name];
  return letters.length <= MAX_NAME_LETTERS ? name : `${letters.slice(0, MAX_NAME_LETTERS - 1).join('')}…`;
}

function round(px: number): number {
  return Math.round(px * 100) / 100;
}

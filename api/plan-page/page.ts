import { html, raw } from 'hono/html';
import {
  type Booking,
  type Day,
  type DrawnDay,
  dayNumber,
  dayOfNumber,
  type PlanSummary,
} from '../../src/promise/index.ts';
import { type ClockWords, clockWords } from './clock-words.ts';
import {
  contentOf,
  dayChart,
  type HoursShown,
  hoursShown,
  type Markup,
  orderKey,
  sharedMarks,
} from './day-chart.ts';
import type { PlanPageModel } from './page-model.ts';
import { STYLE } from './style.ts';
import { fillTemplate } from './words.ts';

/** Number of shades in the load table. */
const SHADES = 5;

/**
 * The plan as an HTML page without scripts: late orders with their causes, how full the days are, and for every day a chart
 * and the same data as a table.
 *
 * @param view totals of the same days
 */
export function planPage(model: PlanPageModel, view: PlanSummary): Markup {
  const { words, days, language } = model;
  const clock = clockWords(language, model.timeZone);
  const hours = hoursShown(days);
  const title = `${model.shopName}: ${words.title}`;
  const first = days[0]!.day;
  const last = days.at(-1)!.day;
  return html`<!doctype html>
<html lang="${language}" dir="${model.rightToLeft ? 'rtl' : 'ltr'}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>${title}</title>
<style>${raw(STYLE)}</style>
</head>
<body>
<header>
<h1>${title}</h1>
<p>${fillTemplate(words.range, { from: clock.fullDay(first), to: clock.fullDay(last) })}</p>
<p class="quiet">${fillTemplate(words.asOf, { at: clock.moment(model.now) })} · ${model.timeZone}</p>
<nav aria-label="${words.title}">${turnPages(model)}</nav>
</header>
<main>
${latePart(model, clock)}
${loadPart(model, clock, view)}
${hours === null ? html`<p>${words.nothingBooked}</p>` : legendPart(model)}
${sharedMarks()}
${days.map((day) => dayPart(model, clock, day, hours))}
</main>
</body>
</html>
`;
}

function turnPages({ words, days, today }: PlanPageModel): Markup[] {
  const first = dayNumber(days[0]!.day);
  const to = (from: Day, text: string): Markup =>
    html`<a href="?from=${from}&amp;days=${days.length}">${text}</a>`;
  return [
    to(dayOfNumber(first - days.length), words.earlier),
    to(today, words.today),
    to(dayOfNumber(first + days.length), words.later),
  ];
}

function latePart(model: PlanPageModel, clock: ClockWords): Markup {
  const { words, late } = model;
  if (late.length === 0) return html`<p class="kept">${words.noneLate}</p>`;
  return html`<section class="alarm" aria-labelledby="late"><h2 id="late">${words.lateOrders}</h2>
<div class="wide" role="region" aria-labelledby="late" tabindex="0"><table>
<thead><tr><th scope="col">${words.order}</th><th scope="col">${words.promised}</th><th scope="col">${words.now}</th><th scope="col">${words.cause}</th></tr></thead>
<tbody>${late.map(
    (each) =>
      html`<tr><th scope="row">${each.order}</th><td>${clock.day(each.promised)}</td><td>${each.until === null ? words.beyondPlan : clock.day(each.until)}</td><td>${each.cause}</td></tr>`,
  )}</tbody>
</table></div></section>`;
}

function loadPart(model: PlanPageModel, clock: ClockWords, view: PlanSummary): Markup {
  const { words } = model;
  const cell = (openS: number, bookedS: number): Markup => {
    if (openS === 0 && bookedS === 0) return html`<td class="none">${words.closed}</td>`;
    const share = openS === 0 ? 1 : bookedS / openS;
    const shade = Math.min(SHADES - 1, Math.ceil(share * (SHADES - 1)));
    return html`<td class="load-${shade}">${clock.percent(share)}</td>`;
  };
  return html`<section aria-labelledby="full"><h2 id="full">${words.howFull}</h2>
<p class="quiet">${words.howFullNote}</p>
<div class="wide" role="region" aria-labelledby="full" tabindex="0"><table class="full">
<thead><tr><th scope="col">${words.station}</th>${model.days.map(({ day }) => html`<th scope="col"><a href="#day-${day}">${clock.shortDay(day)}</a></th>`)}</tr></thead>
<tbody>${view.stations.map(
    ({ station, count, days }) =>
      html`<tr><th scope="row">${model.unitName(station, null)}${count > 1 ? ` ×${clock.number(count)}` : ''}</th>${days.map(({ openS, bookedS }) => cell(openS, bookedS))}</tr>`,
  )}<tr><th scope="row">${words.crew}</th>${view.crew.map(({ openS, bookedS }) => cell(openS, bookedS))}</tr></tbody>
</table></div></section>`;
}

function legendPart({ words }: PlanPageModel): Markup {
  const mark = (drawn: Markup, text: string): Markup =>
    html`<li><svg width="34" height="18" aria-hidden="true">${drawn}</svg>${text}</li>`;
  const ground = html`<rect x="1" y="1" width="32" height="16"/>`;
  return html`<section aria-labelledby="legend"><h2 id="legend">${words.legend}</h2>
<p>${words.eachOrder}</p>
<ul class="legend">
${mark(html`<g class="bar hue-0 set-up">${ground}</g>`, words.setUp)}
${mark(html`<g class="bar hue-0 booked">${ground}</g>`, `${words.run}: ${words.states.booked}`)}
${mark(html`<g class="bar hue-0 started">${ground}<rect class="begun" x="1" y="13" width="32" height="4"/></g>`, `${words.run}: ${words.states.started}`)}
${mark(html`<g class="bar hue-0 finished">${ground}<text class="label" x="17" y="13" text-anchor="middle">✓</text></g>`, `${words.run}: ${words.states.finished}`)}
${mark(html`<g class="bar hue-0 booked">${ground}<line class="batch" x1="12" x2="12" y1="1" y2="17"/><line class="batch" x1="23" x2="23" y1="1" y2="17"/></g>`, words.batchEnd)}
${mark(html`<g class="bar hue-0 booked">${ground}<rect class="late-cap" x="1" y="1" width="32" height="5"/><rect class="late" x="2" y="2" width="30" height="14"/><text class="label" x="17" y="13" text-anchor="middle">!</text></g>`, words.lateOrder)}
${mark(html`<rect class="shut" width="34" height="18"/>`, words.closedHours)}
${mark(html`<rect fill="url(#down)" width="34" height="18"/>`, words.outOfUse)}
${mark(html`<g class="crew"><rect class="busy" y="6" width="34" height="12"/></g>`, words.peopleBusy)}
${mark(html`<g class="crew"><line class="there" x2="34" y1="9" y2="9"/></g>`, words.peopleThere)}
${mark(html`<g class="now"><line x1="17" x2="17" y2="18"/></g>`, words.nowLine)}
</ul></section>`;
}

function dayPart(model: PlanPageModel, clock: ClockWords, day: DrawnDay, hours: HoursShown | null): Markup {
  const { words } = model;
  const closure = model.closureOn.get(day.day);
  const content = hours === null ? 'closed' : contentOf(day);
  const id = `day-${day.day}`;
  return html`<section class="day${day.day === model.today ? ' today' : ''}" aria-labelledby="${id}">
<h3 id="${id}">${clock.day(day.day)}${closure === undefined ? '' : ` · ${closure}`}${content === 'closed' ? ` · ${words.closed}` : ''}</h3>
${readyLine(model, clock, day.day)}
${content === 'drawn' && hours !== null ? html`<div class="wide" role="region" aria-labelledby="${id}" tabindex="0">${dayChart(model, clock, day, hours)}</div>${orderKey(model, day)}` : ''}
${content === 'closed' ? '' : dayTable(model, clock, day)}
</section>`;
}

/** Orders promised for a day (a late one with its new day), and late orders that will be ready on it. */
function readyLine({ words, readyOn, late }: PlanPageModel, clock: ClockWords, day: Day): Markup | '' {
  const lateBy = new Map(late.map((each) => [each.order, each]));
  const onDay = (readyOn.get(day) ?? []).map((order) => {
    const flag = lateBy.get(order);
    if (flag === undefined) return order;
    return `${order} (! ${words.now}: ${flag.until === null ? words.beyondPlan : clock.shortDay(flag.until)})`;
  });
  const after = late
    .filter(({ until }) => until === day)
    .map(({ order, promised }) => `${order} (! ${words.promised}: ${clock.shortDay(promised)})`);
  const orders = [...onDay, ...after];
  return orders.length === 0
    ? ''
    : html`<p>${fillTemplate(words.toBeReady, { orders: orders.join(', ') })}</p>`;
}

/** The chart's data as table rows, by time. */
function dayTable(model: PlanPageModel, clock: ClockWords, day: DrawnDay): Markup | '' {
  const { words } = model;
  const rows = new Map<Booking, TableRow>();
  for (const unit of day.units)
    for (const { booking, from, to, part, batches, crewShare } of unit.work) {
      const row = rows.get(booking);
      const setUpS = part === 'set-up' || booking.part === 'set-up' ? to - from : 0;
      if (row === undefined) rows.set(booking, { from, to, setUpS, batches, people: crewShare });
      else {
        row.to = to;
        row.setUpS += setUpS;
        row.people = Math.max(row.people, crewShare);
      }
    }
  if (rows.size === 0) return html`<p class="quiet">${words.nothingBooked}</p>`;
  const caption = fillTemplate(words.tableOf, { day: clock.day(day.day) });
  const id = `table-${day.day}`;
  return html`<details><summary>${words.asTable}</summary>
<div class="wide" role="region" aria-labelledby="${id}" tabindex="0"><table><caption id="${id}">${caption}</caption>
<thead><tr>${[words.from, words.to, words.station, words.order, words.step, words.setUp, words.batches, words.people, words.state].map((head) => html`<th scope="col">${head}</th>`)}</tr></thead>
<tbody>${[...rows]
    .sort(([, a], [, b]) => a.from - b.from)
    .map(([booking, row]) => {
      const late = model.lateOrders.has(booking.job);
      return html`<tr><td>${clock.time(row.from)}</td><td>${clock.time(row.to)}</td><td>${model.unitName(booking.station, booking.unit)}</td><th scope="row">${booking.job}</th><td>${model.stepName(booking)}</td><td>${row.setUpS === 0 ? '–' : clock.minutes(row.setUpS / 60)}${booking.joined ? ` (${words.sharedSetUp})` : ''}</td><td>${row.batches === 0 ? '–' : clock.number(row.batches)}</td><td>${clock.number(row.people)}</td><td>${words.states[booking.state]}${late ? `; ${words.lateOrder}` : ''}</td></tr>`;
    })}</tbody>
</table></div></details>`;
}

type TableRow = { from: number; to: number; setUpS: number; batches: number; people: number };

import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { type Booking, buildPlan, insert, planAsICalendar, workPieces } from '../../../src/promise/index.ts';
import { at, chain, iso, shopOf, work } from '../../src/promise/shops.ts';

const NOW = at('2026-03-01T12:00:00Z');
const options = { now: NOW, host: 'shop.example', name: 'Plan' };

const shop = shopOf({ calendar: { timeZone: 'America/New_York' } });

/** Bookings of job `a` from a Friday afternoon on; the clock goes forward that weekend. */
function bookedFor(minutes: number): readonly Booking[] {
  const placed = insert(
    buildPlan(shop, []),
    chain('a', work('printer', minutes, { setUpS: 600 }), work('press', 30)),
    at('2026-03-06T19:00:00Z'),
  );
  if (placed.kind === 'refused') throw new Error('refused');
  return placed.bookings;
}

type ReadEvent = {
  uid: string;
  summary: string;
  location: string;
  start: string;
  end: string;
};

/** Events as read by ical.js, a general library for RFC 5545. */
function readBack(text: string): ReadEvent[] {
  const root = new ICAL.Component(ICAL.parse(text));
  return root.getAllSubcomponents('vevent').map((component) => {
    const event = new ICAL.Event(component);
    return {
      uid: event.uid,
      summary: event.summary,
      location: event.location,
      start: iso(event.startDate.toUnixTime()),
      end: iso(event.endDate.toUnixTime()),
    };
  });
}

describe('the plan as iCalendar (RFC 5545), read back with ical.js', () => {
  it('has one event for each piece of work, also across a clock change', () => {
    const text = planAsICalendar(shop, bookedFor(180), options);
    // Friday 14:00 in New York is 19:00 UTC; by Monday 9 March the clock has gone forward
    expect(readBack(text)).toEqual([
      {
        uid: 'a.0.0.1@shop.example',
        summary: 'a: on printer',
        location: 'printer 1',
        start: '2026-03-06T19:00:00Z',
        end: '2026-03-06T19:10:00Z',
      },
      {
        uid: 'a.0.0.2@shop.example',
        summary: 'a: on printer',
        location: 'printer 1',
        start: '2026-03-06T19:10:00Z',
        end: '2026-03-06T22:00:00Z',
      },
      {
        uid: 'a.0.0.3@shop.example',
        summary: 'a: on printer',
        location: 'printer 1',
        start: '2026-03-09T12:00:00Z',
        end: '2026-03-09T12:10:00Z',
      },
      {
        uid: 'a.0.1.1@shop.example',
        summary: 'a: on press',
        location: 'press 1',
        start: '2026-03-09T12:10:00Z',
        end: '2026-03-09T12:40:00Z',
      },
    ]);
    const root = new ICAL.Component(ICAL.parse(text));
    expect(root.getFirstPropertyValue('version')).toBe('2.0');
    const [event] = root.getAllSubcomponents('vevent');
    expect(iso((event!.getFirstPropertyValue('dtstamp') as ICAL.Time).toUnixTime())).toBe(iso(NOW));
    expect(event!.getFirstPropertyValue('categories')).toBe('set-up');
  });

  it('keeps the ids of events when a step moves', () => {
    const ids = (from: string): string[] => {
      const utcShop = shopOf();
      const placed = insert(buildPlan(utcShop, []), chain('a', work('press', 60)), at(from));
      if (placed.kind === 'refused') throw new Error('refused');
      return readBack(planAsICalendar(utcShop, placed.bookings, options)).map((event) => event.uid);
    };
    expect(ids('2026-03-02T08:00:00Z')).toEqual(ids('2026-03-04T14:00:00Z'));
  });

  it('round-trips any text, in lines of at most 75 octets', () => {
    const text = fc.string({ unit: 'binary', maxLength: 160, size: 'max' }).map((each) =>
      // the format has no control characters except tab and line feed
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to leave out
      each.replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, '').replace(/\r/g, ''),
    );
    fc.assert(
      fc.property(text, text, fc.integer({ min: 1, max: 900 }), (summary, location, minutes) => {
        const bookings = bookedFor(minutes);
        const written = planAsICalendar(shop, bookings, {
          ...options,
          labelOf: () => ({ summary, location }),
        });
        expect(written.endsWith('END:VCALENDAR\r\n')).toBe(true);
        for (const line of written.split('\r\n')) {
          expect(line).not.toMatch(/[\r\n]/);
          expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
        }
        const events = readBack(written);
        expect(events.map((event) => [event.summary, event.location])).toEqual(
          events.map(() => [summary, location]),
        );
        const pieces = bookings.flatMap((booking) => workPieces(shop, booking));
        expect(events.map((event) => [event.start, event.end])).toEqual(
          pieces.map((piece) => [iso(piece.from), iso(piece.to)]),
        );
      }),
      { numRuns: 300 },
    );
  });

  it('has no events when nothing is booked', () => {
    expect(readBack(planAsICalendar(shopOf(), [], options))).toEqual([]);
  });
});

import type { ShopHours } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { workPieces } from '../plan/booked-work.ts';
import type { Booking } from '../plan/booking.ts';
import { isoInstant } from './day-range.ts';

/** Longest line in octets, excluding the line break. @see RFC 5545, 3.1 */
const MAX_OCTETS = 75;

/** How the calendar is labeled. */
export type CalendarOptions = {
  /** when the calendar is written. */
  readonly now: EpochS;
  /** a host name, such as the shop's, that makes the ids of events unique. */
  readonly host: string;
  /** name of the calendar. */
  readonly name: string;
  /** the text of an event; default job and step, station and unit. */
  readonly labelOf?:
    | ((booking: Booking) => { readonly summary: string; readonly location: string })
    | undefined;
};

/**
 * The plan as an iCalendar: one event for every piece of work in open hours, times in UTC. Ids stay the same as long as
 * a step keeps its number of pieces, so that a subscribed calendar moves events instead of adding them.
 *
 * @returns text with CRLF line ends, foldLine at 75 octets of UTF-8
 * @see RFC 5545
 */
export function planAsICalendar(
  shop: ShopHours,
  bookings: Iterable<Booking>,
  options: CalendarOptions,
): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Peel and Platen//Plan//EN',
    'CALSCALE:GREGORIAN',
    `NAME:${escapeText(options.name)}`,
    `X-WR-CALNAME:${escapeText(options.name)}`,
  ];
  const labelOf = options.labelOf ?? plainLabel;
  const counts = new Map<string, number>();
  for (const booking of bookings) {
    const { summary, location } = labelOf(booking);
    for (const piece of workPieces(shop, booking)) {
      const step = `${booking.job}.${booking.chain}.${booking.step}`;
      const count = (counts.get(step) ?? 0) + 1;
      counts.set(step, count);
      const part = booking.part === 'set-up' ? 'set-up' : piece.part;
      lines.push(
        'BEGIN:VEVENT',
        `UID:${escapeText(`${step}.${count}@${options.host}`)}`,
        `DTSTAMP:${utc(options.now)}`,
        `DTSTART:${utc(piece.from)}`,
        `DTEND:${utc(piece.to)}`,
        `SUMMARY:${escapeText(summary)}`,
        `LOCATION:${escapeText(location)}`,
        `CATEGORIES:${escapeText(part)}`,
        'TRANSP:OPAQUE',
        'END:VEVENT',
      );
    }
  }
  lines.push('END:VCALENDAR');
  return `${lines.map(foldLine).join('\r\n')}\r\n`;
}

function plainLabel(booking: Booking): { summary: string; location: string } {
  return { summary: `${booking.job}: ${booking.key}`, location: `${booking.station} ${booking.unit + 1}` };
}

function utc(at: EpochS): string {
  return isoInstant(at).replace(/[-:]/g, '');
}

/** Escapes a value of type TEXT. Control characters, which it does not allow, are left out. @see RFC 5545, 3.3.11 */
function escapeText(text: string): string {
  return (
    text
      .replace(/\r\n?/g, '\n')
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to leave out
      .replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, '')
      .replace(/[\\;,]/g, (mark) => `\\${mark}`)
      .replace(/\n/g, '\\n')
  );
}

/** Folds a line so that none is over 75 octets, never within a character. */
function foldLine(line: string): string {
  let octets = 0;
  let text = '';
  for (const character of line) {
    const size = octetsOf(character);
    if (octets + size > MAX_OCTETS) {
      text += '\r\n ';
      // the leading space counts
      octets = 1;
    }
    text += character;
    octets += size;
  }
  return text;
}

/** Octets of a character in UTF-8. */
function octetsOf(character: string): number {
  const code = character.codePointAt(0)!;
  if (code < 0x80) return 1;
  if (code < 0x800) return 2;
  return code < 0x10000 ? 3 : 4;
}

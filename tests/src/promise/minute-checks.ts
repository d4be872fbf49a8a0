import type { Booking, Job, WorkStep } from '../../../src/promise/index.ts';
import { MINUTE_S, MINUTES, type OpenMinutes, type SmallShop } from './small-plans.ts';

/**
 * Batches that start before their input is ready, worked out only from the minutes of the bookings. Steps begun on the
 * floor are not checked, and count as input only when all of them is done: when their single batches end is not known.
 */
export function inputFaults(small: SmallShop, job: Job, bookings: readonly Booking[]): string[] {
  const load = new MinuteLoad(small, []);
  const faults: string[] = [];
  /** The minutes in which a booking's batches run. */
  const minutesOf = (booking: Booking): number[] => {
    const open = load.openFor(booking.station, booking.unit, booking.setUpCrewShare + booking.crewShare > 0);
    const minutes: number[] = [];
    for (let minute = booking.runStart / MINUTE_S; minute < booking.end / MINUTE_S; minute++) {
      if (open[minute]) minutes.push(minute);
    }
    return minutes;
  };
  const bookingOf = (chain: number, step: number): Booking | undefined =>
    bookings.find((each) => each.chain === chain && each.step === step && each.part === 'all');

  /** The steps that a step gets its input from, with the minutes of waits in between. */
  const sourcesOf = (
    chain: number,
    step: number,
  ): { chain: number; step: number; wait: number; on: boolean }[] => {
    if (step === 0) {
      return (job.chains[chain]!.after ?? []).flatMap((ref) => {
        const last = ref.step ?? job.chains[ref.chain]!.steps.length - 1;
        return through(ref.chain, last, ref.flow === 'on');
      });
    }
    return through(chain, step - 1, true);
  };
  const through = (chain: number, step: number, on: boolean): ReturnType<typeof sourcesOf> => {
    const source = job.chains[chain]!.steps[step]!;
    if (source.kind === 'work') return [{ chain, step, wait: 0, on: on && source.flow !== 'whole' }];
    return sourcesOf(chain, step).map((each) => ({
      ...each,
      wait: each.wait + source.waitS / MINUTE_S,
      on: on && each.on,
    }));
  };

  job.chains.forEach((chain, c) => {
    chain.steps.forEach((step, s) => {
      const booking = bookingOf(c, s);
      if (step.kind === 'wait' || !booking || booking.state !== 'booked') return;
      const mine = minutesOf(booking);
      for (const source of sourcesOf(c, s)) {
        const from = bookingOf(source.chain, source.step);
        const producer = job.chains[source.chain]!.steps[source.step] as WorkStep;
        if (!from) {
          faults.push(`${c}.${s} is booked without ${source.chain}.${source.step}`);
          continue;
        }
        const theirs = minutesOf(from);
        for (let k = 0; k < step.batches; k++) {
          const counted = producer.batchPieces !== undefined && step.batchPieces !== undefined;
          const part = counted
            ? Math.ceil(((k + 1) * step.batchPieces!) / producer.batchPieces!)
            : Math.ceil(((k + 1) * producer.batches) / step.batches);
          const whole = !source.on || k === step.batches - 1 || part >= producer.batches;
          if (!whole && from.state !== 'booked') continue;
          const ready = whole ? from.end / MINUTE_S : theirs[(part * producer.batchS) / MINUTE_S - 1]! + 1;
          const starts = mine[(k * step.batchS) / MINUTE_S]!;
          if (starts < ready + source.wait) {
            faults.push(
              `batch ${k} of ${c}.${s} starts at ${starts}, its input is ready at ${ready + source.wait}`,
            );
          }
        }
      }
    });
  });
  return faults;
}

/** The load of units and crew in every minute, worked out only from the bookings and the open minutes. */
export class MinuteLoad {
  readonly crew: number[] = Array.from({ length: MINUTES }, () => 0);
  /** the step on each unit (`station unit`) in every minute, including held time and closed minutes within a booking. */
  readonly units = new Map<string, (string | null)[]>();
  readonly faults: string[] = [];
  readonly #small: SmallShop;

  constructor(small: SmallShop, bookings: readonly Booking[]) {
    this.#small = small;
    for (const [id, units] of small.stationOpen) {
      units.forEach((_, unit) => {
        this.units.set(
          `${id} ${unit}`,
          Array.from({ length: MINUTES }, () => null),
        );
      });
    }
    for (const booking of bookings) this.add(booking);
    this.crew.forEach((load, minute) => {
      if (load > small.crew + 1e-9) this.faults.push(`crew ${load} of ${small.crew} in minute ${minute}`);
    });
  }

  add(booking: Booking): void {
    const at = (instant: number): number => {
      if (instant % MINUTE_S !== 0) this.faults.push(`${instant} is not on a whole minute`);
      return instant / MINUTE_S;
    };
    const name = `${booking.job}/${booking.chain}/${booking.step}`;
    const unit = this.units.get(`${booking.station} ${booking.unit}`)!;
    for (let minute = at(booking.heldFrom); minute < at(booking.end); minute++) {
      if (unit[minute] !== null)
        this.faults.push(`${name} and ${unit[minute]} on a unit in minute ${minute}`);
      unit[minute] = name;
    }
    const open = this.openFor(booking.station, booking.unit, booking.setUpCrewShare + booking.crewShare > 0);
    let setUp = 0;
    let run = 0;
    for (let minute = at(booking.start); minute < at(booking.end); minute++) {
      if (!open[minute]) continue;
      const inRun = minute >= at(booking.runStart);
      if (inRun) run++;
      else setUp++;
      this.crew[minute]! += inRun ? booking.crewShare : booking.setUpCrewShare;
    }
    if (setUp * MINUTE_S !== booking.setUpS || run * MINUTE_S !== booking.runS) {
      this.faults.push(
        `${name} has ${setUp} and ${run} open minutes for ${booking.setUpS} s set-up and ${booking.runS} s run`,
      );
    }
  }

  openFor(station: string, unit: number, needsCrew: boolean): OpenMinutes {
    const open = this.#small.stationOpen.get(station)![unit]!;
    return needsCrew ? open.map((isOpen, minute) => isOpen && this.#small.crewOpen[minute]!) : open;
  }
}

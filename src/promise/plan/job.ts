import type { EpochS } from '../calendar/time.ts';

/** Work on a station: a set-up, then equal batches one after another on one unit. */
export type WorkStep = {
  readonly kind: 'work';
  /** what the ticket calls it. */
  readonly key: string;
  readonly station: string;
  /** once per booking, s. It may run before the input is there, but not before the previous step has begun its run. */
  readonly setUpS: number;
  /** 0 to 100000. */
  readonly batches: number;
  /** per batch, s; need not be whole. */
  readonly batchS: number;
  /** pieces in a batch. Where both sides of a hand-over have it, the input of a batch is counted in pieces, else in shares. */
  readonly batchPieces?: number | undefined;
  /** people needed during set-up, 0 to 100; a share of one person is a fraction. */
  readonly setUpCrewShare: number;
  /** people needed while the batches run. */
  readonly crewShare: number;
  /** `on` (default): the next step may take batches as they become ready; `whole`: only when all are. */
  readonly flow?: 'on' | 'whole' | undefined;
  /** set-up family: directly after a booking with the same key on the same unit, the set-up takes only `sharedSetUpS`. */
  readonly like?: { readonly key: string; readonly sharedSetUpS: number } | undefined;
  /** release time of its first batch, such as the day the blanks arrive. */
  readonly notBefore?: EpochS | undefined;
};

/** Drying or cooling: every batch is ready `waitS` after it left the previous step, day or night, without a station. */
export type WaitStep = {
  readonly kind: 'wait';
  readonly key: string;
  readonly waitS: number;
};

export type Step = WorkStep | WaitStep;

/** A predecessor of a chain: a step of another chain of the job. */
export type ChainRef = {
  /** index into `Job.chains`. */
  readonly chain: number;
  /** index of the step; default the chain's last. */
  readonly step?: number | undefined;
  /** `whole` (default): when all of it is done; `on`: batch by batch, as between steps of a chain. */
  readonly flow?: 'on' | 'whole' | undefined;
};

/** Steps in order. */
export type Chain = {
  readonly steps: readonly Step[];
  /** the first step waits for these. */
  readonly after?: readonly ChainRef[] | undefined;
};

/** What has to be made for one order: chains that are independent of each other except for their `after`. */
export type Job = {
  readonly id: string;
  readonly chains: readonly Chain[];
};

/** The values for a cause of lateness, with names instead of ids. */
export type NamedCause = {
  readonly station?: string;
  readonly step?: string;
  /** number of the other order. */
  readonly order?: string;
  readonly pieces?: number;
};

/** All texts of the plan page in one language. `{...}` is filled in. */
export type PlanWords = {
  readonly title: string;
  /** `{from}`, `{to}`: days. */
  readonly range: string;
  /** `{at}`: day and time. */
  readonly asOf: string;
  readonly earlier: string;
  readonly today: string;
  readonly later: string;
  readonly lateOrders: string;
  readonly noneLate: string;
  readonly order: string;
  readonly promised: string;
  readonly now: string;
  readonly cause: string;
  readonly unknownCause: string;
  readonly beyondPlan: string;
  readonly howFull: string;
  /** explains the figures of that table. */
  readonly howFullNote: string;
  readonly station: string;
  readonly crew: string;
  readonly closed: string;
  /** `{orders}`: numbers. */
  readonly toBeReady: string;
  readonly nothingBooked: string;
  /** `{day}`; `{orders}` and `{steps}`: counts. */
  readonly chartOf: string;
  readonly chartNote: string;
  /** `{day}` */
  readonly tableOf: string;
  readonly asTable: string;
  readonly from: string;
  readonly to: string;
  readonly step: string;
  readonly state: string;
  readonly batches: string;
  readonly people: string;
  readonly legend: string;
  readonly setUp: string;
  readonly run: string;
  readonly batchEnd: string;
  readonly sharedSetUp: string;
  readonly lateOrder: string;
  readonly closedHours: string;
  readonly outOfUse: string;
  readonly peopleBusy: string;
  readonly peopleThere: string;
  readonly nowLine: string;
  readonly eachOrder: string;
  readonly states: { readonly booked: string; readonly started: string; readonly finished: string };
  readonly causes: {
    readonly down: string;
    readonly spoiled: string;
    readonly 'late-step': string;
    readonly 'not-started': string;
    readonly closed: string;
    readonly 'crew-short': string;
  };
};

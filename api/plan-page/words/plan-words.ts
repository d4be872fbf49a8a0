/** A cause of lateness with the names of things in place of their ids. */
export type NamedCause = {
  readonly station?: string;
  readonly step?: string;
  /** number of the order whose work it was. */
  readonly order?: string;
  readonly pieces?: number;
};

/** All the plan's page says, in one language. What is between braces is filled in. */
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
  /** what the figures of that table are. */
  readonly howFullNote: string;
  readonly station: string;
  readonly crew: string;
  readonly closed: string;
  /** `{orders}`: numbers. */
  readonly toBeReady: string;
  readonly nothingBooked: string;
  /** `{day}`, `{orders}`, `{steps}`: how many. */
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

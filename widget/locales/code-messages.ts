import type {
  Charge,
  FindingCode,
  LateCode,
  OrderState,
  ProblemCode,
  ReasonCode,
  Remedy,
  SourceNote,
} from '../../src/contract/index.ts';
import type { Line } from './message-format.ts';
import type { StageWords } from './stage-words.ts';

/** Why an order does not keep its day, and what to say where no new day is known. */
export type LateWord = LateCode | 'not-kept' | 'no-day-yet';

/** One message for every code of the contract, and the words of the drawing. */
export type CodeMessages = {
  readonly reasons: Readonly<Record<ReasonCode, Line>>;
  readonly findings: Readonly<Record<FindingCode, Line>>;
  readonly remedies: Readonly<Record<Remedy['kind'], string>>;
  readonly notes: Readonly<Record<SourceNote['code'], Line>>;
  readonly charges: Readonly<Record<Charge['code'], Line>>;
  readonly problems: Readonly<Record<ProblemCode, Line>>;
  readonly states: Readonly<Record<OrderState, string>>;
  readonly late: Readonly<Record<LateWord, string>>;
  readonly stage: StageWords;
};

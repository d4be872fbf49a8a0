import type { ChoiceModel } from '../../../src/routing/choice/model.ts';

/** What a linear program minimizes: the same weighing as the search's. */
export type LinearWeighing = {
  readonly costWeight: number;
  readonly loadWeight: number;
  readonly capacityMs?: readonly number[] | undefined;
};

/**
 * The choice of methods as a mixed-integer program in CPLEX LP format: a 0/1 variable for every option and set-up, a
 * whole number for every pool, and one variable over the loads of all stations. Written from the meaning of the model,
 * not from the search.
 */
export function linearProgram(model: ChoiceModel, weighing: LinearWeighing, relaxed = false): string {
  const { slots, setUps, pools, stations, incompatible } = model;
  const { costWeight, loadWeight, capacityMs } = weighing;
  const objective: string[] = [];
  const rows: string[] = [];
  const binaries: string[] = [];
  const integers: string[] = [];
  const loads: string[][] = stations.map(() => []);
  const amounts: string[][] = pools.map(() => []);
  const term = (factor: number, name: string): string =>
    `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} ${name}`;
  const add = (
    part: { cost: number; loads: readonly number[]; shares?: readonly { pool: number; amount: number }[] },
    name: string,
  ): void => {
    if (part.cost !== 0 && costWeight !== 0) objective.push(term(costWeight * part.cost, name));
    part.loads.forEach((load, s) => {
      if (load !== 0) loads[s]!.push(term(load, name));
    });
    for (const { pool, amount } of part.shares ?? []) amounts[pool]!.push(term(amount, name));
  };
  slots.forEach(({ options, line }, i) => {
    rows.push(`${options.map((_, j) => `+ 1 x${i}_${j}`).join(' ')} = 1`);
    options.forEach((option, j) => {
      const name = `x${i}_${j}`;
      binaries.push(name);
      add(option, name);
      for (const k of option.setUps) rows.push(`+ 1 y${k} - 1 ${name} >= 0`);
      for (let other = i + 1; other < slots.length; other++) {
        if (slots[other]!.line !== line) continue;
        slots[other]!.options.forEach(({ method }, l) => {
          if (incompatible[option.method]![method]!) rows.push(`+ 1 ${name} + 1 x${other}_${l} <= 1`);
        });
      }
    });
  });
  setUps.forEach((setUp, k) => {
    binaries.push(`y${k}`);
    add(setUp, `y${k}`);
  });
  pools.forEach((pool, p) => {
    integers.push(`z${p}`);
    add(pool, `z${p}`);
  });
  amounts.forEach((terms, p) => {
    if (terms.length > 0) rows.push(`+ 1 z${p} ${terms.map((each) => flip(each)).join(' ')} >= 0`);
  });
  loads.forEach((terms, s) => {
    if (terms.length === 0) return;
    if (loadWeight !== 0) rows.push(`+ 1 most ${terms.map((each) => flip(each)).join(' ')} >= 0`);
    if (capacityMs !== undefined && Number.isFinite(capacityMs[s]!))
      rows.push(`${terms.join(' ')} <= ${capacityMs[s]!}`);
  });
  if (loadWeight !== 0) objective.push(term(loadWeight, 'most'));
  const lines = (terms: readonly string[], size: number): string => {
    const parts: string[] = [];
    for (let at = 0; at < terms.length; at += size) parts.push(terms.slice(at, at + size).join(' '));
    return parts.join('\n ');
  };
  const bounds = [
    ...binaries.map((name) => ` 0 <= ${name} <= 1`),
    ...integers.map((name) => ` 0 <= ${name} <= 1e7`),
  ];
  return [
    'Minimize',
    ` obj: ${lines(objective.length > 0 ? objective : ['+ 0 x0_0'], 8)}`,
    'Subject To',
    ...rows.map((row, index) => ` r${index}: ${lines(row.split(/ (?=[+-] )/), 12)}`),
    'Bounds',
    ...bounds,
    ...(relaxed ? [] : ['Binaries', ` ${lines(binaries, 10)}`, 'Generals', ` ${lines(integers, 10)}`]),
    'End',
  ].join('\n');
}

function flip(term: string): string {
  return term.startsWith('+') ? `-${term.slice(1)}` : `+${term.slice(1)}`;
}

import { FIRST_LOAD_BUDGET_BYTES, measureWidget, WHOLE_BUDGET_BYTES } from './widget-size.ts';

/** `npm run size`: the built script for pages against its budgets; exits 1 when over. */
const size = await measureWidget();
const inKb = (bytes: number) => `${(bytes / 1000).toFixed(1)} KB`;
const budgets = [
  { what: 'first load', bytes: size.firstLoadBytes, budget: FIRST_LOAD_BUDGET_BYTES },
  { what: 'whole widget', bytes: size.wholeBytes, budget: WHOLE_BUDGET_BYTES },
];
for (const { what, bytes, budget } of budgets) {
  const verdict = bytes <= budget ? 'within' : 'OVER';
  process.stdout.write(`${what}: ${inKb(bytes)} brotli, ${verdict} its budget of ${budget / 1000} KB\n`);
}
process.stdout.write(`faces of type: ${inKb(size.fontBytes)}, where names are printed\n`);
process.exitCode = budgets.every(({ bytes, budget }) => bytes <= budget) ? 0 : 1;

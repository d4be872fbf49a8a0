import { FIRST_LOAD_BUDGET_BYTES, measureWidget, WHOLE_BUDGET_BYTES } from './widget-size.ts';

/** `npm run size`: the built widget against its budget; exits 1 when over. */
const size = await measureWidget();
const lines = [
  { what: 'first load', bytes: size.firstLoadBytes, budget: FIRST_LOAD_BUDGET_BYTES },
  { what: 'whole widget', bytes: size.wholeBytes, budget: WHOLE_BUDGET_BYTES },
];
for (const { what, bytes, budget } of lines) {
  const verdict = bytes <= budget ? 'within' : 'OVER';
  process.stdout.write(
    `${what}: ${(bytes / 1000).toFixed(1)} KB brotli, ${verdict} its budget of ${budget / 1000} KB\n`,
  );
}
process.exitCode = lines.every(({ bytes, budget }) => bytes <= budget) ? 0 : 1;

export { benchmarks } from '../slip-usable.bench.ts';

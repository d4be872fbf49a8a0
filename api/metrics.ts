import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';

/** Metrics of the running program, for Prometheus. */
export type Metrics = {
  answered(method: string, route: string, status: number, seconds: number): void;
  /** @param outcome `again`: answered from the cache */
  quoted(outcome: 'quote' | 'refusal' | 'faulty' | 'again', seconds: number): void;
  ordered(outcome: 'placed' | 'again' | 'refused'): void;
  text(): Promise<{ readonly type: string; readonly body: string }>;
};

/** Upper bounds of the histogram buckets, s: a quote takes a few ms, reading a file up to several seconds. */
const SECONDS = [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10];

/** @param poolLoad number of files being read, and waiting */
export function createMetrics(
  poolLoad: () => { readonly running: number; readonly waiting: number },
): Metrics {
  const registry = new Registry();
  const registers = [registry];
  collectDefaultMetrics({ register: registry });
  const answers = new Histogram({
    name: 'platen_http_answer_seconds',
    help: 'Time from a request to its answer',
    labelNames: ['method', 'route', 'status'] as const,
    buckets: SECONDS,
    registers,
  });
  const quotes = new Histogram({
    name: 'platen_quote_seconds',
    help: 'Time to quote a slip',
    labelNames: ['outcome'] as const,
    buckets: SECONDS,
    registers,
  });
  const orders = new Counter({
    name: 'platen_orders_total',
    help: 'Requests to order by what came of them',
    labelNames: ['outcome'] as const,
    registers,
  });
  new Gauge({
    name: 'platen_files_reading',
    help: 'Files being read and waiting to be read',
    labelNames: ['state'] as const,
    registers,
    collect() {
      const { running, waiting } = poolLoad();
      this.set({ state: 'running' }, running);
      this.set({ state: 'waiting' }, waiting);
    },
  });
  return {
    answered: (method, route, status, seconds) => answers.observe({ method, route, status }, seconds),
    quoted: (outcome, seconds) => quotes.observe({ outcome }, seconds),
    ordered: (outcome) => orders.inc({ outcome }),
    text: async () => ({ type: registry.contentType, body: await registry.metrics() }),
  };
}

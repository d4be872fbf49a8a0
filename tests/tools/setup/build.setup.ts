import type { TestProject } from 'vitest/node';
import { build } from '../build.ts';
import { openBroker } from './broker.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Broker of the folder with this run's build of server, widget and demo. */
    buildBroker: string;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const broker = await openBroker('build', async () => {
    const built = await build();
    return { answer: built.dir, end: () => built.remove() };
  });
  project.provide('buildBroker', broker.url);
  return () => broker.close();
}

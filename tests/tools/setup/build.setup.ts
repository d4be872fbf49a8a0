import type { TestProject } from 'vitest/node';
import { build } from '../build.ts';
import { packWidget } from '../pack.ts';
import { openBroker } from './broker.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Broker of the folder with this run's build of server, widget and demo. */
    buildBroker: string;
    /** Where a test asks for the folder of a project that has the packed widget installed. */
    packageBroker: string;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const built = await openBroker('build', async () => {
    const { dir, remove } = await build();
    return { answer: dir, end: remove };
  });
  const packed = await openBroker('package', async () => {
    const { dir, remove } = await packWidget();
    return { answer: dir, end: remove };
  });
  project.provide('buildBroker', built.url);
  project.provide('packageBroker', packed.url);
  return async () => {
    await built.close();
    await packed.close();
  };
}

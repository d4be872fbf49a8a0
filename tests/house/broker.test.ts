import { describe, expect, it } from 'vitest';
import { openBroker, requestResource } from '../tools/setup/broker.ts';

describe('what a run shares', () => {
  it('is started once, by the first to ask, and ended by the last to close', async () => {
    const told: string[] = [];
    const start = async () => {
      told.push('start');
      return { answer: 'here', end: async () => void told.push('end') };
    };
    const one = await openBroker('once', start);
    const two = await openBroker('once', start);
    expect(told).toEqual([]);
    expect(
      await Promise.all([requestResource(one.url), requestResource(two.url), requestResource(one.url)]),
    ).toEqual(['here', 'here', 'here']);
    await one.close();
    expect(told).toEqual(['start']);
    await two.close();
    expect(told).toEqual(['start', 'end']);
  });

  it('is never started when nobody asks', async () => {
    const broker = await openBroker('unasked', () => Promise.reject(new Error('was started')));
    await broker.close();
  });

  it('fails everyone who asks, with the reason, when it cannot be started', async () => {
    const broker = await openBroker('broken', () => Promise.reject(new Error('no disk')));
    await expect(requestResource(broker.url)).rejects.toThrow('no disk');
    await expect(requestResource(broker.url)).rejects.toThrow('no disk');
    await broker.close();
  });
});

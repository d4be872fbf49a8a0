import { describe, expect, it } from 'vitest';
import { openBroker, requestResource } from '../../tools/setup/broker.ts';

describe('a resource that a run shares', () => {
  it('is started once, by the first request, and ended by the last to close', async () => {
    const events: string[] = [];
    const start = async () => {
      events.push('start');
      return { answer: 'here', end: async () => void events.push('end') };
    };
    const one = await openBroker('once', start);
    const two = await openBroker('once', start);
    expect(events).toEqual([]);
    expect(
      await Promise.all([requestResource(one.url), requestResource(two.url), requestResource(one.url)]),
    ).toEqual(['here', 'here', 'here']);
    await one.close();
    expect(events).toEqual(['start']);
    await two.close();
    expect(events).toEqual(['start', 'end']);
  });

  it('is never started when nobody requests it', async () => {
    const broker = await openBroker('unasked', () => Promise.reject(new Error('was started')));
    await broker.close();
  });

  it('fails every request, with the reason, when it cannot be started', async () => {
    const broker = await openBroker('broken', () => Promise.reject(new Error('no disk')));
    await expect(requestResource(broker.url)).rejects.toThrow('no disk');
    await expect(requestResource(broker.url)).rejects.toThrow('no disk');
    await broker.close();
  });
});

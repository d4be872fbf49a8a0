import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import { setImmediate as nextTurn, setTimeout as sleep } from 'node:timers/promises';

/** How long running requests may take to finish once the server closes. */
const FINISH_MS = 10_000;
const QUIET_MS = 50;
const MAX_QUIET_WAIT_MS = 1_000;
const IDLE_CHECK_MS = 50;

/** Stops listening, lets running requests finish, and closes every connection. */
export async function closeGracefully(server: Server): Promise<void> {
  await waitForQuiet(server);
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  // A keep-alive connection is closed as soon as it is idle.
  const idle = setInterval(() => server.closeIdleConnections(), IDLE_CHECK_MS);
  const timeout = setTimeout(() => server.closeAllConnections(), FINISH_MS);
  await closed;
  clearInterval(idle);
  clearTimeout(timeout);
}

/**
 * Waits for 50 ms of quiet before closing the listener, 1 s at most. Requests may have been sent and not read yet: their
 * connections wait to be accepted, or look idle, and closing would cut them off. Clients answered meanwhile are told not
 * to reuse the connection.
 */
async function waitForQuiet(server: Server): Promise<void> {
  const startMs = performance.now();
  let lastMs = startMs;
  const onActivity = (): void => {
    lastMs = performance.now();
  };
  const onRequest = (_: IncomingMessage, response: ServerResponse): void => {
    onActivity();
    response.shouldKeepAlive = false;
  };
  server.on('connection', onActivity);
  server.prependListener('request', onRequest);
  while (performance.now() - lastMs < QUIET_MS && performance.now() - startMs < MAX_QUIET_WAIT_MS) {
    await sleep(QUIET_MS / 5);
    // Sockets are read in a later phase of the loop; wait for it, however long this turn took.
    await nextTurn();
  }
  server.off('connection', onActivity);
}

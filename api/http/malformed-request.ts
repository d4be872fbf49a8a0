import type { Duplex } from 'node:stream';
import { problemBody } from './problem.ts';

/** How long the rest of a malformed request is drained before its connection is cut. */
const DRAIN_MS = 2_000;

/** Answers what cannot be parsed as HTTP with a problem. For `clientError` of a server. */
export function answerMalformedRequest(error: NodeJS.ErrnoException, socket: Duplex): void {
  if (error.code === 'ECONNRESET' || !socket.writable) {
    socket.destroy();
    return;
  }
  const body = problemBody('invalid-input', 'this is not a request by HTTP/1.1', undefined);
  const head = [
    'HTTP/1.1 400 Bad Request',
    'Content-Type: application/problem+json; charset=utf-8',
    `Content-Length: ${Buffer.byteLength(body)}`,
    'Connection: close',
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
  // After a parse error, keep draining so that the client can read our response.
  socket.removeAllListeners('data');
  socket.on('error', () => {});
  socket.resume();
  const timeout = setTimeout(() => socket.destroy(), DRAIN_MS);
  timeout.unref();
  socket.once('close', () => clearTimeout(timeout));
}

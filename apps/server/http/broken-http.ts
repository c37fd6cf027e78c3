import { STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import { plainDetails, type ProblemDetails } from './problem-details.js';

/**
 * Answers what is no HTTP, before there is a request to answer: a garbled first line, headers that are too long, a
 * request that never ends. Then the connection is closed.
 */
export function refuseBrokenHttp(fault: Error & { code?: string }, socket: Socket): void {
  if (fault.code === 'ECONNRESET' || socket.destroyed) return;
  if (socket.writable) {
    const details = detailsOf(fault.code);
    const body = JSON.stringify(details);
    socket.write(
      `HTTP/1.1 ${details.status} ${STATUS_CODES[details.status]}\r\nContent-Type: application/problem+json; charset=utf-8\r\n` +
        `Content-Length: ${Buffer.byteLength(body)}\r\nX-Content-Type-Options: nosniff\r\nConnection: close\r\n\r\n${body}`,
    );
  }
  socket.destroy(fault);
}

function detailsOf(code: string | undefined): ProblemDetails {
  if (code === 'HPE_HEADER_OVERFLOW')
    return plainDetails(431, 'Headers too long', 'The headers of the request are too long.');
  if (code === 'ERR_HTTP_REQUEST_TIMEOUT')
    return plainDetails(408, 'Request timeout', 'The request did not arrive in time. Send it again.');
  return plainDetails(400, 'Bad request', 'This is not a valid HTTP request.');
}

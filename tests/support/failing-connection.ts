import { connect, createServer, type Socket } from 'node:net';

/**
 * When the connection breaks: as this text is sent, either before it reaches the server or after the server has
 * answered.
 */
export interface Break {
  readonly at: string;
  /** Only once this text has been sent, over any connection. */
  readonly onceSent?: string;
  readonly when: 'before' | 'after';
}

export interface FailingConnection {
  readonly url: string;
  /** The next connection that sends this text breaks, once. */
  breakOnce(at: Break): void;
  /** The server's shutdown notice arrives in one piece with the answer that the next connection is open, once. */
  terminateAsOpened(): void;
  /** Closes all connections and accepts no new one for this long. */
  cutFor(milliseconds: number): void;
  /** The number of breaks so far. */
  broke(): number;
  close(): Promise<void>;
}

// PostgreSQL's frontend/backend protocol, "Message Formats": ReadyForQuery (idle) and ErrorResponse.
const readyForQuery = Buffer.from('Z\0\0\0\x05I');
const shutdownFields = 'SFATAL\0VFATAL\0C57P01\0Mterminating connection due to administrator command\0\0';
const adminShutdown = Buffer.from(`E\0\0\0${String.fromCharCode(4 + shutdownFields.length)}${shutdownFields}`);

/** A proxy between the book and PostgreSQL that breaks connections on demand. */
export async function failingConnection(toUrl: string): Promise<FailingConnection> {
  const to = new URL(toUrl);
  const sockets = new Set<Socket>();
  let next: Break | undefined;
  let cut = false;
  let isTerminating = false;
  let broken = 0;
  const server = createServer((client) => {
    if (cut) return void client.destroy();
    const upstream = connect(Number(to.port), to.hostname);
    const end = (): void => {
      client.destroy();
      upstream.destroy();
    };
    for (const socket of [client, upstream]) {
      sockets.add(socket);
      socket.on('error', end).on('close', () => {
        sockets.delete(socket);
        end();
      });
    }
    let silent = false;
    client.on('data', (text: Buffer) => {
      if (next?.onceSent !== undefined && text.includes(next.onceSent)) next = { at: next.at, when: next.when };
      if (next === undefined || next.onceSent !== undefined || !text.includes(next.at))
        return void upstream.write(text);
      const { when } = next;
      next = undefined;
      broken++;
      if (when === 'before') return end();
      silent = true;
      upstream.write(text);
    });
    upstream.on('data', (text: Buffer) => {
      if (silent) return end();
      if (!isTerminating || !text.subarray(-readyForQuery.length).equals(readyForQuery)) return void client.write(text);
      isTerminating = false;
      broken++;
      client.end(Buffer.concat([text, adminShutdown]));
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const url = new URL(toUrl);
  url.port = String((server.address() as { port: number }).port);
  return {
    url: url.toString(),
    breakOnce: (at) => (next = at),
    terminateAsOpened: () => (isTerminating = true),
    cutFor: (milliseconds) => {
      cut = true;
      for (const socket of sockets) socket.destroy();
      setTimeout(() => (cut = false), milliseconds);
    },
    broke: () => broken,
    close: async () => {
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

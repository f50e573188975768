import { connect, createServer, type Socket } from 'node:net';

/** The database behind a TCP proxy that can stop passing bytes on, as a server does that hangs. */
export type FreezableProxy = { readonly url: string; freeze(): void; thaw(): void; close(): Promise<void> };

export async function freezableProxy(databaseUrl: string): Promise<FreezableProxy> {
  const target = new URL(databaseUrl);
  const sockets = new Set<Socket>();
  let frozen = false;
  const server = createServer((near) => {
    const far = connect(Number(target.port), target.hostname);
    for (const [one, other] of [
      [near, far],
      [far, near],
    ] as const) {
      sockets.add(one);
      if (frozen) one.pause();
      one.on('data', (bytes) => other.write(bytes));
      one.on('error', () => other.destroy());
      one.on('close', () => {
        sockets.delete(one);
        other.destroy();
      });
    }
    if (frozen) for (const socket of [near, far]) socket.pause();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the proxy has no port');
  const url = new URL(databaseUrl);
  // Not past it over a socket.
  url.searchParams.delete('host');
  url.hostname = '127.0.0.1';
  url.port = String(address.port);
  return {
    url: url.href,
    freeze() {
      frozen = true;
      for (const socket of sockets) socket.pause();
    },
    thaw() {
      frozen = false;
      for (const socket of sockets) socket.resume();
    },
    async close() {
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

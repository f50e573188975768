/** From the moment the service is told to stop: what is under way is answered, and nothing else is waited for. */
import type { Socket } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { Problem } from '../errors.ts';

/** Milliseconds for the rest of a request that has begun to come when the service stops: it is told to come again. */
const patience = 1_000;

export function closeInTime(app: FastifyInstance): void {
  let closing = false;
  const idle = socketsWithoutRequest(app);
  app.addHook('preClose', async () => {
    closing = true;
    const endIdle = () => {
      for (const socket of idle) socket.destroy();
    };
    setTimeout(endIdle, patience).unref();
  });
  app.addHook('onRequest', async () => {
    if (closing) throw new Problem('busy', 'The service is stopping; repeat the request.');
  });
  // Otherwise the caller would keep the connection for its next request, and closing would wait for it.
  app.addHook('onSend', async (_, reply) => {
    if (closing) reply.header('connection', 'close');
  });
}

/** Open connections on which no request is under way: none came yet, or not whole, or the last one is answered. */
function socketsWithoutRequest({ server }: FastifyInstance): ReadonlySet<Socket> {
  const idle = new Set<Socket>();
  server.on('connection', (socket) => {
    idle.add(socket);
    socket.once('close', () => idle.delete(socket));
  });
  server.on('request', ({ socket }, response) => {
    idle.delete(socket);
    response.once('close', () => {
      if (!socket.destroyed) idle.add(socket);
    });
  });
  return idle;
}

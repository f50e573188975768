/** Requests over HTTP, each list on a connection of its own that is kept open. */
import { Agent, request } from 'node:http';
import { setTimeout as pause } from 'node:timers/promises';
import { type Driven, drive, type Task } from './drive.ts';

export type HttpRequest = {
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | null;
};
export type HttpJob = {
  readonly kind: 'http';
  readonly base: string;
  readonly lists: readonly (readonly HttpRequest[])[];
  readonly rate: number | null;
};

const agents = new Map<string, Agent>();

/** Milliseconds. Who is told that the service is busy repeats the request: what was waited counts. */
const repeatAfter = 50;
const mostRepeats = 200;

/** @throws where an answer isn't 2xx, or is one of GraphQL with errors. */
export async function httpLoad({ base, lists, rate }: HttpJob): Promise<Driven> {
  const url = new URL(base);
  return await drive(
    lists.map((requests, connection) => {
      const agent = agentOf(`${base} ${connection}`);
      return requests.map(
        (one): Task =>
          async () =>
            await untilTaken(url, agent, one),
      );
    }),
    rate,
  );
}

function agentOf(name: string): Agent {
  const agent = agents.get(name) ?? new Agent({ keepAlive: true, maxSockets: 1 });
  agents.set(name, agent);
  return agent;
}

async function untilTaken(base: URL, agent: Agent, one: HttpRequest): Promise<void> {
  for (let tried = 0; tried < mostRepeats; tried++) {
    if ((await send(base, agent, one)) === 'taken') return;
    await pause(repeatAfter);
  }
  throw new Error(`${one.method} ${one.path} found the service busy again and again`);
}

function send(base: URL, agent: Agent, { method, path, headers, body }: HttpRequest): Promise<'taken' | 'busy'> {
  return new Promise((resolve, reject) => {
    const length = body === null ? {} : { 'content-length': Buffer.byteLength(body) };
    const sent = request(
      { host: base.hostname, port: base.port, method, path, agent, headers: { ...headers, ...length } },
      (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        // Of a stream that has begun nothing else can be told.
        response.on('error', () => resolve('busy'));
        response.on('end', () => {
          const { statusCode = 0 } = response;
          const text = Buffer.concat(chunks);
          if (statusCode === 503 || text.includes('"code":"database-unavailable"')) resolve('busy');
          else if (statusCode < 200 || statusCode > 299 || text.includes('"errors":['))
            reject(new Error(`${method} ${path}: ${statusCode} ${text.toString().slice(0, 2_000)}`));
          else resolve('taken');
        });
      },
    );
    sent.on('error', reject);
    sent.end(body);
  });
}

/** Requests over sockets, some of which are dropped in the middle; every answer is looked at. */
import { Agent, request } from 'node:http';
import type { Asking, Watch } from './words.ts';

export type Sent = {
  readonly method: string;
  readonly path: string;
  /** A text or bytes are sent as they are, anything else as JSON. */
  readonly body?: unknown;
  readonly type?: string;
  readonly key?: string;
  readonly accept?: string;
};
// biome-ignore lint/suspicious/noExplicitAny: answers are read as JSON, field by field
export type Got = { readonly status: number; readonly text: string; readonly json: any };
/** Null where the caller hung up, or the connection broke. */
export type Send = (sent: Sent) => Promise<Got | null>;

export type Line = {
  readonly port: number;
  readonly watch: Watch;
  readonly tokens: ReadonlyMap<Asking['who'], string>;
  /** Milliseconds after which the next caller hangs up; null: it waits. */
  readonly patience: () => number | null;
  readonly onDone: (sent: Sent, got: Got | null) => void;
};

export function openLine(line: Line): { sendAs: (who: Asking['who']) => Send; close: () => void } {
  const agent = new Agent({ keepAlive: true, maxSockets: 16 });
  return {
    sendAs: (who) => async (sent) => {
      const payload = payloadOf(sent.body);
      const headers = {
        authorization: `Bearer ${line.tokens.get(who)}`,
        ...(payload !== undefined && {
          'content-type': sent.type ?? 'application/json',
          'content-length': payload.length,
        }),
        ...(sent.key !== undefined && { 'idempotency-key': sent.key }),
        ...(sent.accept !== undefined && { accept: sent.accept }),
      };
      line.watch.noteSent(who, `${sent.path} ${sent.key ?? ''} ${payload?.toString('utf8') ?? ''}`);
      const got = await exchange({ agent, port: line.port, headers, sent, payload, patience: line.patience() });
      if (got !== null) {
        line.watch.look({ who, what: `${sent.method} ${sent.path} ${got.status}` }, `${got.headers}\n${got.text}`);
      }
      line.onDone(sent, got);
      return got;
    },
    close: () => agent.destroy(),
  };
}

function payloadOf(body: unknown): Buffer | undefined {
  if (body === undefined || Buffer.isBuffer(body)) return body;
  return Buffer.from(typeof body === 'string' ? body : JSON.stringify(body));
}

type Exchange = {
  readonly agent: Agent;
  readonly port: number;
  readonly headers: Record<string, string | number>;
  readonly sent: Sent;
  readonly payload: Buffer | undefined;
  readonly patience: number | null;
};

function exchange({
  agent,
  port,
  headers,
  sent,
  payload,
  patience,
}: Exchange): Promise<(Got & { headers: string }) | null> {
  return new Promise((done) => {
    const outgoing = request({ agent, port, host: '127.0.0.1', method: sent.method, path: sent.path, headers });
    const hangUp = patience === null ? undefined : setTimeout(() => outgoing.destroy(), patience);
    const end = (got: (Got & { headers: string }) | null) => {
      clearTimeout(hangUp);
      done(got);
    };
    outgoing.on('error', () => end(null));
    outgoing.on('response', (incoming) => {
      const chunks: Buffer[] = [];
      incoming.on('data', (chunk: Buffer) => chunks.push(chunk));
      incoming.on('error', () => end(null));
      incoming.on('close', () => {
        if (!incoming.complete) return end(null);
        const text = Buffer.concat(chunks).toString('utf8');
        const isJson = /^application\/(problem\+)?json/.test(incoming.headers['content-type'] ?? '');
        const json = isJson ? JSON.parse(text) : null;
        end({ status: incoming.statusCode ?? 0, text, json, headers: JSON.stringify(incoming.rawHeaders) });
      });
    });
    outgoing.end(payload);
  });
}

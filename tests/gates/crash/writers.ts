/** Benches that record one thing after the other, and send the same with the same key until it is answered. */
import { createHash } from 'node:crypto';
import { Agent, request } from 'node:http';
import { setTimeout as pause } from 'node:timers/promises';
import { block } from '../../support/scene.ts';

export const maker = 'ardenholm';
const recordsOfControl = 10;
const answerWithinMs = 15_000;
/** Longer each time, as whoever calls does it: what is starting again needs the machine itself. */
const againAfterMs = 50;
const againAtLeastEveryMs = 400;

export type Acknowledged = {
  readonly route: string;
  readonly body: string;
  readonly writer: number;
  readonly fact: string;
  readonly entry: string;
  /** SHA-256 of the answer's bytes. */
  readonly answer: string;
  /** Whether an earlier try got no answer, and so nobody knew whether it was applied. */
  readonly wasCutOff: boolean;
  /** Milliseconds of `performance.now()`. */
  readonly at: number;
};

type Got = { readonly status: number; readonly text: string; readonly replayed: boolean };

export class Writers {
  /** By key. */
  readonly acknowledged = new Map<string, Acknowledged>();
  /** Answers that no kill explains. */
  readonly faults: string[] = [];
  /** Tries that ended without an answer. */
  cutOff = 0;
  replayed = 0;

  readonly #base: string;
  readonly #tokens: readonly string[];
  readonly #name: string;
  readonly #agent = new Agent({ keepAlive: true });
  #isOver = false;
  #running: Promise<unknown> = Promise.resolve();

  constructor(options: { base: string; tokens: readonly string[]; name: string }) {
    this.#base = options.base;
    this.#tokens = options.tokens;
    this.#name = options.name;
  }

  begin(): void {
    this.#running = Promise.all(this.#tokens.map((_, writer) => this.#write(writer)));
  }

  /** Every writer gets the answer to what it has sent. */
  async end(): Promise<void> {
    this.#isOver = true;
    await this.#running;
    this.#agent.destroy();
  }

  /** @throws where nothing more was acknowledged for a minute: that is no crash that passes */
  async untilAcknowledged(count: number): Promise<void> {
    let [last, since] = [this.acknowledged.size, performance.now()];
    while (this.acknowledged.size < count) {
      await pause(10);
      if (this.acknowledged.size > last) [last, since] = [this.acknowledged.size, performance.now()];
      else if (performance.now() - since > 60_000) throw new Error(`nothing is acknowledged any more after ${last}`);
    }
  }

  /** The same once more, as it was acknowledged. */
  async replay(key: string, { route, body, writer }: Acknowledged): Promise<Got> {
    return await this.#send(writer, 'POST', route, body, key);
  }

  async #write(writer: number): Promise<void> {
    for (let control = 0; !this.#isOver; control++) {
      const serial = `${this.#name}-${writer}-${control}`;
      await this.#put(writer, `/v1/lots/${maker}/L-${serial}`, { part: 'bought-loose' });
      await this.#put(writer, `/v1/controls/${maker}/K-${serial}`, registration);
      for (let nth = 0; nth < recordsOfControl && !this.#isOver; nth++) {
        const kind = nth === 0 ? 'conversions' : 'inspections';
        const more = nth === 0 ? conversion(`L-${serial}`) : { found };
        const frame = { control: { maker, serial: `K-${serial}` }, reference: `R-${serial}-${nth}`, ...said };
        await this.#record(writer, `/v1/${kind}`, { ...frame, ...more }, `key-${serial}-${nth}`);
      }
    }
  }

  async #put(writer: number, path: string, body: object): Promise<void> {
    const { got } = await this.#untilAnswered(writer, 'PUT', path, JSON.stringify(body), null);
    if (got.status >= 300) this.faults.push(`PUT ${path}: ${got.status} ${got.text}`);
  }

  async #record(writer: number, route: string, sent: object, key: string): Promise<void> {
    const body = JSON.stringify(sent);
    const { got, wasCutOff } = await this.#untilAnswered(writer, 'POST', route, body, key);
    if (got.status !== 201) return void this.faults.push(`POST ${route} ${key}: ${got.status} ${got.text}`);
    if (got.replayed) this.replayed += 1;
    const { id: fact, receipt } = JSON.parse(got.text) as { id: string; receipt: { entry: string } };
    const answer = createHash('sha256').update(got.text).digest('hex');
    const at = performance.now();
    this.acknowledged.set(key, { route, body, writer, fact, entry: receipt.entry, answer, wasCutOff, at });
  }

  async #untilAnswered(writer: number, method: string, path: string, body: string, key: string | null) {
    let wasCutOff = false;
    for (let wait = againAfterMs; ; wait = Math.min(wait * 2, againAtLeastEveryMs)) {
      const got = await this.#send(writer, method, path, body, key).catch(() => null);
      if (got === null) {
        wasCutOff = true;
        this.cutOff += 1;
      } else if (got.status >= 500 && got.status !== 503) {
        this.faults.push(`${method} ${path}: ${got.status} ${got.text}`);
      } else if (got.status !== 503 && !(got.status === 409 && got.text.includes('"key-in-use"'))) {
        return { got, wasCutOff };
      } else {
        // It may have been applied.
        wasCutOff = true;
      }
      await pause(wait);
    }
  }

  async #send(writer: number, method: string, path: string, body: string, key: string | null): Promise<Got> {
    const headers = {
      authorization: `Bearer ${this.#tokens[writer]}`,
      'content-type': 'application/json',
      ...(key !== null && { 'idempotency-key': key }),
    };
    return await new Promise<Got>((resolve, reject) => {
      const sent = request(`${this.#base}${path}`, { method, headers, agent: this.#agent, timeout: answerWithinMs });
      sent.on('timeout', () => sent.destroy(new Error('no answer')));
      sent.on('error', reject);
      sent.on('response', (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('error', reject);
        response.on('end', () => {
          const replayed = response.headers['idempotency-replayed'] === 'true';
          resolve({ status: response.statusCode ?? 0, text: Buffer.concat(chunks).toString('utf8'), replayed });
        });
      });
      sent.end(body);
    });
  }
}

const size = { for: { size: '83', rotation: 'clockwise' } };
const registration = {
  ...{ edition: '2026-1', performedAt: '2026-01-05T08:00:00Z' },
  ...block('load-sense-bled'),
  ...size,
};
const said = { edition: '2026-1', performedAt: '2026-02-03T08:00:00Z', shop: 'north', technician: 't-17' };
const found = { stations: { 'bleed-seat': [{ element: 'plug-m5' }] } };

function conversion(lot: string): object {
  const torque = (joint: string, value: string) => ({
    ...{ joint, how: 'set', instrument: 'tw-3' },
    reading: { value, unit: 'N.m' },
  });
  return {
    ...{ ...size, performedAt: '2026-02-02T08:00:00Z' },
    ...{ found: { function: 'load-sense-bled' }, to: { function: 'load-sense' } },
    removed: [{ station: 'bleed-seat', element: 'orifice-0.6' }],
    fitted: [{ station: 'bleed-seat', element: 'plug-m5', lot }],
    seals: [{ joint: 'sense-adjuster-body', seal: 'seal-22-nbr', lot }],
    torques: [torque('sense-adjuster-body', '61.0'), torque('bleed-seat-element', '5.5')],
    checks: [{ check: 'make-safe', result: 'passed' }],
  };
}

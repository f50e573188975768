/** Sends lines to a service and gives what became of each; what an outage left open is sent again, under the same keys. */
import { setTimeout as pause } from 'node:timers/promises';
import { z } from 'zod';

const place = z.looseObject({ pointer: z.string() });
const findingShape = z.looseObject({
  pointer: z.string(),
  rule: z.string(),
  severity: z.enum(['refuse', 'hold', 'due', 'note']),
  because: z.string(),
  clearedBy: z.array(z.looseObject({ place: z.string() })),
});
const outcomeShape = z.looseObject({
  line: z.int(),
  status: z.int(),
  replayed: z.boolean().optional(),
  id: z.string().optional(),
  judged: z.enum(['released', 'incomplete', 'held']).optional(),
  findings: z.array(findingShape).optional(),
  problem: z
    .looseObject({
      code: z.string(),
      detail: z.string(),
      errors: z.array(place.extend({ detail: z.string() })).optional(),
      findings: z.array(findingShape).optional(),
    })
    .optional(),
});
export type SentOutcome = z.infer<typeof outcomeShape>;
export type SentFinding = z.infer<typeof findingShape>;

export type Service = { readonly url: string; readonly token: string; readonly checkOnly: boolean };

/** The service can't be used: the message says what to do. */
export class ServiceError extends Error {
  override readonly name = 'ServiceError';
}

const mostTries = 6;

/** In the order of the lines. */
export async function sendLines(service: Service, lines: readonly object[]): Promise<SentOutcome[]> {
  const outcomes = new Map<number, SentOutcome>();
  let open = lines.map((line, index) => ({ line, index }));
  for (let tried = 1; open.length > 0; tried++) {
    const { got, why } = await sendOnce(
      service,
      open.map(({ line }) => line),
    );
    for (const outcome of got) {
      const sent = open[outcome.line - 1];
      if (sent !== undefined && !isToRepeat(outcome)) outcomes.set(sent.index, outcome);
    }
    open = open.filter(({ index }) => !outcomes.has(index));
    if (open.length === 0) break;
    const said = why ?? got.find(isToRepeat)?.problem?.detail ?? 'the answer broke off';
    if (tried === mostTries)
      throw new ServiceError(
        `The service does not record now (${said}). Run the same command again later: what is recorded stays recorded once.`,
      );
    await pause(250 * 2 ** tried);
  }
  return lines.flatMap((_, index) => outcomes.get(index) ?? []);
}

/** Outages, and keys that are under way elsewhere. */
function isToRepeat({ status, problem }: SentOutcome): boolean {
  return status >= 500 || status === 429 || problem?.code === 'key-in-use';
}

async function sendOnce(
  { url, token, checkOnly }: Service,
  lines: readonly object[],
): Promise<{ got: SentOutcome[]; why: string | null }> {
  let answer: Response;
  let text: string;
  try {
    answer = await fetch(new URL(`/v1/bulk${checkOnly ? '?check=only' : ''}`, url), {
      method: 'POST',
      headers: { authorization: `Bearer ${token}`, 'content-type': 'application/x-ndjson' },
      body: lines.map((line) => `${JSON.stringify(line)}\n`).join(''),
    });
    text = await answer.text();
  } catch (error) {
    return { got: [], why: `${url} cannot be reached: ${reasonOf(error)}` };
  }
  if (answer.status === 503 || answer.status === 429) return { got: [], why: detailOf(text) };
  if (!answer.ok) throw new ServiceError(`The service answers ${answer.status}: ${detailOf(text)}`);
  return { got: text.split('\n').flatMap(outcomeOf), why: null };
}

/** A line that was cut off on its way is none. */
function outcomeOf(line: string): SentOutcome[] {
  if (line === '') return [];
  try {
    return [outcomeShape.parse(JSON.parse(line))];
  } catch {
    return [];
  }
}

function detailOf(text: string): string {
  try {
    return (JSON.parse(text) as { detail?: string }).detail ?? text.slice(0, 200);
  } catch {
    return text.slice(0, 200);
  }
}

function reasonOf(error: unknown): string {
  const cause = error instanceof Error ? error.cause : undefined;
  return cause instanceof Error && cause.message !== ''
    ? cause.message
    : error instanceof Error
      ? error.message
      : String(error);
}

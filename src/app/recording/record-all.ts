/**
 * Keeps facts: load → decide → commit, on arrays, in one transaction. A batch of one is fine. A batch that fails is
 * tried again request by request, so that one that breaks it never fails its neighbours.
 */
import { canonical } from '../../core/log/canonical.ts';
import { Problem } from '../../errors.ts';
import type { Pools } from '../../store/pools.ts';
import type { Row } from '../../store/sql/insert-rows.ts';
import { type Timeouts, withTransaction } from '../../store/transaction.ts';
import { decide } from '../decisions/decide.ts';
import type { Editions } from '../editions.ts';
import type { Effects } from '../effects.ts';
import { commit } from './commit.ts';
import { ConcurrentChange } from './concurrent-change.ts';
import { type KeptFact, keep, originOf } from './keep.ts';
import { load } from './load.ts';
import type { Loaded } from './loaded.ts';
import { type Outcome, organisationsOf, type Request } from './request.ts';
import { rounds } from './rounds.ts';

export type Recording = {
  readonly pool: Pools['recording'];
  readonly editions: Editions;
  readonly effects: Effects;
};

/**
 * No recording outlives this: what is older than it is settled, so the reading side's horizon follows from it. The
 * server ends a transaction at its limit.
 */
export const recordingTimeouts: Timeouts = { statementMs: 3_000, lockMs: 2_000, idleMs: 3_000, transactionMs: 5_000 };

/**
 * Of requests that come one by one. Two at once keep Postgres busy while the other decides; more get in each other's way,
 * and a batch that takes all that waits leaves the other nothing to do. Whoever finds no room in that time is told so
 * while a caller still waits.
 */
export const recordingBatches = { most: 32, atOnce: 2, waitMs: 1_400 };

export function tooMany(): Problem {
  return new Problem('busy', 'More comes in than can be kept; repeat the request, with the same key if it has one.');
}

/** How often a lone request that met a deadlock or a change by somebody else begins again. */
const mostTries = 5;

/** Outcomes in the order of the requests. */
export async function recordAll(recording: Recording, requests: readonly Request[]): Promise<Outcome[]> {
  const outcomes = new Map<Request, Outcome>();
  for (const round of rounds(requests)) {
    const done = await tryBatch(recording, round);
    for (const [index, request] of round.entries()) {
      outcomes.set(request, done?.[index] ?? (await recordOne(recording, request)));
    }
  }
  return requests.map((request) => outcomes.get(request) ?? { kind: 'failed', error: new Error('not decided') });
}

/** Null when the batch as a whole failed, also the second time where somebody else was in the way. */
async function tryBatch(recording: Recording, requests: readonly Request[]): Promise<Outcome[] | null> {
  if (requests.length < 2) return null;
  return await inOneTransaction(recording, requests).catch((error: unknown) =>
    isWorthAnotherTry(error) ? inOneTransaction(recording, requests).catch(() => null) : null,
  );
}

async function recordOne(recording: Recording, request: Request): Promise<Outcome> {
  for (let tried = 1; ; tried++) {
    try {
      const [outcome] = await inOneTransaction(recording, [request]);
      return outcome ?? { kind: 'failed', error: new Error('not decided') };
    } catch (error) {
      if (!isWorthAnotherTry(error)) return { kind: 'failed', error };
      if (tried === mostTries) return { kind: 'failed', error: busy(error) };
    }
  }
}

/** Deadlock, serialisation failure, or somebody else's change between our look and our write. */
function isWorthAnotherTry(error: unknown): boolean {
  if (error instanceof ConcurrentChange) return true;
  return error instanceof Error && 'code' in error && (error.code === '40P01' || error.code === '40001');
}

function busy(cause: unknown): Problem {
  return new Problem('busy', 'Others keep changing the same; repeat the request, with the same key if it has one.', {
    cause,
  });
}

async function inOneTransaction(recording: Recording, requests: readonly Request[]): Promise<Outcome[]> {
  const orgs = [...new Set(requests.flatMap(organisationsOf))].sort();
  const context = { role: 'recorder' as const, orgs, timeouts: recordingTimeouts };
  return await withTransaction(recording.pool, context, async (tx) => {
    const loaded = await load(tx, requests, recording.editions);
    const kept: KeptFact[] = [];
    const attempts: Row<'attempts'>[] = [];
    const outcomes = requests.map((request) => settle(request, loaded, recording.effects, kept, attempts));
    await commit(tx, kept, attempts);
    return outcomes;
  });
}

/** Decides one request and enters what it leaves into the batch. */
function settle(
  request: Request,
  loaded: Loaded,
  effects: Effects,
  kept: KeptFact[],
  attempts: Row<'attempts'>[],
): Outcome {
  const decision = decide(request, loaded, effects);
  switch (decision.decided) {
    case 'repeat':
      return {
        ...{ kind: 'kept', status: decision.status, answer: decision.answer, replayed: decision.replayed },
        judgesAgain: idIn(decision.answer),
      };
    case 'reject':
      return { kind: 'refused', refusal: decision.refusal };
    case 'refuse':
      if (!request.checkOnly) attempts.push(attemptRow(request, decision.findings, loaded, effects));
      return {
        kind: 'refused',
        refusal: {
          code: 'refused-by-rules',
          detail: decision.findings.map((finding) => finding.text).join(' '),
          extra: { findings: decision.findings, ...decision.extra },
        },
      };
    case 'keep': {
      if (request.checkOnly) {
        const answer = JSON.stringify(decision.draft.answer);
        return { kind: 'kept', status: 200, answer, replayed: false, judgesAgain: null };
      }
      const fact = keep(request, decision.draft, loaded, effects);
      kept.push(fact);
      const { status, judgesAgain = [] } = decision.draft;
      return {
        ...{ kind: 'kept', status, answer: fact.answer, replayed: false },
        judgesAgain: judgesAgain.length === 0 ? null : request.fact,
      };
    }
  }
}

/** Of an answer that was given before: what it touched may have been left undone then. */
function idIn(answer: string): string | null {
  const { id } = JSON.parse(answer) as { id?: string };
  return id ?? null;
}

function attemptRow(request: Request, findings: unknown, loaded: Loaded, effects: Effects): Row<'attempts'> {
  return {
    owner: request.owner,
    id: effects.newId(),
    at: loaded.now,
    kind: request.kind,
    origin: canonical(originOf(request)),
    body: canonical(request.sent),
    findings: canonical(findings),
  };
}

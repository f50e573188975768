/** What is under suspicion is contained, seen to unit by unit, and lifted. */
import { containedBy, liftedFrom, progressed } from '../../core/containment/effects.ts';
import { fold } from '../../core/history/fold.ts';
import type { ContainmentBody } from '../../core/records/containment-bodies.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import { type Decision, type Draft, nothingElse } from '../recording/draft.ts';
import { type Loaded, referenceUsedBy } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { containedOnce } from '../recording/wants.ts';
import { referenceUsed } from './findings.ts';
import { privateOf } from './statement.ts';

type Members = Readonly<Record<string, unknown>>;
type Stated = ContainmentBody & { readonly maker?: string };

export function decideContainment(request: Request<'containment'>, loaded: Loaded): Decision {
  const { maker, body, sent, reached, fact } = request;
  const refused = referenceUsed(request, body.reference, loaded);
  if (refused !== null) return refused;
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      ...{ kind: request.kind, maker, statement: withMaker(sent as Members, maker) },
      judgement: { findings: [], reached },
      reference: { kind: request.kind, reference: body.reference },
      judgesAgain: [{ what: 'containment', containment: fact }],
      ...{ status: 201, answer: { severity: body.severity, reached: reached.length } },
    },
  };
}

/** The first unit of a containment comes under it once; whoever comes second has nothing to do. */
export function decideContained(request: Request<'containment-unit'>, loaded: Loaded): Decision {
  const { containment, unit, is, record, kind } = request;
  const contained = containmentIn(request.owner, containment, loaded);
  if (contained === null) return notFound(containment);
  const reference = containedOnce(request);
  if (referenceUsedBy(loaded, request, reference) !== null) return asBefore(containment, unit);
  const { severity, instruction, maker = null } = contained;
  const effect = is === 'in' ? containedBy({ containment, severity, instruction }) : liftedFrom(containment);
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      ...{ kind, maker, concerns: containment },
      statement: withMaker({ reference, containment, unit, is, ...(record !== null && { record }) }, maker),
      ...judgedOn(severity === 'inform' ? [] : [{ unit, effect }]),
      reference: { kind, reference },
      ...{ status: 201, answer: { containment, unit, is } },
    },
  };
}

export function decideProgress(request: Request<'containment-progress'>, loaded: Loaded): Decision {
  const { containment, issuer, body, sent, kind } = request;
  const contained = issuer === null ? null : containmentIn(issuer, containment, loaded);
  if (contained === null) return notFound(containment);
  const refused = referenceUsed(request, body.reference, loaded);
  if (refused !== null) return refused;
  const { severity, instruction, maker = null } = contained;
  const { unit, step } = body;
  const { open } = fold(unit, loaded.events.get(unit) ?? []);
  const effect = progressed(step, { containment, severity, instruction }, open);
  const { by: _, note: __, ...stated } = sent as Members;
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      ...{ kind, maker, concerns: containment },
      statement: withMaker({ ...stated, unit, containment }, maker),
      ...judgedOn(severity === 'inform' ? [] : [{ unit, effect }]),
      private: privateOf(sent, ['by', 'note']),
      reference: { kind, reference: body.reference },
      ...{ status: 201, answer: { containment, unit, step } },
    },
  };
}

export function decideLift(request: Request<'containment-lift'>, loaded: Loaded): Decision {
  const { containment, owner, sent, kind } = request;
  const contained = containmentIn(owner, containment, loaded);
  if (contained === null) return notFound(containment);
  const refused = referenceUsed(request, containment, loaded);
  if (refused !== null) return refused;
  const { maker = null } = contained;
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      ...{ kind, maker, concerns: containment },
      ...{ statement: withMaker({ ...(sent as Members), containment }, maker), judgement: { findings: [] } },
      reference: { kind, reference: containment },
      judgesAgain: [{ what: 'containment', containment }],
      ...{ status: 201, answer: { containment } },
    },
  };
}

function containmentIn(owner: string, id: string, loaded: Loaded): Stated | null {
  const fact = loaded.records.find((one) => one.id === id && one.owner === owner && one.kind === 'containment');
  return fact === undefined ? null : statedIn(fact);
}

export function statedIn({ statement }: Pick<FactRow, 'statement'>): Stated {
  return JSON.parse(statement) as Stated;
}

function withMaker(statement: Members, maker: string | null): Members {
  return maker === null ? statement : { ...statement, maker };
}

function judgedOn(effects: Draft['effects']): Pick<Draft, 'judgement' | 'effects'> {
  return { judgement: { findings: [], effects }, effects };
}

function asBefore(containment: string, unit: string): Decision {
  return { decided: 'repeat', status: 200, answer: JSON.stringify({ containment, unit }), replayed: false };
}

function notFound(containment: string): Decision {
  return { decided: 'reject', refusal: { code: 'not-found', detail: `There is no containment ${containment}.` } };
}

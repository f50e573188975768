/** A claim, evidence that comes later, and the maker's decision: none of them changes anything of a unit. */
import { type wordLists, wordsOf } from '../../core/claims/words.ts';
import { fold } from '../../core/history/fold.ts';
import type { OnClaimCase } from '../../core/judge/claim-case.ts';
import { claimRules, decisionRules, evidenceRules } from '../../core/rules/claim-rules.ts';
import { findingsBy, type RuleOn } from '../../core/rules/rule.ts';
import { parseTime } from '../../core/time/instant.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import { claimRows, type Placed } from '../derived/claim-rows.ts';
import { type Decision, type Draft, nothingElse } from '../recording/draft.ts';
import {
  editionOf,
  knownTo,
  type Loaded,
  nameOfUnit,
  newestEdition,
  referenceUsedBy,
  unitNamed,
} from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { unitMeant } from '../recording/wants.ts';
import { refuseUnknown } from './findings.ts';
import { privateOf, statementOf } from './statement.ts';

type Members = Readonly<Record<string, unknown>>;
type Said = Request<'claim' | 'claim-evidence' | 'claim-decision'>;

const texts = ['machine', 'duty', 'note'] as const;

export function decideClaim(request: Request<'claim'>, loaded: Loaded): Decision {
  const { body, owner, sent } = request;
  const { kind, ref } = unitMeant(request.body);
  const unit = unitNamed(loaded, kind, ref);
  const name = 'serial' in ref ? ref.serial : ref.tag;
  if (unit === null) {
    return refuseUnknown(`/${kind}`, `No ${kind} of ${ref.maker} is known as ${name}. Register it first.`, name);
  }
  const said = saidCase(request, loaded);
  const edition = editionOf(loaded, ref.maker, newestEdition(loaded.editions, ref.maker, said.performed.to) ?? '');
  const known = knownTo(loaded, owner);
  const words = (list: keyof typeof wordLists) => wordsOf(list, edition).map((one) => one.id);
  const { machine: _, duty: __, ...stated } = sent as Members;
  return kept(
    request,
    claimRules,
    {
      ...{ body, known },
      ...said,
      unit: { name: nameOfUnit(loaded, unit) ?? name, builtAt: fold(unit, loaded.events.get(unit) ?? []).builtAt },
      failed: parseTime(body.failedAt),
      startedUp: body.startedUpAt === undefined ? null : parseTime(body.startedUpAt),
      words: { symptom: words('symptom'), failureMode: words('failureMode') },
      replaces: body.replaces === undefined ? null : replacedClaim(body.replaces, owner, unit, loaded),
    },
    {
      maker: ref.maker,
      concerns: body.replaces ?? null,
      statement: statementOf(stated, known),
      private: privateOf(sent, texts),
      placed: { unit: { unit, kind } },
      answer: { unit: { unit, kind, maker: ref.maker, name: nameOfUnit(loaded, unit) }, status: 'open' },
    },
  );
}

export function decideClaimEvidence(request: Request<'claim-evidence'>, loaded: Loaded): Decision {
  const { claim, body, owner, sent } = request;
  const record = loaded.records.find((one) => one.id === claim && one.owner === owner && one.kind === 'claim');
  if (record === undefined) return notFound(claim);
  const known = knownTo(loaded, owner);
  return kept(
    request,
    evidenceRules,
    { body, known, ...onClaim(request, record, loaded) },
    {
      maker: record.maker,
      concerns: claim,
      statement: { ...(statementOf(sent, known) as Members), claim },
      private: privateOf(sent, texts),
      placed: {},
      answer: { claim, status: 'open' },
    },
  );
}

export function decideClaimDecision(request: Request<'claim-decision'>, loaded: Loaded): Decision {
  const { claim, distributor, body, sent } = request;
  const record = loaded.records.find((one) => one.id === claim && one.owner === distributor && one.kind === 'claim');
  if (record === undefined || distributor === null) return notFound(claim);
  const { maker } = record;
  return kept(request, decisionRules, onClaim(request, record, loaded), {
    maker,
    concerns: claim,
    statement: { ...(sent as Members), claim, maker },
    private: null,
    placed: { distributor },
    answer: { claim, status: body.decision },
  });
}

function saidCase(request: Said, loaded: Loaded) {
  const { body } = request;
  return {
    performed: parseTime(body.performedAt),
    now: loaded.now,
    referenceUsedBy: referenceUsedBy(loaded, request, body.reference),
  };
}

function onClaim(request: Said, { id, owner, performedFrom, performedTo }: FactRow, loaded: Loaded): OnClaimCase {
  return {
    ...saidCase(request, loaded),
    claim: { raised: { from: performedFrom, to: performedTo }, replacedBy: replacing(id, owner, loaded) },
  };
}

function replacedClaim(id: string, owner: string, unit: string, loaded: Loaded) {
  const isOwnOfUnit = loaded.claims.some((one) => one.fact === id && one.owner === owner && one.unit === unit);
  return { isOwnOfUnit, replacedBy: replacing(id, owner, loaded) };
}

function replacing(id: string, owner: string, loaded: Loaded): string | null {
  return loaded.claims.find((one) => one.owner === owner && one.replaces === id)?.fact ?? null;
}

type Kept = Pick<Draft, 'maker' | 'concerns' | 'statement' | 'private' | 'answer'> & { readonly placed: Placed };

function kept<Judged extends object>(
  request: Said,
  rules: readonly RuleOn<Judged>[],
  judged: Judged,
  { placed, ...said }: Kept,
): Decision {
  const findings = findingsBy(rules, judged);
  if (findings.length > 0) return { decided: 'refuse', findings };
  const { owner, kind, fact, body } = request;
  const maker = said.maker ?? '';
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      ...said,
      kind,
      performed: parseTime(body.performedAt),
      judgement: { findings: [], ...placed },
      reference: { kind, reference: body.reference },
      claim: claimRows(kind, { owner, fact, maker }, said.statement, placed, said.private),
      status: 201,
    },
  };
}

function notFound(claim: string): Decision {
  return { decided: 'reject', refusal: { code: 'not-found', detail: `There is no claim ${claim}.` } };
}

/** Leave to work, given or withdrawn: what was done in its time is judged again. */

import { parseTime } from '../../core/time/instant.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import { type LeaveKind, leaveRows } from '../derived/leave-rows.ts';
import type { Touched } from '../judging/touched.ts';
import { type Decision, type Draft, nothingElse } from '../recording/draft.ts';
import { type Loaded, stockItem } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { referenceUsed, refuseUnknown } from './findings.ts';
import { privateOf } from './statement.ts';

type Members = Readonly<Record<string, unknown>>;

export function decideAuthorisation(request: Request<'authorisation'>, loaded: Loaded): Decision {
  const { owner, technician, body, sent } = request;
  const person = loaded.people.find((one) => one.owner === owner && one.ownId === technician);
  if (person === undefined) return notFound(`No technician is known as ${technician}. State the technician first.`);
  const { attachment } = body;
  if (attachment !== undefined && stockItem(loaded, owner, 'attachment', attachment) === null) {
    return refuseUnknown('/attachment', `No attachment is known as ${attachment}. Send the file first.`, attachment);
  }
  const { givenBy: _, note: __, ...stated } = sent as Members;
  return kept(request, loaded, {
    maker: null,
    concerns: null,
    statement: { ...stated, technician: person.id },
    private: privateOf(sent, ['givenBy', 'note']),
    distributor: null,
    touched: { what: 'technician', key: person.id, since: parseTime(body.from).from },
    answer: { technician: person.id, tasks: body.tasks },
  });
}

export function decideAuthorisationWithdrawal(request: Request<'authorisation-withdrawal'>, loaded: Loaded): Decision {
  const { authorisation, body, sent } = request;
  const record = given(request, loaded, 'authorisation', authorisation);
  if (record === null) return notFound(`There is no authorisation ${authorisation}.`);
  const { technician } = JSON.parse(record.statement) as { technician: string };
  const { reason: _, ...stated } = sent as Members;
  return kept(request, loaded, {
    maker: null,
    concerns: authorisation,
    statement: { ...stated, authorisation, technician },
    private: privateOf(sent, ['reason']),
    distributor: null,
    touched: { what: 'technician', key: technician, since: parseTime(body.from).from },
    answer: { authorisation },
  });
}

export function decideApproval(request: Request<'approval'>, loaded: Loaded): Decision {
  const { maker, distributor, body, sent } = request;
  const named = body.distributor;
  if (distributor === null) return refuseUnknown('/distributor', `No distributor is known as ${named}.`, named);
  return kept(request, loaded, {
    maker,
    concerns: null,
    statement: { ...(sent as Members), maker },
    private: null,
    distributor,
    touched: { what: 'shop', owner: distributor, key: body.shop, since: parseTime(body.from).from },
    answer: { distributor: named, shop: body.shop },
  });
}

export function decideApprovalWithdrawal(request: Request<'approval-withdrawal'>, loaded: Loaded): Decision {
  const { approval, distributor, body, sent } = request;
  const record = given(request, loaded, 'approval', approval);
  if (record === null || distributor === null) return notFound(`There is no approval ${approval}.`);
  const { maker, shop } = JSON.parse(record.statement) as { maker: string; shop: string };
  return kept(request, loaded, {
    maker,
    concerns: approval,
    statement: { ...(sent as Members), approval, maker },
    private: null,
    distributor,
    touched: { what: 'shop', owner: distributor, key: shop, since: parseTime(body.from).from },
    answer: { approval },
  });
}

type Said = Pick<Draft, 'maker' | 'concerns' | 'statement' | 'private' | 'answer'> & {
  readonly distributor: string | null;
  readonly touched: Touched;
};

function kept(request: Request<LeaveKind>, loaded: Loaded, { distributor, touched, ...said }: Said): Decision {
  const { owner, kind, fact } = request;
  const { reference } = request.body;
  const refused = referenceUsed(request, reference, loaded);
  if (refused !== null) return refused;
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      ...said,
      kind,
      judgement: { findings: [], ...(distributor !== null && { distributor }) },
      reference: { kind, reference },
      leave: leaveRows(kind, { owner, fact }, said.statement, distributor ?? owner),
      judgesAgain: [touched],
      status: 201,
    },
  };
}

/** The fact that gave the leave, where it is the asker's. */
function given({ owner }: Request, loaded: Loaded, kind: LeaveKind, id: string): FactRow | null {
  return loaded.records.find((one) => one.id === id && one.owner === owner && one.kind === kind) ?? null;
}

function notFound(detail: string): Decision {
  return { decided: 'reject', refusal: { code: 'not-found', detail } };
}

/** The rows of leave that is given or withdrawn, and leave as the core reads it; when recording and when verifying. */
import type { Approval, Authorisation } from '../../core/judge/case.ts';
import { canonical } from '../../core/log/canonical.ts';
import { parseTime, type TimeInput } from '../../core/time/instant.ts';
import type { Row } from '../../store/sql/insert-rows.ts';
import type { ApprovalRow, AuthorisationRow } from '../../store/sql/read-leave.ts';

export const leaveKinds = ['authorisation', 'authorisation-withdrawal', 'approval', 'approval-withdrawal'] as const;
export type LeaveKind = (typeof leaveKinds)[number];

export type LeaveRows = {
  readonly authorisations?: readonly Row<'authorisations'>[];
  readonly approvals?: readonly Row<'approvals'>[];
  readonly leave_ends?: readonly Row<'leave_ends'>[];
};
type Members = Readonly<Record<string, unknown>>;
type Kept = { readonly owner: string; readonly fact: string };

/** `distributor`: whose shop it is about, as the judgement of an approval has it. */
export function leaveRows(kind: LeaveKind, { owner, fact }: Kept, statement: unknown, distributor: string): LeaveRows {
  const said = statement as Members;
  const { technician, maker, shop, authorisation, approval } = said as Readonly<Record<string, string>>;
  const valid = {
    valid_from: instantOf(said['from']),
    valid_until: said['until'] === undefined ? null : instantOf(said['until']),
  };
  switch (kind) {
    case 'authorisation': {
      const scope = canonical(pick(said, ['tasks', 'makers', 'series', 'bodies', 'functions']));
      return { authorisations: [{ owner, fact, person: String(technician), scope, ...valid }] };
    }
    case 'authorisation-withdrawal':
      return {
        leave_ends: [
          { owner, fact, maker: null, ends: String(authorisation), ends_from: valid.valid_from, reason: null },
        ],
      };
    case 'approval': {
      const row = { maker: String(maker), shop: String(shop), scope: canonical(pick(said, ['series'])) };
      return { approvals: [{ owner: distributor, fact, ...row, reason: reasonIn(said), ...valid }] };
    }
    case 'approval-withdrawal': {
      const ends = { ends: String(approval), ends_from: valid.valid_from, reason: reasonIn(said) };
      return { leave_ends: [{ owner: distributor, fact, maker: String(maker), ...ends }] };
    }
  }
}

export function authorisationOf({ id, scope, from, until }: AuthorisationRow): Authorisation {
  const { tasks, ...limits } = JSON.parse(scope) as Authorisation['scope'] & Pick<Authorisation, 'tasks'>;
  return { id, tasks, scope: limits, from, until };
}

export function approvalOf({ id, maker, shop, scope, from, until }: ApprovalRow): Approval {
  return { id, shop, scope: { ...(JSON.parse(scope) as Approval['scope']), makers: [maker] }, from, until };
}

function pick(said: Members, names: readonly string[]): Members {
  return Object.fromEntries(names.flatMap((name) => (said[name] === undefined ? [] : [[name, said[name]]])));
}

function instantOf(time: unknown): string {
  return parseTime(time as TimeInput).from;
}

/** Statements are kept as sent: what the schema trims is trimmed again here. */
function reasonIn(said: Members): string {
  return String(said['reason']).trim();
}

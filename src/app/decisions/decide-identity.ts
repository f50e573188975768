/** Which unit is which: new plates and tags, wrong plates, exchanged controls, two units that are one. */

import { effectiveEvents } from '../../core/history/effective-events.ts';
import type { UnitKind } from '../../core/history/event.ts';
import { fold } from '../../core/history/fold.ts';
import { endOf } from '../../core/history/order-events.ts';
import type { IdentityCase, NamedUnit } from '../../core/judge/identity-case.ts';
import { judgeIdentity } from '../../core/judge/judge-identity.ts';
import type { UnitRef } from '../../core/records/parts.ts';
import { isUnknown } from '../../core/records/parts.ts';
import { type Interval, parseTime } from '../../core/time/instant.ts';
import type { UnitName } from '../../store/sql/find-units.ts';
import { type NameRow, serialRow, tagRow } from '../derived/unit-name-rows.ts';
import { type Decision, type Draft, type MovedName, nothingElse } from '../recording/draft.ts';
import { knownTo, type Loaded, nameOfUnit, referenceUsedBy, unitNamed } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { otherOf, unitMeant } from '../recording/wants.ts';
import { aroundWork, followingMounting } from './around-work.ts';
import { refuseUnknown } from './findings.ts';
import { privateOf, statementOf } from './statement.ts';

export function decideIdentity(request: Request<'identity'>, loaded: Loaded): Decision {
  const { body, owner } = request;
  const about = unitMeant(body);
  const unit = unitNamed(loaded, about.kind, about.ref);
  if (unit === null) return notKnown(about.kind, about.kind, about.ref);
  const same = otherOf(body);
  const other = same === null ? null : unitNamed(loaded, same.kind, same.ref);
  if (same !== null && other === null) return notKnown(same.member, same.kind, same.ref);
  const performed = parseTime(body.performedAt);
  const judged = caseOf(request, loaded, unit, other, performed);
  const result = judgeIdentity(judged);
  if ('refused' in result) return { decided: 'refuse', findings: result.refused };
  const { maker } = about.ref;
  const { names, moved } = namesOf(request, loaded, unit, other);
  const shown = [...names, ...moved.map(({ was: _, ...name }) => name)];
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind: 'identity',
      maker,
      performed,
      statement: statementOf(request.sent, knownTo(loaded, owner)),
      judgement: { ...result, names: shown },
      private: privateOf(request.sent),
      effects: result.effects,
      names,
      moved,
      reference: { kind: 'identity', reference: body.reference },
      judgesAgain: followingMounting(
        result.effects.map((one) => one.unit),
        loaded,
        performed,
      ),
      status: 201,
      answer: {
        unit,
        maker,
        names: shown.map(({ name_kind, as_written, unit_id }) => ({
          name: as_written,
          kind: name_kind,
          unit: unit_id,
        })),
        findings: result.findings,
      },
    },
  };
}

function notKnown(member: string, kind: UnitKind, ref: UnitRef): Decision {
  const name = 'serial' in ref ? ref.serial : ref.tag;
  return refuseUnknown(`/${member}`, `No ${kind} of ${ref.maker} is known as ${name}. Register it first.`, name);
}

function caseOf(
  request: Request<'identity'>,
  loaded: Loaded,
  unit: string,
  other: string | null,
  performed: Interval,
): IdentityCase {
  const { body, owner, fact } = request;
  const known = knownTo(loaded, owner);
  // An exchange is judged by what was on the pump then; two units that are one are what they are.
  const then = body.what === 'exchanged' ? performed : null;
  const otherUnit = other === null ? null : namedUnit(request, loaded, other, then);
  const taken = newName(request, unit);
  const holder = taken === null ? undefined : holderOf(loaded, taken);
  return {
    fact,
    body,
    unit: namedUnit(request, loaded, unit, then),
    other: otherUnit,
    otherPump: body.what === 'exchanged' ? (otherUnit?.state.mounted?.with ?? null) : null,
    nameTakenBy: holder === undefined ? null : (nameOfUnit(loaded, holder.unit) ?? holder.asWritten),
    referenceUsedBy: referenceUsedBy(loaded, request, body.reference),
    shopIsKnown: known.shops.has(body.shop),
    technicianIsKnown: isUnknown(body.technician) || known.technicians.has(body.technician),
    performed,
    now: loaded.now,
  };
}

/** @param then when it is looked at; null: now */
function namedUnit(request: Request<'identity'>, loaded: Loaded, unit: string, then: Interval | null): NamedUnit {
  const events = loaded.events.get(unit) ?? [];
  const ends = effectiveEvents(events).map(endOf);
  const placed = { fact: request.fact, kind: request.kind, body: {} };
  const state = then === null ? fold(unit, events) : aroundWork(placed, loaded, unit, then).state;
  return { state, name: nameOfUnit(loaded, unit), lastDone: ends.sort().at(-1) ?? '' };
}

function newName({ body }: Request<'identity'>, unit: string): NameRow | null {
  const { kind, ref } = unitMeant(body);
  if ('serial' in body && body.serial !== undefined) return serialRow(ref.maker, kind, body.serial, unit);
  return 'tag' in body && body.tag !== undefined ? tagRow(ref.maker, body.tag, unit) : null;
}

function holderOf(loaded: Loaded, row: NameRow): UnitName | undefined {
  return loaded.names.find(
    (one) => one.maker === row.maker && one.unitKind === row.unit_kind && one.nameKey === row.name_key,
  );
}

/** The new name; and what the names so far come to lead to. */
function namesOf(
  request: Request<'identity'>,
  loaded: Loaded,
  unit: string,
  other: string | null,
): Pick<Draft, 'names'> & { readonly moved: readonly MovedName[] } {
  const { body } = request;
  const added = newName(request, unit);
  const named = (of: string | null) => [
    ...new Map(loaded.names.filter((one) => one.unit === of).map((one) => [one.nameKey, one])).values(),
  ];
  const move = (name: UnitName, as: MovedName['name_kind'], to: string): MovedName => ({
    ...{ maker: name.maker, unit_kind: name.unitKind, name_kind: as, name_key: name.nameKey },
    ...{ as_written: name.asWritten, unit_id: to, was: name.fact },
  });
  const names = added === null ? [] : [added];
  switch (body.what) {
    case 'retagged':
      return {
        names,
        moved: named(unit).flatMap((one) => (one.nameKind === 'tag' ? [move(one, 'former', unit)] : [])),
      };
    case 're-plated':
      return {
        names,
        moved: named(unit).flatMap((one) => (one.nameKind === 'serial' ? [move(one, 'former', unit)] : [])),
      };
    case 'wrong-plate': {
      const wrong = named(unit).filter((one) => one.nameKind === 'serial');
      return { names, moved: wrong.map((one) => move(one, 'free', unit)) };
    }
    case 'merged':
      return { names, moved: named(other).map((one) => move(one, 'former', unit)) };
    case 'exchanged':
      return { names, moved: [] };
  }
}

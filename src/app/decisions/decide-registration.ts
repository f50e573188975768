/** Registrations of pumps and controls. */

import { asAt } from '../../core/history/concession.ts';
import { fold } from '../../core/history/fold.ts';
import { judgeRegistration } from '../../core/judge/judge-registration.ts';
import { fingerprint } from '../../core/log/fingerprint.ts';
import { parseTime } from '../../core/time/instant.ts';
import { registrationAnswer } from '../derived/registration-answer.ts';
import { serialRow } from '../derived/unit-name-rows.ts';
import type { Effects } from '../effects.ts';
import type { Decision, Draft } from '../recording/draft.ts';
import { editionOf, knownTo, type Loaded, newestEdition, unitNamed } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { refuseUnknown } from './findings.ts';
import { privateOf, statementOf } from './statement.ts';

export function decideRegistration(request: Request<'registration'>, loaded: Loaded, effects: Effects): Decision {
  const { owner, maker, serial, body } = request;
  const existing = unitNamed(loaded, request.of, { maker, serial });
  if (existing !== null) return registeredBefore(request, loaded, existing);
  const edition = editionOf(loaded, maker, body.edition);
  if (edition === null)
    return refuseUnknown('/edition', `${maker} has published no edition ${body.edition}.`, body.edition);
  const controlSerial = request.of === 'pump' ? request.body.control?.serial : undefined;
  if (controlSerial !== undefined && unitNamed(loaded, 'control', { maker, serial: controlSerial }) !== null) {
    const because = `Control ${controlSerial} is registered already. Register the pump bare ("control": null) and record the mounting.`;
    return refuseUnknown('/control/serial', because, controlSerial);
  }
  const performed = parseTime(body.performedAt);
  const newest = newestEdition(loaded.editions, maker, performed.to);
  const unit = effects.newId();
  const control = effects.newId();
  const result = judgeRegistration({
    fact: request.fact,
    performed,
    now: loaded.now,
    edition,
    newerEdition: newest === body.edition ? null : newest,
    known: knownTo(loaded, owner),
    builtAt: body.builtAt === undefined ? null : parseTime(body.builtAt).from,
    registers:
      request.of === 'pump'
        ? { of: 'pump', unit, name: serial, control, body: request.body }
        : { of: 'control', unit, name: serial, body: request.body },
  });
  if ('unknown' in result) return refuseUnknown('/edition', `${result.unknown}.`);
  if ('refused' in result) return { decided: 'refuse', findings: result.refused };
  const withControl = request.of === 'pump' && request.body.control !== null;
  return {
    decided: 'keep',
    draft: draftOf(request, loaded, result, { unit, control: withControl ? control : null, controlSerial }),
  };
}

/** The same by the one who registered it is no change; anything else is for the registration on record to stand against. */
function registeredBefore(request: Request<'registration'>, loaded: Loaded, unit: string): Decision {
  const own = loaded.registrations.find((one) => one.owner === request.owner && one.unit === unit);
  if (own?.fingerprint === fingerprint(request.sent)) {
    return { decided: 'repeat', status: 200, answer: own.answer, replayed: false };
  }
  const state = asAt(fold(unit, loaded.events.get(unit) ?? []), loaded.now);
  const { born, function: fun, status, stations } = state;
  return {
    decided: 'reject',
    refusal: {
      code: 'registration-differs',
      detail: `${request.of === 'pump' ? 'Pump' : 'Control'} ${request.serial} is registered already, and not like this. Record what differs as an inspection.`,
      extra: { recorded: { ...born, function: fun, status, fit: stations } },
    },
  };
}

function draftOf(
  request: Request<'registration'>,
  loaded: Loaded,
  { judgement, effects }: Exclude<ReturnType<typeof judgeRegistration>, { refused: unknown } | { unknown: string }>,
  { unit, control, controlSerial }: { unit: string; control: string | null; controlSerial: string | undefined },
): Draft {
  const { maker, serial, body } = request;
  return {
    kind: 'registration',
    maker,
    edition: body.edition,
    performed: parseTime(body.performedAt),
    after: null,
    concerns: null,
    statement: {
      ...(statementOf(request.sent, knownTo(loaded, request.owner)) as object),
      [request.of]: { maker, serial },
    },
    judgement: { ...judgement, effects },
    private: privateOf(request.sent),
    effects,
    newUnits: [
      { unit, maker, kind: request.of },
      ...(control === null ? [] : [{ unit: control, maker, kind: 'control' as const }]),
    ],
    names: [
      serialRow(maker, request.of, serial, unit),
      ...(control === null || controlSerial === undefined ? [] : [serialRow(maker, 'control', controlSerial, control)]),
    ],
    uses: [],
    reference: null,
    registers: { unit, fingerprint: fingerprint(request.sent) },
    status: 201,
    answer: registrationAnswer({
      ...{ of: request.of, unit, maker, serial, judgement },
      control: control === null ? null : { unit: control, serial: controlSerial },
    }),
  };
}

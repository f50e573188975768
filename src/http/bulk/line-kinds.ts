/**
 * What a line of a bulk upload can be, kind by kind: its scope, what names its place beside the body, the schema of the
 * body and the route that it stands for. The one list: intake, export and the description are made from it, and a kind
 * is a line here.
 */
import { z } from 'zod';
import type { Scope } from '../../app/asker.ts';
import type { Asked } from '../../app/recording/request.ts';
import { claimBody, claimEvidenceBody } from '../../core/claims/claim-body.ts';
import {
  adjustmentBody,
  controlRegistration,
  conversionBody,
  correctionBody,
  identityBody,
  inspectionBody,
  mountingBody,
  pumpRegistration,
  repairBody,
  testBody,
} from '../../core/records/bodies.ts';
import { dispositionBody } from '../../core/records/disposition-body.ts';
import {
  calibrationBody,
  incidentBody,
  instrumentVoidBody,
  interimCheckBody,
} from '../../core/records/instrument-bodies.ts';
import { authorisationBody, authorisationWithdrawalBody } from '../../core/records/leave-bodies.ts';
import { movementBody, retirementBody, startUpBody } from '../../core/records/life-bodies.ts';
import { countBody, intakeBody, restockingBody, returnBody, scrappingBody } from '../../core/records/lot-bodies.ts';
import { erasureBody, instrumentBody, lotBody, shopBody, technicianBody } from '../../core/records/stock-bodies.ts';
import { nameParam, ownIdParam, slugParam, unitParams } from '../routes/answers.ts';

/** A line as it was read: what to ask of the recording, and under which route its key is kept. */
export type LineAsked = { readonly asked: Asked; readonly route: string };
export type LineKind = {
  readonly scope: Scope;
  /** Members of the line beside `key`, `kind` and `body`. */
  readonly address: z.ZodRawShape;
  readonly line: z.ZodType<{ readonly key?: string | undefined }>;
  readonly ask: (line: unknown) => LineAsked;
};

/** As the header Idempotency-Key takes it, without quotes. */
const lineKey = z
  .string()
  .regex(/^[!-~]{1,255}$/, { error: 'a key is 1 to 255 visible ASCII characters without spaces' });

const none = {};
const lot = { lot: z.strictObject({ maker: slugParam, number: nameParam }) };
const own = { id: ownIdParam };
const pump = { pump: unitParams };
const control = { control: unitParams };
/** In the spelling in which ids are kept and compared: of a fact, and of a person in records. */
const person = { id: z.uuid().toLowerCase() };
const record = { record: z.uuid().toLowerCase() };

const table = {
  shop: kind('organisation:write', own, shopBody, ({ id, body }) => put(`shops/${id}`, { kind: 'shop', id, body })),
  technician: kind('stock:write', own, technicianBody, ({ id, body }) =>
    put(`technicians/${id}`, { kind: 'technician', id, body }),
  ),
  authorisation: kind('stock:write', own, authorisationBody, ({ id, body }) =>
    post(`technicians/${id}/authorisations`, { kind: 'authorisation', technician: id, body }),
  ),
  erasure: kind('stock:write', person, erasureBody, ({ id, body }) =>
    post(`technicians/${id}/erasures`, { kind: 'erasure', person: id, body }),
  ),
  'authorisation-withdrawal': kind('stock:write', record, authorisationWithdrawalBody, ({ record, body }) =>
    post(`authorisations/${record}/withdrawals`, { kind: 'authorisation-withdrawal', authorisation: record, body }),
  ),
  instrument: kind('stock:write', own, instrumentBody, ({ id, body }) =>
    put(`instruments/${id}`, { kind: 'instrument', id, body }),
  ),
  calibration: kind('stock:write', own, calibrationBody, ({ id, body }) =>
    post(`instruments/${id}/calibrations`, { kind: 'calibration', instrument: id, body }),
  ),
  'interim-check': kind('stock:write', own, interimCheckBody, ({ id, body }) =>
    post(`instruments/${id}/checks`, { kind: 'interim-check', instrument: id, body }),
  ),
  incident: kind('stock:write', own, incidentBody, ({ id, body }) =>
    post(`instruments/${id}/incidents`, { kind: 'incident', instrument: id, body }),
  ),
  'instrument-void': kind('stock:write', own, instrumentVoidBody, ({ id, body }) =>
    post(`instruments/${id}/voids`, { kind: 'instrument-void', instrument: id, body }),
  ),
  lot: kind('stock:write', lot, lotBody, ({ lot, body }) => put(`lots/${path(lot)}`, { kind: 'lot', ...lot, body })),
  intake: kind('stock:write', lot, intakeBody, ({ lot, body }) =>
    post(`lots/${path(lot)}/intakes`, { kind: 'intake', ...lot, body }),
  ),
  scrapping: kind('stock:write', lot, scrappingBody, ({ lot, body }) =>
    post(`lots/${path(lot)}/scrappings`, { kind: 'scrapping', ...lot, body }),
  ),
  return: kind('stock:write', lot, returnBody, ({ lot, body }) =>
    post(`lots/${path(lot)}/returns`, { kind: 'return', ...lot, body }),
  ),
  count: kind('stock:write', lot, countBody, ({ lot, body }) =>
    post(`lots/${path(lot)}/counts`, { kind: 'count', ...lot, body }),
  ),
  restocking: kind('stock:write', none, restockingBody, ({ body }) =>
    post('restockings', { kind: 'restocking', body }),
  ),
  'pump-registration': kind('record:write', pump, pumpRegistration, ({ pump, body }) =>
    put(`pumps/${path(pump)}`, { kind: 'registration', of: 'pump', ...pump, body }),
  ),
  'control-registration': kind('record:write', control, controlRegistration, ({ control, body }) =>
    put(`controls/${path(control)}`, { kind: 'registration', of: 'control', ...control, body }),
  ),
  conversion: kind('record:write', none, conversionBody, ({ body }) =>
    post('conversions', { kind: 'conversion', body }),
  ),
  mounting: kind('record:write', none, mountingBody, ({ body }) => post('mountings', { kind: 'mounting', body })),
  adjustment: kind('record:write', none, adjustmentBody, ({ body }) =>
    post('adjustments', { kind: 'adjustment', body }),
  ),
  repair: kind('record:write', none, repairBody, ({ body }) => post('repairs', { kind: 'repair', body })),
  inspection: kind('record:write', none, inspectionBody, ({ body }) =>
    post('inspections', { kind: 'inspection', body }),
  ),
  test: kind('record:write', none, testBody, ({ body }) => post('tests', { kind: 'test', body })),
  movement: kind('record:write', none, movementBody, ({ body }) => post('movements', { kind: 'movement', body })),
  'start-up': kind('record:write', none, startUpBody, ({ body }) => post('start-ups', { kind: 'start-up', body })),
  retirement: kind('record:write', none, retirementBody, ({ body }) =>
    post('retirements', { kind: 'retirement', body }),
  ),
  identity: kind('record:write', none, identityBody, ({ body }) => post('identities', { kind: 'identity', body })),
  correction: kind('record:write', record, correctionBody, ({ record, body }) =>
    post(`records/${record}/corrections`, { kind: 'correction', record, body }),
  ),
  disposition: kind('disposition:write', record, dispositionBody, ({ record, body }) =>
    post(`records/${record}/dispositions`, { kind: 'disposition', record, body }),
  ),
  claim: kind('record:write', none, claimBody, ({ body }) => post('claims', { kind: 'claim', body })),
  'claim-evidence': kind('record:write', { claim: z.uuid().toLowerCase() }, claimEvidenceBody, ({ claim, body }) =>
    post(`claims/${claim}/evidence`, { kind: 'claim-evidence', claim, body }),
  ),
} as const satisfies Record<string, LineKind>;

export type LineKindName = keyof typeof table;
export const lineKinds: Readonly<Record<LineKindName, LineKind>> = table;
export const lineKindNames = Object.keys(table) as [LineKindName, ...LineKindName[]];

/** Kinds of facts about units: what is stated of stock is read where it was stated. */
export const exportedKinds = [
  'registration',
  ...lineKindNames.filter(
    (name) => !/registration$/.test(name) && /^(record|disposition):/.test(lineKinds[name].scope),
  ),
] as const satisfies string[] as [string, ...string[]];

export function isLineKind(name: unknown): name is LineKindName {
  return typeof name === 'string' && Object.hasOwn(table, name);
}

function kind<Address extends z.ZodRawShape, Body extends z.ZodType>(
  scope: Scope,
  address: Address,
  body: Body,
  ask: (line: z.output<z.ZodObject<Address>> & { readonly body: z.output<Body> }) => LineAsked,
): LineKind {
  const line = z.strictObject({ key: lineKey.optional(), kind: z.string(), ...address, body });
  // What `ask` is given has passed this very schema.
  return { scope, address, line: line as unknown as LineKind['line'], ask: ask as LineKind['ask'] };
}

function post(place: string, asked: Asked): LineAsked {
  return { asked, route: `POST /v1/${place}` };
}

function put(place: string, asked: Asked): LineAsked {
  return { asked, route: `PUT /v1/${place}` };
}

/** As the path of the route has it, so that a key means the same by either way. */
function path(name: { maker: string } & ({ serial: string } | { number: string })): string {
  return `${name.maker}/${encodeURIComponent('serial' in name ? name.serial : name.number)}`;
}

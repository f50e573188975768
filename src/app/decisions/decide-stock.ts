/** What a distributor states of its shops, people, instruments and lots: each statement is a version, none is lost. */

import { fingerprint } from '../../core/log/fingerprint.ts';
import { lotKey } from '../../core/records/lot-name.ts';
import type { StockRow } from '../../store/sql/read-stock.ts';
import type { Effects } from '../effects.ts';
import { answerAgain } from '../recording/answer-again.ts';
import { type Decision, type Draft, nothingElse } from '../recording/draft.ts';
import { type Loaded, stockItem } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { lotTouched } from './drawn-lots.ts';
import { refuseUnknown } from './findings.ts';

type StockRequest = Request<'shop' | 'technician' | 'instrument' | 'attachment' | 'lot'>;

export function decideStock(request: StockRequest, loaded: Loaded, effects: Effects): Decision {
  const key = keyOf(request);
  const current = stockItem(loaded, request.owner, request.kind, key);
  const digest = fingerprint(request.sent);
  if (current?.fingerprint === digest) {
    return answerAgain(current.fact, summary(request, current.version), loaded, effects);
  }
  if (
    request.kind === 'instrument' &&
    request.body.shop !== undefined &&
    stockItem(loaded, request.owner, 'shop', request.body.shop) === null
  ) {
    return refuseUnknown('/shop', `No shop is known as ${request.body.shop}. Register it first.`, request.body.shop);
  }
  const version = (current?.version ?? 0) + 1;
  const person = request.kind === 'technician' ? personOf(request, loaded, effects) : undefined;
  const statement = person === undefined ? request.sent : { technician: person.id };
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind: request.kind,
      maker: request.kind === 'lot' ? request.maker : null,
      // The clock is read before the version is claimed, so times alone don't say which version is the latest.
      judgement: { findings: [], version },
      statement: request.kind === 'technician' ? statement : { ...(request.sent as object), ...nameIn(request) },
      // Names are kept with the person alone, so that forgetting a name is one row: nothing private here.
      stock: { kind: request.kind, key, version, fingerprint: digest, statement },
      ...(person && { person }),
      // What is said of a lot anew may hold what was used of it, or hold it no more.
      ...(request.kind === 'lot' && saysMore(request, current) && { judgesAgain: [lotTouched(key)] }),
      // Its range or class may be stated otherwise than it was judged by.
      ...(request.kind === 'instrument' && current !== null && { judgesAgain: [{ what: 'instrument', key }] }),
      status: current === null ? 201 : 200,
      answer: summary(request, version),
    },
  };
}

/** A lot that is stated for the first time may be in kits that were used. */
function saysMore({ body }: Request<'lot'>, current: StockRow | null): boolean {
  return current !== null || body.withdrawn !== undefined || body.madeAt !== undefined;
}

function keyOf(request: StockRequest): string {
  return request.kind === 'lot' ? lotKey(request.maker, request.number) : request.id;
}

function nameIn(request: StockRequest): object {
  return request.kind === 'lot'
    ? { lot: { maker: request.maker, number: request.number } }
    : { [request.kind]: request.id };
}

function summary(request: StockRequest, version: number): object {
  return { ...nameIn(request), version };
}

function personOf(request: Request<'technician'>, loaded: Loaded, effects: Effects): NonNullable<Draft['person']> {
  const known = loaded.people.find((one) => one.owner === request.owner && one.ownId === request.id);
  const { name = null, subject = null } = request.body;
  return { id: known?.id ?? effects.newId(), ownId: request.id, name, subject };
}

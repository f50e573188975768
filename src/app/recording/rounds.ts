/**
 * Which requests of a batch can be decided together. What one of them makes (a unit's name, a version of a stock item,
 * an edition, the binding of a key or reference) a later one sees only in a later round; and requests that name the same unit
 * keep their order.
 */
import { nameKey } from '../../core/records/name-key.ts';
import { isWork, type Request } from './request.ts';
import { makerOf, unitMeant, wantsOf } from './wants.ts';

/** Requests in rounds to be decided one after the other, each in the order of the batch. */
export function rounds(requests: readonly Request[]): Request[][] {
  const made = new Map<string, number>();
  const used = new Map<string, number>();
  const all: Request[][] = [];
  let first = 0;
  for (const request of requests) {
    const { makes, units, items } = thingsOf(request);
    // Whom it forgets, and what names that person, is only known when it is looked up: nothing goes beside it.
    const isAlone = request.kind === 'erasure';
    const round = Math.max(
      isAlone ? all.length : first,
      ...[...makes, ...units, ...items].map((thing) => (made.get(thing) ?? -1) + 1),
      ...[...makes, ...units].map((thing) => used.get(thing) ?? 0),
    );
    for (const thing of makes) made.set(thing, round);
    for (const thing of [...units, ...items]) used.set(thing, round);
    all[round] = [...(all[round] ?? []), request];
    if (isAlone) first = round + 1;
  }
  return all;
}

type Things = {
  readonly makes: readonly string[];
  readonly units: readonly string[];
  /** Stock and people that are looked up: who reads them first makes no difference. */
  readonly items: readonly string[];
};

function thingsOf(request: Request): Things {
  const { owner, client, key } = request;
  const { names, people, stock, reference, record, edition, editionAt } = wantsOf(request);
  const maker = (edition ?? editionAt)?.maker;
  const units = names.map(({ maker, unitKind, nameKey: name }) => `unit ${maker} ${unitKind} ${name}`);
  const items = [
    ...stock.map((item) => `stock ${owner} ${item.kind} ${item.key}`),
    ...people.map((ownId) => `stock ${owner} technician ${ownId}`),
    ...(maker === undefined ? [] : [`editions ${maker}`]),
  ];
  const bound = [
    ...(key === null ? [] : [`key ${owner} ${client} ${key}`]),
    ...(reference === null ? [] : [`reference ${owner} ${reference.kind} ${reference.reference}`]),
    ...(record === null ? [] : [`record ${record}`]),
  ];
  switch (request.kind) {
    case 'registration':
    case 'identity':
      return { makes: [...bound, ...units], units: [], items };
    case 'shop':
    case 'technician':
    case 'instrument':
    case 'attachment':
    case 'lot': {
      const own = `stock ${owner} ${request.kind} ${ownKeyOf(request)}`;
      return { makes: [...bound, own], units, items: items.filter((item) => item !== own) };
    }
    // It is held against all of its maker's that were published before.
    case 'edition':
      return { makes: [...bound, `editions ${request.maker}`], units, items: [] };
    case 'terms':
      return { makes: [...bound, `terms ${request.maker} ${request.terms}`], units, items };
    case 'authorisation': {
      // Work of the same person that comes after it in the batch is judged by it at once.
      const own = `stock ${owner} technician ${request.technician}`;
      return { makes: [...bound, own], units, items: items.filter((item) => item !== own) };
    }
    case 'calibration':
    case 'interim-check':
    case 'incident':
    case 'instrument-void': {
      const own = `stock ${owner} instrument ${request.instrument}`;
      return { makes: [...bound, own], units, items: items.filter((item) => item !== own) };
    }
    default:
      return { makes: [...bound, ...tagsGiven(request)], units, items };
  }
}

function ownKeyOf(request: Request<'shop' | 'technician' | 'instrument' | 'attachment' | 'lot'>): string {
  return request.kind === 'lot' ? (wantsOf(request).stock[0]?.key ?? '') : request.id;
}

/** A control without a serial gets a name when it comes off, or is moved. */
function tagsGiven(request: Request): string[] {
  if (request.kind === 'movement' && request.body.tag !== undefined) {
    return [`unit ${unitMeant(request.body).ref.maker} control ${nameKey(request.body.tag)}`];
  }
  const work = isWork(request) && request.kind === 'mounting' ? request : null;
  if (work?.body.tag === undefined) return [];
  return [`unit ${makerOf(work)} control ${nameKey(work.body.tag)}`];
}

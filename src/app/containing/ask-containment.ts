/** What is asked of the recording about containments: what they reach, and whose they are, must be known before. */
import type { ContainmentBody, LiftBody, ProgressBody } from '../../core/records/containment-bodies.ts';
import { Problem } from '../../errors.ts';
import { enteredIn, liftsOf, workedOn } from '../../store/sql/containments.ts';
import { readFacts } from '../../store/sql/read-facts.ts';
import { withTransaction } from '../../store/transaction.ts';
import type { Asker } from '../asker.ts';
import type { App } from '../context.ts';
import { requireSought, whose } from '../find-reach.ts';
import { readingContext, requireOwnMake } from '../read-unit.ts';
import type { Asked } from '../recording/request.ts';
import { organisationsThatContain } from './contain.ts';
import { reachOf } from './reach-of.ts';

/** @throws Problem not-found where what is sought is nobody's */
export async function askContainment(app: App, asker: Asker, body: ContainmentBody): Promise<Asked> {
  requireParty(asker);
  const { criteria } = body;
  if (criteria.maker !== undefined) requireOwnMake(asker, criteria.maker);
  const { maker } = whose(asker);
  const reached = await reachOf(app, whose(asker), criteria);
  if (reached.size === 0)
    await withTransaction(app.pools.reading, readingContext(asker), (tx) => requireSought(tx, asker, criteria));
  return { kind: 'containment', maker, body, reached: [...reached] };
}

/** By its issuer, or by a distributor that has recorded something of the unit. */
export async function askProgress(app: App, asker: Asker, containment: string, body: ProgressBody): Promise<Asked> {
  const own = requireParty(asker);
  const orgs = await organisationsThatContain(app, [own]);
  const issuer = await withTransaction(app.pools.reading, { role: 'recorder', orgs, readOnly: true }, async (tx) => {
    const [fact] = (await readFacts(tx, [containment])).filter((one) => one.kind === 'containment');
    if (fact === undefined) return null;
    const entered = (await enteredIn(tx, [containment], [body.unit])).filter((one) => one.is === 'in');
    return entered.length === 0 ? null : fact.owner;
  });
  const isAllowed = issuer === own || (asker.distributor !== null && (await hasWorkedOn(app, own, body.unit)));
  if (issuer !== null && isAllowed) await requireActive(app, issuer, containment);
  return { kind: 'containment-progress', containment, issuer: isAllowed ? issuer : null, body };
}

export function askLift(asker: Asker, containment: string, body: LiftBody): Asked {
  requireParty(asker);
  return { kind: 'containment-lift', containment, body };
}

/** The organisation that the token speaks for here. */
export function requireParty({ distributor, organisations }: Asker): string {
  const own = distributor === null ? organisations.maker : organisations.distributor;
  if (own === null) throw new Problem('forbidden', 'The token must name its maker or its distributor.');
  return own;
}

async function hasWorkedOn(app: App, own: string, unit: string): Promise<boolean> {
  const context = { role: 'recorder' as const, orgs: [own], readOnly: true };
  return (await withTransaction(app.pools.reading, context, (tx) => workedOn(tx, own, [unit]))).length > 0;
}

async function requireActive(app: App, issuer: string, containment: string): Promise<void> {
  const context = { role: 'recorder' as const, orgs: [issuer], readOnly: true };
  const lifts = await withTransaction(app.pools.reading, context, (tx) => liftsOf(tx, [containment]));
  if (lifts.length > 0)
    throw new Problem('not-found', 'This containment is lifted: nothing more is to be done for it.');
}

import type { Tx } from '../transaction.ts';

export type Erasure = {
  readonly owner: string;
  /** The service's own id, which stays. */
  readonly person: string;
  readonly ownId: string;
  /** Also the shop's own id and the token subject, not only the name. */
  readonly everything: boolean;
};

/**
 * Forgets a person, in a transaction of the recorder: by the role that alone may, and back. What is hashed names people
 * by the service's id and stays as it is; the shop's own id becomes that id wherever it is a name. Fingerprints of what
 * held the name or the own id go too, because whoever tries all short texts finds the one that fits; a request that is
 * sent again with a key of these is then another one.
 */
export async function erasePerson(tx: Tx, erasure: Erasure): Promise<void> {
  const { owner, person, ownId, everything } = erasure;
  const stating = await factsOf(tx, statingPerson, erasure);
  const leave = everything ? await factsOf(tx, givingLeave, erasure) : [];
  const naming = everything ? await factsOf(tx, namingPerson, erasure) : [];
  await tx.query('set local role asfitted_eraser');
  await tx.query(
    everything
      ? 'update people set name = null, subject = null, own_id = id::text where owner = $1::uuid and id = $2::uuid'
      : 'update people set name = null where owner = $1::uuid and id = $2::uuid',
    [owner, person],
  );
  await tx.query(
    `update stock_items set fingerprint = '', key = $3 where owner = $1::uuid and kind = 'technician' and key = $2`,
    [owner, ownId, everything ? person : ownId],
  );
  await tx.query(`update idempotency_keys set fingerprint = '' where owner = $1::uuid and fact = any ($2::uuid[])`, [
    owner,
    [...stating, ...naming],
  ]);
  if (everything) {
    // Whose route and answer name the person: no request has an empty route, so none is answered by these.
    await tx.query(
      `update idempotency_keys set route = '', fingerprint = '', answer = '{}'
       where owner = $1::uuid and fact = any ($2::uuid[])`,
      [owner, [...stating, ...leave]],
    );
    await tx.query(`update registrations set fingerprint = '' where owner = $1::uuid and fact = any ($2::uuid[])`, [
      owner,
      naming,
    ]);
    await forgetInAttempts(tx, erasure);
    await tx.query('delete from fact_privates where owner = $1::uuid and fact = any ($2::uuid[])', [owner, leave]);
  }
  await tx.query('set local role asfitted_recorder');
}

/** Refused bodies are canonical JSON: what these members say is found as text, and nothing else reads like it. */
async function forgetInAttempts(tx: Tx, { owner, person, ownId }: Erasure): Promise<void> {
  for (const member of ['technician', 'by']) {
    await tx.query('update attempts set body = replace(body, $2, $3) where owner = $1::uuid and strpos(body, $2) > 0', [
      ...[owner, `"${member}":"${ownId}"`, `"${member}":"${person}"`],
    ]);
  }
}

/** Every version of the statement. */
const statingPerson = `
  select id as fact from facts
  where owner = $1::uuid and kind = 'technician' and statement = '{"technician":"' || $2::uuid || '"}'`;

const givingLeave = `
  select fact from authorisations where owner = $1::uuid and person = $2::uuid
  union all
  select e.fact from authorisations a join leave_ends e on e.owner = a.owner and e.ends = a.fact
  where a.owner = $1::uuid and a.person = $2::uuid`;

const namingPerson = `
  select fact from mentions where owner = $1::uuid and what = 'technician' and key = $2::uuid::text
  union all
  select id from facts
  where owner = $1::uuid and kind in ('registration', 'claim', 'claim-evidence') and statement like '%"technician":"' || $2::uuid || '"%'`;

async function factsOf(tx: Tx, sql: string, { owner, person }: Erasure): Promise<string[]> {
  const { rows } = await tx.query<{ fact: string }>(sql, [owner, person]);
  return rows.map((row) => row.fact);
}

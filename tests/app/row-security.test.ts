/**
 * Row security as the database has it, read from its catalogue: every row-secured table, every role that the service
 * may take, every verb, in the context of somebody else. Controls: each guard taken away once must be noticed.
 */
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { examineInstrument } from '../support/examine-instrument.ts';
import { giveLeave } from '../support/give-leave.ts';
import { leavePending } from '../support/leave-pending.ts';
import { makeClaims } from '../support/make-claims.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { organisations, testService } from '../support/service.ts';
import { conversionOf, inspectionOf, intakeOf, onPump, openShops, registerPair } from '../support/shop.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const login = new pg.Client({ connectionString: db.serviceUrl });
const owner = new pg.Client({ connectionString: db.ownerUrl });
afterAll(() => Promise.all([login.end(), owner.end()]));

let tables: string[] = [];
let roles: string[] = [];
beforeAll(async () => {
  for (const [shop, number] of [
    [brackwater, '1'],
    [tollan, '2'],
  ] as const) {
    await registerPair(shop, number);
    await examineInstrument(shop);
    const frame = { reference: 'one', performedAt: '2026-04-01T08:00:00Z' };
    await mustGoWell(shop('POST', '/v1/conversions', await conversionOf(shop, number, 'load-sense', frame)));
    await mustGoWell(shop('POST', '/v1/lots/ardenholm/L-1/intakes', intakeOf('one')));
    await shop('POST', '/v1/inspections', inspectionOf(number, { ...frame, performedAt: '2999-01-01T00:00:00Z' }));
  }
  await giveLeave(service);
  await makeClaims(service, (of) => onPump(of === 'brackwater' ? '1' : '2'));
  await leavePending(db, [organisations.brackwater.id, organisations.tollan.id]);
  await login.connect();
  await owner.connect();
  const secured = `select relname as name from pg_class where relrowsecurity order by 1`;
  tables = (await rowsOf<{ name: string }>(db, secured)).map(({ name }) => name);
  const members = `select roleid::regrole::text as name from pg_auth_members where member = 'asfitted_service'::regrole order by 1`;
  roles = (await rowsOf<{ name: string }>(db, members)).map(({ name }) => name);
});

type Context = { readonly orgs?: string; readonly makers?: string };

/** The rows that the statement gives or touches as this role in this context, or the code of the error; taken back. */
async function outcome(
  role: string,
  { orgs, makers }: Context,
  sql: string,
  values: unknown[] = [],
): Promise<number | string> {
  await login.query('begin');
  try {
    if (orgs !== undefined) await login.query(`select set_config('app.orgs', $1, true)`, [orgs]);
    if (makers !== undefined) await login.query(`select set_config('app.makers', $1, true)`, [makers]);
    await login.query(`set local role ${role}`);
    return (await login.query(sql, values)).rowCount ?? 0;
  } catch (error) {
    return (error as pg.DatabaseError).code ?? String(error);
  } finally {
    await login.query('rollback');
  }
}

const foreign: readonly Context[] = [
  {},
  { orgs: '', makers: '' },
  { orgs: randomUUID(), makers: 'other-maker' },
  { orgs: organisations['other-maker'].id, makers: 'brackwater' },
];
const denied = '42501';

/** What somebody else sees, adds, changes or takes away; empty: nothing. */
async function leaks(among: readonly string[] = tables): Promise<string[]> {
  const found: string[] = [];
  for (const table of among) {
    const [row] = await rowsOf<{ row: string }>(
      db,
      `select to_jsonb(t)::text as row from ${table} t where owner = $1`,
      [organisations.brackwater.id],
    );
    const verbs: readonly [string, string, unknown[]][] = [
      ['select', `select from ${table}`, []],
      [
        'insert',
        `insert into ${table} overriding system value select * from jsonb_populate_record(null::${table}, $1)`,
        [row?.row],
      ],
      ['update', `update ${table} set owner = owner`, []],
      ['delete', `delete from ${table}`, []],
    ];
    for (const role of roles) {
      for (const context of foreign) {
        for (const [verb, sql, values] of verbs) {
          const result = await outcome(role, context, sql, values);
          if (result !== 0 && result !== denied) found.push(`${role} may ${verb} ${table}: ${result}`);
        }
      }
    }
    const byOwner = await owner.query(`select from ${table}`);
    if (byOwner.rowCount !== 0) found.push(`the owner may select ${table}`);
  }
  return [...new Set(found)];
}

describe('in the context of another, or of nobody', () => {
  it('every role sees, adds, changes and deletes nothing in any row-secured table', async () => {
    expect(tables.length).toBeGreaterThanOrEqual(11);
    expect(roles).toEqual([
      'asfitted_analyst',
      'asfitted_eraser',
      'asfitted_jobs',
      'asfitted_reader',
      'asfitted_recorder',
    ]);
    for (const table of tables) {
      expect(
        await rowsOf(db, `select from ${table} where owner = $1 limit 1`, [organisations.brackwater.id]),
      ).toHaveLength(1);
    }
    expect(await leaks()).toEqual([]);
  });

  it('control: a table without its row security, or not forced on its owner, is noticed', async () => {
    const noticed: string[] = [];
    const alter = async (table: string, change: string) =>
      await withSuperuser(db.superuserUrl, (client) =>
        client.query(`alter table ${table} ${change} row level security`),
      );
    for (const table of tables) {
      await alter(table, 'disable');
      if ((await leaks([table])).some((leak) => leak.includes(` ${table}:`))) noticed.push(`disable ${table}`);
      await alter(table, 'enable');
      await alter(table, 'no force');
      if ((await leaks([table])).includes(`the owner may select ${table}`)) noticed.push(`no force ${table}`);
      await alter(table, 'force');
    }
    expect(noticed).toEqual(tables.flatMap((table) => [`disable ${table}`, `no force ${table}`]));
    expect(await leaks()).toEqual([]);
  }, 60_000);
});

describe('in a context of its own', () => {
  it.each(['asfitted_recorder', 'asfitted_reader'])(
    '%s sees the rows of its organisations and no others',
    async (role) => {
      for (const table of tables) {
        for (const orgs of [[organisations.brackwater.id], [organisations.brackwater.id, organisations.tollan.id]]) {
          const seen = await outcome(role, { orgs: orgs.join(',') }, `select from ${table}`);
          const there = await rowsOf(db, `select from ${table} where owner = any ($1)`, [orgs]);
          expect([table, seen]).toEqual([table, seen === denied ? denied : there.length]);
        }
      }
      const facts = await outcome(role, { orgs: organisations.tollan.id }, 'select from facts');
      expect(facts).toBeGreaterThan(5);
    },
  );

  it('the analyst sees facts, part uses, mentions, approvals and claims of its make, whoever owns them, and nothing else', async () => {
    const context = { orgs: organisations.brackwater.id, makers: 'ardenholm' };
    for (const table of tables) {
      const ofClaims = ['claims', 'claim_entries', 'claim_texts'];
      const ofMake = ['facts', 'part_uses', 'mentions', 'approvals', 'leave_ends', ...ofClaims].includes(table);
      const there = ofMake ? await rowsOf(db, `select from ${table} where maker = 'ardenholm'`) : [];
      expect([table, await outcome('asfitted_analyst', context, `select from ${table}`)]).toEqual([
        table,
        ofMake ? there.length : denied,
      ]);
      if (ofMake) expect(there.length).toBeGreaterThan(1);
    }
  });

  it('nobody may change or delete a fact, an event or a claim; the service may take no role beside its five', async () => {
    const context = { orgs: organisations.brackwater.id, makers: 'ardenholm' };
    const kept = ['facts', 'unit_events', 'part_uses', 'record_references', 'registrations', 'attempts'];
    for (const role of roles) {
      for (const table of [
        ...kept,
        'idempotency_keys',
        'intakes',
        'editions',
        'staged_leaves',
        'log_leaves',
        'log_checkpoints',
        'outbox',
        'organisations',
      ]) {
        const [column] = await rowsOf<{ name: string }>(
          db,
          `select attname as name from pg_attribute where attrelid = $1::regclass and attnum > 0 and attidentity = ''
           order by attnum limit 1`,
          [table],
        );
        const update = await outcome(role, context, `update ${table} set ${column?.name} = ${column?.name}`);
        const remove = await outcome(role, context, `delete from ${table}`);
        // Whoever gives a leaf its place takes it from where it waited; the audit finds one that got none.
        if (table === 'staged_leaves' && role === 'asfitted_jobs') expect(update).toBe(denied);
        else expect([role, table, update, remove]).toEqual([role, table, denied, denied]);
      }
    }
    // What a name leads to is a projection: an identity moves it.
    const moves = 'update unit_names set name_kind = name_kind';
    for (const role of roles) {
      expect([role, (await outcome(role, context, moves)) === denied]).toEqual([role, role !== 'asfitted_recorder']);
      expect(await outcome(role, context, 'delete from unit_names')).toBe(denied);
    }
    for (const role of ['asfitted_owner', 'asfitted_projector', 'pg_read_all_data'])
      expect(await outcome(role, {}, 'select 1')).toBe(denied);
  });
});

/** The database as it is: a lint over its catalogues, and what each role may do by trying it. Each has its controls. */
import { globSync, readFileSync } from 'node:fs';
import type pg from 'pg';
import { beforeAll, describe, expect, it } from 'vitest';
import { sequenceAll } from '../../../src/app/log/sequence.ts';
import { plantCanaries } from '../../support/canaries.ts';
import { testDatabase } from '../../support/database.ts';
import { examineInstrument } from '../../support/examine-instrument.ts';
import { leavePending } from '../../support/leave-pending.ts';
import { organisations, testService } from '../../support/service.ts';
import { intakeOf } from '../../support/shop.ts';
import { withSuperuser } from '../../support/test-server.ts';
import { recordVariedHistory } from '../../support/varied-history.ts';
import { tell } from '../gate-options.ts';
import { findingsOf, lintCatalogue, lintRules } from './catalogue-lint.ts';
import { inWords, type RightsRow, roles, tryRights } from './rights.ts';

const db = await testDatabase();
const service = await testService(db);
const parties = { own: organisations.brackwater.id, other: organisations.tollan.id, maker: 'ardenholm' };
const file = new URL('../../../ops/rights.md', import.meta.url);

beforeAll(async () => {
  await recordVariedHistory(service);
  await plantCanaries(service, db);
  const tollan = await service.as({ distributor: 'tollan' });
  await tollan('POST', '/v1/lots/ardenholm/L-1/intakes', { ...intakeOf('in'), note: 'one' });
  await tollan('POST', '/v1/lots/ardenholm/L-1/counts', intakeOf('count'));
  await tollan('POST', '/v1/lots/ardenholm/L-1/intakes', { ...intakeOf('out'), shop: 'nowhere' });
  await examineInstrument(tollan);
  await leavePending(db, [parties.own, parties.other]);
  // Leaves with a place, and one that waits.
  await sequenceAll(service.app);
  await tollan('PUT', '/v1/shops/after', { name: 'After' });
});

/** Everything in one transaction, which is taken back. */
async function takenBack<T>(work: (client: pg.Client) => Promise<T>): Promise<T> {
  return await withSuperuser(db.superuserUrl, async (client) => {
    await client.query('begin');
    try {
      return await work(client);
    } finally {
      await client.query('rollback');
    }
  });
}

describe('the system catalogues', () => {
  it('show nothing that any rule forbids', async () => {
    const findings = await takenBack(lintCatalogue);
    tell(`lint of the catalogues: ${lintRules.length} rules, ${findings.length} findings`);
    expect(findings).toEqual([]);
  });

  it('control: each rule notices what it is there for', async () => {
    const missed: string[] = [];
    for (const rule of lintRules) {
      const findings = await takenBack(async (client) => {
        await client.query(rule.control.change);
        return await findingsOf(client, rule);
      });
      if (!findings.includes(rule.control.finding)) missed.push(`${rule.name}: ${JSON.stringify(findings)}`);
    }
    tell(`controls of the lint: ${lintRules.length - missed.length} of ${lintRules.length} caught`);
    expect(missed).toEqual([]);
  });
});

describe('the sources', () => {
  it('take an advisory lock only where a cluster is prepared or a database migrated', () => {
    const taking = globSync('src/**/*.ts').filter((path) => /pg_(try_)?advisory/.test(readFileSync(path, 'utf8')));
    expect(taking.toSorted()).toEqual(['src/store/embedded/prepare-database.ts', 'src/store/migrate.ts']);
  });
});

describe('what each role may do with each table', () => {
  const stated = () =>
    readFileSync(file, 'utf8')
      .split('\n')
      .filter((line) => line.startsWith('|'));

  it('is what ops/rights.md says: where it is meant to be otherwise, change the line there', async () => {
    const { rows, tries } = await takenBack((client) => tryRights(client, parties));
    const tried = inWords(rows);
    tell(`matrix of ${roles.length} roles and ${rows.length} tables and views, ${tries} tries`);
    expect(stated()).toEqual(tried);
  });

  const otherLines = (rows: readonly RightsRow[]) => inWords(rows).filter((line) => !stated().includes(line));
  it.each([
    ['a policy is dropped', 'drop policy facts_own on facts', ['facts']],
    ['row security is taken off a table', 'alter table people disable row level security', ['people']],
    ['row security is not forced on the owner', 'alter table attempts no force row level security', ['attempts']],
    [
      'a role passes row security by',
      'alter role asfitted_reader bypassrls',
      [
        'attempts',
        'fact_privates',
        'facts',
        'intakes',
        'lot_sums',
        'part_uses',
        'people',
        'record_references',
        'registrations',
        'stock_items',
      ],
    ],
    ['a verb is granted', 'grant delete on unit_events to asfitted_recorder', ['unit_events']],
    ['a column is granted', 'grant select (key) on idempotency_keys to asfitted_reader', ['idempotency_keys']],
    [
      'a policy is widened',
      'create policy wide on part_uses for select to asfitted_analyst using (true)',
      ['part_uses'],
    ],
  ])('control: %s, and the table is another', async (_, change, changed) => {
    const { rows } = await takenBack(async (client) => {
      await client.query(change);
      return await tryRights(client, parties, [...changed, 'editions', 'outbox']);
    });
    expect(otherLines(rows).map((line) => /`(\w+)`/.exec(line)?.[1])).toEqual(changed);
    tell(`control of the matrix caught: ${change}`);
  });
});

/**
 * Run as a process of its own: records the conversions that it is sent, so many in a batch, one batch after another.
 * Started twice it is two services on one database.
 */
import { type LineRequest, recordLines } from '../../src/app/record-lines.ts';
import { conversionBody } from '../../src/core/records/bodies.ts';
import { toProblem } from '../../src/http/problems.ts';
import { loadSigner } from '../../src/store/local-keys.ts';
import { openPools } from '../../src/store/pools.ts';
import { appOf } from '../../src/wire.ts';
import type { askerOf } from './service.ts';

export type Load = {
  readonly asker: ReturnType<typeof askerOf>;
  readonly scopes: readonly string[];
  readonly records: readonly { readonly reference: string }[];
  readonly size: number;
};
/** How many were recorded, and what went wrong with the others for good. */
export type Done = { readonly recorded: number; readonly problems: readonly string[] };

const [serviceUrl = '', dataDir = ''] = process.argv.slice(2);
const app = appOf(
  openPools({ serviceUrl, onLost: () => {} }),
  { signers: [await loadSigner({ dataDir })], former: [] },
  { dataDir, logDir: `${dataDir}/log` },
);

process.on('message', async ({ asker, scopes, records, size }: Load) => {
  const who = { ...asker, scopes: new Set(scopes) as (typeof asker)['scopes'] };
  const problems: string[] = [];
  for (let from = 0; from < records.length; from += size) {
    problems.push(...(await record(who, records.slice(from, from + size))));
  }
  process.send?.({ recorded: records.length - problems.length, problems } satisfies Done);
});
process.on('disconnect', () => process.exit(0));
process.send?.('ready');

/** As a caller does: what was told to be busy is sent again with its key. */
async function record(asker: Parameters<typeof recordLines>[1], batch: Load['records']): Promise<string[]> {
  let left = batch;
  for (let tries = 0; tries < 20; tries++) {
    const outcomes = await recordLines(app, asker, left.map(lineOf), false);
    const problems = outcomes.map((one) => (one.kind === 'problem' ? toProblem(one.error) : null));
    left = left.filter((_, at) => problems[at] !== null);
    if (left.length === 0) return [];
    const final = problems.flatMap((one) => (one === null || one.code === 'busy' ? [] : [`${one.code} ${one.detail}`]));
    if (final.length > 0) return final;
  }
  return left.map((one) => `${one.reference} stayed busy`);
}

function lineOf(sent: Load['records'][number]): LineRequest {
  const asked = { kind: 'conversion' as const, body: conversionBody.parse(sent) };
  return { asked, sent, route: 'POST /v1/conversions', key: sent.reference };
}

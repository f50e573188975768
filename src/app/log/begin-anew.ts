/**
 * Where a log can't be gone on with, another begins: under another name and key, so that nobody is ever shown two trees of
 * one log. It names the old one as far as that was known, and takes in all that the database has.
 */
import { openCheckpoint } from '../../core/log/checkpoint.ts';
import { signFollows } from '../../core/log/follows.ts';
import { Frontier } from '../../core/log/frontier.ts';
import { openNote, type VerifierKey } from '../../core/log/note.ts';
import { isSame } from '../../core/log/tree.ts';
import { allLogs } from '../../store/sql/audit-log.ts';
import { currentLog, insertLog, stageAgain, takeLog } from '../../store/sql/log.ts';
import { withTransaction } from '../../store/transaction.ts';
import type { App } from '../context.ts';
import { checkpointPath } from './published.ts';
import { LogRefused } from './refused.ts';
import { sequenceAll, signHead } from './sequence.ts';

const timeouts = { statementMs: 3_600_000, idleMs: 600_000, transactionMs: 86_400_000 };

/** `after` is the last known checkpoint of the old log. @returns how many leaves the new one has */
export async function beginAnew(
  app: App,
  { after: note, reason }: { readonly after: string; readonly reason: string },
): Promise<{ readonly origin: string; readonly size: number }> {
  const { signers, keys, files } = app.log;
  const origin = signers[0]?.name ?? '';
  const after = openCheckpoint(note, keys);
  if ('fault' in after)
    throw new LogRefused(`that is no checkpoint of a known key (${after.fault}): list the old key in LOG_FORMER_KEYS`);
  if (after.origin === origin) throw new LogRefused(`the new log needs another name than ${origin}: set LOG_NAME`);
  if (keysOf(note, keys).some((old) => keys.some((key) => key.name === origin && isSame(key.publicKey, old.publicKey))))
    throw new LogRefused('the key that signed the old log must not sign the new one: set SIGNING_KEY_FILE to another');
  if ((await files.read(checkpointPath)) !== null)
    throw new LogRefused('LOG_DIR holds a log: keep that elsewhere, and set LOG_DIR to an empty folder');
  await withTransaction(app.pools.jobs, { role: 'jobs', orgs: [], timeouts }, async (tx) => {
    const old = await currentLog(tx);
    if (old !== null && (await takeLog(tx)) === null)
      throw new LogRefused('an instance is writing to the log: stop all of them first');
    if (old !== null && old.origin !== after.origin)
      throw new LogRefused(
        `the checkpoint is of the log ${after.origin}, the one in the database is called ${old.origin}`,
      );
    const number = (old?.number ?? 0) + 1;
    const isUsed = (await allLogs(tx)).some((log) => log.origin === origin);
    if (isUsed || !(await insertLog(tx, { number, origin, follows: signFollows({ origin, after, reason }, signers) })))
      throw new LogRefused(`there was a log called ${origin} already: set LOG_NAME to a new name`);
    await signHead(tx, app, number, { origin, size: 0, root: new Frontier().root() });
    if (old !== null) await stageAgain(tx, old.number);
  });
  return { origin, size: await sequenceAll(app) };
}

function keysOf(note: string, keys: readonly VerifierKey[]): readonly VerifierKey[] {
  const opened = openNote(note, keys);
  return 'fault' in opened ? [] : opened.by;
}

import { mkdirSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Account, canReach } from './account.ts';

/**
 * Where root keeps what an unprivileged account must reach: /var/lib/asfitted, which outlives a restart of the
 * machine, else a folder under the temporary one. Only a folder that root owns and nobody else may write is taken:
 * in a shared temporary folder another user could have made it first.
 */
export function systemFolder(account: Account): string {
  const reasons: string[] = [];
  for (const folder of ['/var/lib/asfitted', join(tmpdir(), 'asfitted-of-root')]) {
    const reason = whyNot(folder, account);
    if (reason === null) return folder;
    reasons.push(`${folder} (${reason})`);
  }
  throw new Error(
    `No folder that ${account.name} can reach and only root can write: tried ${reasons.join(' and ')}. Start the service as an ordinary user, or set DATABASE_URL.`,
  );
}

function whyNot(folder: string, account: Account): string | null {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o755 });
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  const { uid, mode } = statSync(folder);
  if (uid !== 0) return `belongs to user ${uid}`;
  if ((mode & 0o022) !== 0) return 'others may write it';
  return canReach(account, folder) ? null : 'not reachable';
}

import { readFileSync, realpathSync, statSync } from 'node:fs';
import { dirname } from 'node:path';

/** A user of the machine that the server's processes run as. */
export type Account = { readonly name: string; readonly uid: number; readonly gid: number };

/** Postgres refuses to run as root. These are tried in order; initdb needs one that the machine knows by name. */
const preferred = ['postgres', 'nobody', 'daemon'];

/** Null when we aren't root: the server then runs as ourselves. */
export function unprivilegedAccount(): Account | null {
  if (process.getuid?.() !== 0) return null;
  const known = accountsOfMachine();
  for (const name of preferred) {
    const account = known.find((candidate) => candidate.name === name);
    if (account !== undefined) return account;
  }
  throw new Error(
    `Postgres doesn't run as root, and /etc/passwd has none of ${preferred.join(', ')} to run it as. Start the service as an ordinary user, or set DATABASE_URL.`,
  );
}

/** Who owns an existing cluster: the server must run as that user. Null when we aren't root. */
export function ownerOf(folder: string): Account | null {
  if (process.getuid?.() !== 0) return null;
  const { uid, gid } = statSync(folder);
  const name = accountsOfMachine().find((candidate) => candidate.uid === uid)?.name ?? String(uid);
  return { name, uid, gid };
}

/**
 * Whether the account can walk to the folder, by the mode bits of it and of everything above it. Access lists are
 * not read: they could only make more reachable than we think.
 */
export function canReach(account: Account, folder: string): boolean {
  let here = realpathSync(folder);
  for (;;) {
    const { uid, gid, mode } = statSync(here);
    const bit = uid === account.uid ? 0o100 : gid === account.gid ? 0o010 : 0o001;
    if ((mode & bit) === 0) return false;
    const above = dirname(here);
    if (above === here) return true;
    here = above;
  }
}

function accountsOfMachine(): Account[] {
  return readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .map((line) => line.split(':'))
    .flatMap(([name, , uid, gid]) => (name && uid && gid ? [{ name, uid: Number(uid), gid: Number(gid) }] : []))
    .filter(({ uid, gid }) => Number.isInteger(uid) && Number.isInteger(gid) && uid > 0);
}

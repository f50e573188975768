import type { TestDatabase } from './database.ts';
import { withSuperuser } from './test-server.ts';

/** As if the service had been killed right after the first fact of each of these organisations: something is left to be judged. */
export async function leavePending(db: Pick<TestDatabase, 'superuserUrl'>, owners: readonly string[]): Promise<void> {
  await withSuperuser(db.superuserUrl, (client) =>
    client.query(
      `insert into pending_judgements (owner, cause, client, subject, touched)
       select distinct on (owner) owner, id, 'tests', 'tests', '[{"what":"following"}]' from facts
       where owner = any ($1::uuid[]) order by owner, id`,
      [owners],
    ),
  );
}

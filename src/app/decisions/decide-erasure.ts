/** A person is forgotten: the name, or everything but the id by which records go on naming somebody. */
import { type Decision, nothingElse } from '../recording/draft.ts';
import type { Loaded } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { privateOf } from './statement.ts';

export function decideErasure({ owner, person: id, body, sent }: Request<'erasure'>, loaded: Loaded): Decision {
  const person = loaded.people.find((one) => one.owner === owner && one.id === id);
  if (person === undefined) {
    return { decided: 'reject', refusal: { code: 'not-found', detail: 'No technician of yours is known by this id.' } };
  }
  const { erase } = body;
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind: 'erasure',
      maker: null,
      statement: { technician: id, erase },
      judgement: { findings: [] },
      private: privateOf(sent),
      erases: { person: id, ownId: person.ownId, everything: erase === 'everything' },
      status: 201,
      answer: { technician: id, erase },
    },
  };
}

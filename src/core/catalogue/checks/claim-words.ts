/** Words that an edition adds for claims are new ones: a word of the service means the same for every maker. */
import { failureModes, symptoms } from '../../claims/words.ts';
import type { Edition } from '../edition.ts';
import { type Problem, problem } from '../problem.ts';

export function wordOfService(edition: Edition): Problem[] {
  return (
    [
      ['symptoms', symptoms],
      ['failureModes', failureModes],
    ] as const
  ).flatMap(([list, own]) =>
    (edition[list] ?? []).flatMap(({ id }, at) =>
      Object.hasOwn(own, id) ? [problem([list, at, 'id'], `${id} is a word of the service already: leave it out`)] : [],
    ),
  );
}

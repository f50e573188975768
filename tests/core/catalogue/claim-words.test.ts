import { describe, expect, it } from 'vitest';
import { wordsOf } from '../../../src/core/claims/words.ts';
import { changed, checkedEdition, editionInput } from '../../support/editions/editions.ts';
import { refuses } from './refused.ts';

const whistles = { id: 'whistles', text: 'it whistles' };

describe('words for claims that an edition adds', () => {
  refuses([
    {
      it: 'a symptom that is a word of the service, and one that is listed twice',
      wrong: { '/symptoms': [{ id: 'noise', text: 'loud' }, whistles, whistles] },
      says: [
        ['/symptoms/2/id', 'whistles is listed before'],
        ['/symptoms/0/id', 'noise is a word of the service already'],
      ],
      right: { '/symptoms': [whistles] },
    },
    {
      it: 'a failure mode that is a word of the service, and one that is listed twice',
      wrong: { '/failureModes': [{ id: 'worn', text: 'worn' }, whistles, whistles] },
      says: [
        ['/failureModes/2/id', 'whistles is listed before'],
        ['/failureModes/0/id', 'worn is a word of the service already'],
      ],
      right: { '/failureModes': [whistles] },
    },
    {
      it: 'a text of a word that is not there',
      wrong: { '/texts': { de: { 'symptom/hums': 'brummt' } } },
      says: [['/texts/de/symptom~1hums', 'a text is keyed']],
      right: {
        '/symptoms': [whistles],
        '/failureModes': [whistles],
        '/texts': { de: { 'symptom/whistles': 'pfeift', 'failure-mode/whistles': 'pfeift' } },
      },
    },
  ]);

  it('may be used beside those of the service until they are retired', () => {
    const edition = checkedEdition(
      changed(editionInput('small'), {
        '/symptoms': [whistles, { id: 'hums', text: 'it hums', retired: true }],
        '/failureModes': [{ id: 'chipped', text: 'chipped' }],
      }),
    );
    const own = wordsOf('symptom', null);
    expect(own).toContainEqual({ id: 'no-pressure', text: 'no pressure is built up' });
    expect(wordsOf('symptom', edition)).toEqual([...own, whistles]);
    expect(wordsOf('failureMode', edition).at(-1)).toEqual({ id: 'chipped', text: 'chipped' });
    expect(wordsOf('failureMode', checkedEdition(editionInput('small')))).toEqual(wordsOf('failureMode', null));
  });
});

/** Editions of one maker, published at one moment. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { edition, mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';

const db = await testDatabase();
const service = await testService(db);
const maker = await service.as({ maker: 'ardenholm' });
const path = (name: string) => `/v1/catalogue/ardenholm/editions/${name}`;
type Content = { elements: { id: string; kind: string }[] };

/** The edition before with one element more, which is of another kind in each of the two. */
function twoThatDiffer(before: Content, round: number) {
  return ['plug', 'orifice'].map((kind) => {
    const elements = [...before.elements, { id: `new-${round}`, kind }];
    return { ...before, elements, edition: `r-${round}-${kind}` };
  });
}

describe('two editions of one maker that contradict each other, published at once', () => {
  it('one is published, and the other is held against it', async () => {
    let before = edition as Content;
    await mustGoWell(maker('PUT', path('2026-1'), before));
    for (let round = 0; round < 10; round++) {
      const two = twoThatDiffer(before, round);
      const answers = await Promise.all(two.map((one) => maker('PUT', path(one.edition), one)));
      expect([round, ...answers.map((one) => one.status).sort()]).toEqual([round, 201, 422]);
      const told = answers.find((one) => one.status === 422)?.body;
      expect(told.errors).toMatchObject([{ pointer: `/elements/${before.elements.length}/kind` }]);
      before = two[answers.findIndex((one) => one.status === 201)] ?? before;
    }
  });
});

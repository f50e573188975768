/** A certificate out of a small log: what it proves, and the place of whatever was changed. */
import { describe, expect, it } from 'vitest';
import {
  type Certificate,
  certificateFaults,
  certificateSchema,
  withheldOf,
  withhold,
} from '../../../src/core/log/certificate.ts';
import { sections } from '../../../src/core/log/leaf.ts';
import { contents, entryOfLeaf, leafNumber, saltOf, smallLog, strangers, testKey } from './small-log.ts';

const key = testKey(1);
const leaf = leafNumber(1, null);
const log = smallLog([...strangers(2), entryOfLeaf(leaf), ...strangers(2)], key);
const certificate: Certificate = {
  v: 1,
  leaf,
  sections: Object.fromEntries(
    sections.map((section) => [section, { salt: saltOf(section), content: contents[section] }]),
  ),
  proof: log.inclusion(2),
};
const faultsOf = (one: unknown) => certificateFaults(certificateSchema.parse(one), [key]);

describe('a certificate', () => {
  it('proves what it holds, sent and read again', () => {
    expect(faultsOf(JSON.parse(JSON.stringify(certificate)))).toEqual([]);
    expect(withheldOf(certificate)).toEqual([]);
  });

  it.each(sections)('names %s where its content or salt is another', (section) => {
    const fault = [{ fault: 'section-changed', pointer: `/sections/${section}` }];
    const part = { salt: saltOf(section), content: contents[section] };
    const withPart = (other: object) => ({ ...certificate, sections: { ...certificate.sections, [section]: other } });
    expect(faultsOf(withPart({ ...part, content: { ...(part.content as object), more: 1 } }))).toEqual(fault);
    expect(faultsOf(withPart({ ...part, salt: 'f'.repeat(32) }))).toEqual(fault);
  });

  it.each([
    ['another kind', { kind: 'conversion' }],
    ['another time', { recordedAt: '2026-03-14T09:25:00.000009Z' }],
    ['another place in the chain', { subjects: leaf.subjects.map((one) => ({ ...one, seq: 2 })) }],
  ])('of a leaf with %s is of another record', (_, change) => {
    expect(faultsOf({ ...certificate, leaf: { ...leaf, ...change } })).toEqual([
      { fault: 'entry-of-another-record', pointer: '/leaf' },
    ]);
  });

  it('says what is wrong with its proof, beside all else', () => {
    const [part] = [certificate.sections.origin];
    const wrong = {
      ...certificate,
      leaf: { ...leaf, kind: 'test' },
      sections: { origin: { ...part, content: null } },
      proof: { ...certificate.proof, index: 1 },
    };
    expect(faultsOf(wrong).map(({ pointer }) => pointer)).toEqual(['/sections/origin', '/leaf', '/proof']);
  });

  it('proves the same with sections withheld', () => {
    const less = withhold(certificate, ['statement', 'private']);
    expect([withheldOf(less), faultsOf(less)]).toEqual([['statement', 'private'], []]);
    expect(withhold(less, sections).sections).toEqual({});
    expect(faultsOf(withhold(less, sections))).toEqual([]);
  });

  it.each([
    ['a member that nothing covers', { note: '' }],
    ['a section without content', { sections: { origin: { salt: saltOf('origin') } } }],
    ['a section that there is not', { sections: { other: { salt: saltOf('origin'), content: 1 } } }],
    ['another version', { v: 2 }],
  ])('is none with %s', (_, change) => {
    expect(certificateSchema.safeParse({ ...certificate, ...change }).success).toBe(false);
  });
});

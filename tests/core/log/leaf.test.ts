import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { entryOf, type Leaf, leafHash, leafHead, sectionDigest, sections } from '../../../src/core/log/leaf.ts';

const leaf: Leaf = {
  id: '01975b3e-8f00-7000-8000-000000000001',
  kind: 'mounting',
  subjects: [
    { unit: '01975b3e-8f00-7000-8000-00000000000b', seq: 4, prev: 'e'.repeat(64) },
    { unit: '01975b3e-8f00-7000-8000-00000000000a', seq: 1, prev: null },
  ],
  recordedAt: '2026-03-14T09:25:00.000001Z',
  edition: '2026-1',
  ruleset: '1',
  digests: { origin: 'a'.repeat(64), statement: 'b'.repeat(64), judgement: 'c'.repeat(64), private: 'd'.repeat(64) },
};

describe('the digest of a section', () => {
  // Computed outside the project, with sha256sum and with Python's hashlib over the same bytes.
  it.each([
    ['', new Uint8Array(16), '374708fff7719dd5979ec875d56cd2286f6d3cf7ec317a3b25632aab28ec37bb'],
    ['{"note":"Öl"}', new Uint8Array(16), '6b3fe9a33beda3feba054cd7df056595167eae5fc2c33be1a3b24ecb72ead923'],
    [
      '{"note":"Öl"}',
      Uint8Array.from({ length: 16 }, (_, index) => index),
      '959dca2d84e70a12b44654be6aea7186d90ac41b8bb1119afe6c537e9a2d8eff',
    ],
  ])('of %j is that of the salt and then the text in UTF-8', (section, salt, digest) => {
    expect(sectionDigest(section, salt)).toBe(digest);
  });

  it('refuses a salt of another length, which would let bytes move between salt and section', () => {
    expect(() => sectionDigest('a', new Uint8Array(15))).toThrow('a salt has 16 bytes, not 15');
    expect(() => sectionDigest('a', new Uint8Array(17))).toThrow(RangeError);
  });

  it('refuses half of a surrogate pair, which would be hashed as another text', () => {
    expect(() => sectionDigest('\ud800', new Uint8Array(16))).toThrow(RangeError);
  });
});

describe('head and entry', () => {
  const text =
    `{"digests":{"judgement":"${'c'.repeat(64)}","origin":"${'a'.repeat(64)}","private":"${'d'.repeat(64)}",` +
    `"statement":"${'b'.repeat(64)}"},"edition":"2026-1","id":"01975b3e-8f00-7000-8000-000000000001",` +
    '"kind":"mounting","recordedAt":"2026-03-14T09:25:00.000001Z","ruleset":"1","subjects":[' +
    '{"prev":null,"seq":1,"unit":"01975b3e-8f00-7000-8000-00000000000a"},' +
    `{"prev":"${'e'.repeat(64)}","seq":4,"unit":"01975b3e-8f00-7000-8000-00000000000b"}],"v":1}`;

  it('are this text and, computed outside the project with Python, its SHA-256', () => {
    expect(leafHead(leaf)).toBe(text);
    expect(entryOf(text)).toBe('d62605c25d014049cceb4ea823dd28f264f3fb4759da25eede3eb37e8691fff3');
  });

  it('do not depend on the order of subjects nor on members that belong to neither', () => {
    const subjects = leaf.subjects.toReversed().map((subject) => ({ ...subject, serial: 'K-20931' }));
    const more = { ...leaf, subjects, note: '', digests: { ...leaf.digests, extra: '' } };
    expect(leafHead(more)).toBe(text);
  });

  it('change with every single thing that is stated', () => {
    const changes: Partial<Leaf>[] = [
      { id: '01975b3e-8f00-7000-8000-000000000002' },
      { kind: 'conversion' },
      { subjects: leaf.subjects.slice(1) },
      { subjects: leaf.subjects.map((subject) => ({ ...subject, seq: subject.seq + 1 })) },
      { subjects: leaf.subjects.map((subject) => ({ ...subject, prev: 'f'.repeat(64) })) },
      { recordedAt: '2026-03-14T09:25:00.000002Z' },
      { edition: null },
      { ruleset: null },
      ...sections.map((section) => ({ digests: { ...leaf.digests, [section]: '0'.repeat(64) } })),
    ];
    const entries = [leaf, ...changes.map((change) => ({ ...leaf, ...change }))].map((one) => entryOf(leafHead(one)));
    expect(new Set(entries).size).toBe(changes.length + 1);
  });
});

describe('the hash of a leaf', () => {
  it('is that of RFC 6962 section 2.1', () => {
    // Roots of the first and the first two leaves, "" and 00, of the test data of certificate-transparency and
    // transparency-dev/merkle: the first is the leaf's hash itself.
    const [first, second] = [leafHash(''), leafHash('00')];
    expect(first).toBe('6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d');
    const node = createHash('sha256')
      .update(Buffer.from(`01${first}${second}`, 'hex'))
      .digest('hex');
    expect(node).toBe('fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125');
  });

  it.each(['0', 'zz', 'AB', '0x00'])('is refused for %s, of which a part would be hashed', (entry) => {
    expect(() => leafHash(entry)).toThrow('is not hexadecimal');
  });
});

import { describe, expect, it } from 'vitest';
import { nameKey } from '../../../src/core/records/name-key.ts';

describe('the key of a serial or tag', () => {
  it('is the same however the same name is written', () => {
    for (const written of ['K-20931', ' k-20931', 'K-20931\u00a0', '\uff2b-\uff12\uff10931', 'k-20931\t']) {
      expect(nameKey(written), JSON.stringify(written)).toBe('K-20931');
    }
    expect(nameKey('stra\u00dfe 7')).toBe(nameKey('STRASSE 7'));
    expect(nameKey('\u00e9')).toBe(nameKey('E\u0301'));
  });

  it('differs where the name does', () => {
    expect(nameKey('K-20931')).not.toBe(nameKey('K-20913'));
    expect(nameKey('K 20931')).not.toBe(nameKey('K20931'));
  });

  it('is its own key, whatever character it is made of', () => {
    const wrong: string[] = [];
    for (let code = 1; code <= 0x10ffff; code += 1) {
      if (code >= 0xd800 && code <= 0xdfff) continue;
      const key = nameKey(`x${String.fromCodePoint(code)}x`);
      if (nameKey(key) !== key) wrong.push(code.toString(16));
    }
    expect(wrong).toEqual([]);
  });
});

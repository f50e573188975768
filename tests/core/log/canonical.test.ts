import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonical } from '../../../src/core/log/canonical.ts';

describe('canonical JSON', () => {
  it('agrees with the example of RFC 8785 section 3.2.2, to the byte', () => {
    const sent = String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`;
    // Section 3.2.4 of the same prints these bytes.
    const bytes = `7b 22 6c 69 74 65 72 61 6c 73 22 3a 5b 6e 75 6c 6c 2c 74 72
      75 65 2c 66 61 6c 73 65 5d 2c 22 6e 75 6d 62 65 72 73 22 3a
      5b 33 33 33 33 33 33 33 33 33 2e 33 33 33 33 33 33 33 2c 31
      65 2b 33 30 2c 34 2e 35 2c 30 2e 30 30 32 2c 31 65 2d 32 37
      5d 2c 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30
      30 66 5c 6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22 7d`;
    expect(Buffer.from(canonical(JSON.parse(sent))).toString('hex')).toBe(bytes.replaceAll(/\s/g, ''));
  });

  it('sorts names by UTF-16 unit, as the example of RFC 8785 section 3.2.3 does', () => {
    const sent = String.raw`{
      "\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh", "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face", "\u0080": "Control", "\u00f6": "Latin Small Letter O With Diaeresis"
    }`;
    expect(Object.values(JSON.parse(canonical(JSON.parse(sent))))).toHaveLength(7);
    expect([...canonical(JSON.parse(sent)).matchAll(/:"(.*?)"/g)].map(([, value]) => value)).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  // RFC 8785 appendix B: the double's bits and its text.
  it.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['8000000000000001', '-5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['ffefffffffffffff', '-1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['c340000000000000', '-9007199254740992'],
    ['4430000000000000', '295147905179352830000'],
    ['44b52d02c7e14af5', '9.999999999999997e+22'],
    ['44b52d02c7e14af6', '1e+23'],
    ['44b52d02c7e14af7', '1.0000000000000001e+23'],
    ['444b1ae4d6e2ef4e', '999999999999999700000'],
    ['444b1ae4d6e2ef4f', '999999999999999900000'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555553', '333333333.3333332'],
    ['41b3de4355555554', '333333333.33333325'],
    ['41b3de4355555555', '333333333.3333333'],
    ['41b3de4355555556', '333333333.3333334'],
    ['41b3de4355555557', '333333333.33333343'],
    ['becbf647612f3696', '-0.0000033333333333333333'],
    ['43143ff3c1cb0959', '1424953923781206.2'],
  ])('writes the double %s as %s', (bits, text) => {
    expect(canonical(Buffer.from(bits, 'hex').readDoubleBE())).toBe(text);
  });

  it.each(['7fffffffffffffff', '7ff0000000000000', 'fff0000000000000'])('refuses the double %s', (bits) => {
    expect(() => canonical({ a: Buffer.from(bits, 'hex').readDoubleBE() })).toThrow(/^-?(NaN|Infinity) at "\/a" has/);
  });

  it('agrees with another implementation on any JSON value', () => {
    fc.assert(
      fc.property(fc.jsonValue({ stringUnit: 'binary' }).filter(isSound), (value) => {
        expect(canonical(value)).toBe(canonicalize(value));
      }),
    );
  });

  it('does not depend on the order in which names were written, nor normalises them', () => {
    expect(canonical({ b: 1, a: [], '': {} })).toBe(canonical({ '': {}, a: [], b: 1 }));
    expect(canonical('e\u0301')).not.toBe(canonical('\u00e9'));
    expect(canonical(Object.assign(Object.create(null), { a: null }))).toBe('{"a":null}');
  });

  const loop: unknown[] = [];
  loop.push(loop);
  it.each([
    ['undefined', { a: { b: undefined } }, 'undefined at "/a/b"'],
    ['undefined alone', undefined, 'undefined at ""'],
    ['a hole in a list', Object.assign([1], { 2: 3 }), 'undefined at "/1"'],
    ['a bigint', [1n], 'bigint at "/0"'],
    ['a function', { toJSON: () => 1 }, 'function at "/toJSON"'],
    ['a symbol', [Symbol('a')], 'symbol at "/0"'],
    ['a date', { at: new Date(0) }, 'an instance of a class at "/at"'],
    ['a map', new Map(), 'an instance of a class at ""'],
    ['half a surrogate pair', { a: '\ud800' }, 'half of a surrogate pair at "/a"'],
    ['half a surrogate pair in a name', { a: { '\udc00': 1 } }, 'half of a surrogate pair at "/a"'],
    ['a value that contains itself', loop, 'a value nested so deep at "/0/0/0/0/0"'],
  ])('refuses %s and names the place', (_, value, message) => {
    expect(() => canonical(value)).toThrow(new TypeError(`${message} has no canonical JSON`));
  });
});

function isSound(value: unknown): boolean {
  return JSON.stringify(value).isWellFormed() && !JSON.stringify(value).includes('\\ud');
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mostNesting, parseStrict } from '../../../src/core/json/parse-strict.ts';
import { pointerOf } from '../../../src/core/json/pointer.ts';

describe('reading JSON', () => {
  it.each([
    '{}',
    '[]',
    ' [ ] ',
    '{ }',
    'null',
    'true',
    'false',
    '""',
    '-0',
    '[1, -2.5, 0.1, 1e3, 1E-7, 4.50, 123456789012345]',
    '{"a": {"b": [1, {"c": null}]}, "d": "e"}',
    '\t{"a"\r\n:\t1 , "b" : [ true , false ] }\n',
    String.raw`"A\u20ac\ud83d\ude00\"\\\/\b\f\n\r\t"`,
    '{"constructor": 1, "toString": 2, "": 3}',
    '"a quote \\" and a backslash \\\\"',
  ])('gives what JSON.parse gives for %s', (text) => {
    expect(parseStrict(text)).toEqual({ value: JSON.parse(text) });
  });

  it('reads whatever JSON.stringify writes of sound values, with spaces or without', () => {
    const text = fc.string({ unit: 'binary' }).filter((s) => !s.includes('\0'));
    const value = fc.letrec((tie) => ({
      any: fc.oneof(
        { maxDepth: 4 },
        fc.constant(null),
        fc.boolean(),
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer(),
        text,
        fc.array(tie('any')),
        fc.dictionary(
          text.filter((name) => name !== '__proto__'),
          tie('any'),
          { noNullPrototype: true },
        ),
      ),
    })).any;
    fc.assert(
      fc.property(value, fc.constantFrom('', ' ', '\t'), (sent, indent) => {
        const written = JSON.stringify(sent, null, indent);
        expect(parseStrict(written)).toEqual({ value: JSON.parse(written) });
      }),
    );
  });

  it('refuses what JSON.parse refuses, and throws for no text', () => {
    const pieces = fc.constantFrom(
      '{',
      '}',
      '[',
      ']',
      ':',
      ',',
      '"',
      '"a"',
      '1',
      '-',
      '.',
      'e',
      'null',
      ' ',
      '\\',
      '\\u12',
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 8 }), (parts) => {
        const text = parts.join('');
        const result = parseStrict(text);
        if (!parses(text)) expect(result).toHaveProperty('problem');
      }),
      { numRuns: 2000 },
    );
  });
});

describe('what is refused, with its place', () => {
  it.each([
    ['', '', 'there is no JSON here: send an object'],
    ['  \n', '', 'there is no JSON here: send an object'],
    ['{} x', '', 'the JSON ends before line 1, column 4: remove what follows'],
    ['{"a":1,"b":{"a":2,"a":2}}', '/b/a', 'the name "a" is given twice: keep one'],
    [String.raw`{"a":1,"\u0061":2}`, '/a', 'the name "a" is given twice: keep one'],
    ['{"a/b~c":[0,{"x":1,"x":1}]}', '/a~1b~0c/1/x', 'the name "x" is given twice: keep one'],
    ['{"constructor":1,"constructor":1}', '/constructor', 'the name "constructor" is given twice: keep one'],
    ['{"a":{"__proto__":{"held":false}}}', '/a/__proto__', 'the name __proto__ is not accepted: choose another'],
    [String.raw`{"a":["x","\u0000"]}`, '/a/1', 'a text contains a NUL character: remove it'],
    [String.raw`{"\u0000":1}`, '', 'a text contains a NUL character: remove it'],
    [String.raw`{"a":"\ud800"}`, '/a', 'a text contains half of a surrogate pair: send whole characters'],
    ['{"a":"\udc00"}', '/a', 'a text contains half of a surrogate pair: send whole characters'],
    [String.raw`{"\ude00\ud83d":1}`, '', 'a text contains half of a surrogate pair: send whole characters'],
    ['{"a":"x', '/a', 'a text has no closing double quote'],
    ['{"a":"x\\', '/a', 'a text has no closing double quote'],
    ['{"a":"x\ny"}', '/a', 'a control character at line 1, column 8: write it as an escape such as \\n'],
    ['{"a":"x\0y"}', '/a', 'a control character at line 1, column 8: write it as an escape such as \\n'],
    ['{"a":"\\x"}', '/a', 'a text contains a backslash that begins no escape: write \\\\ for a backslash'],
    ['{"a":"\\u12g4"}', '/a', 'a text contains a backslash that begins no escape: write \\\\ for a backslash'],
    ['{a:1}', '', '"a" stands at line 1, column 2 where a name in double quotes is needed'],
    ['{"a":1,}', '', '"}" stands at line 1, column 8 where a name in double quotes is needed'],
    ['{"a" 1}', '/a', '"1" stands at line 1, column 6 where a colon is needed'],
    ['{"a":\n  [1 2]}', '/a', '"2" stands at line 2, column 6 where a comma or ] is needed'],
    ['[1,]', '/1', '"]" stands at line 1, column 4 where a value is needed'],
    ['{"a":1', '', 'the text ends at line 1, column 7 where a comma or } is needed'],
    ['{"a":', '/a', 'the text ends at line 1, column 6 where a value is needed'],
    ['{"a":NaN}', '/a', '"N" stands at line 1, column 6 where a value is needed'],
    ['{"a":+1}', '/a', '"+" stands at line 1, column 6 where a value is needed'],
    ['{"a":01}', '', '"1" stands at line 1, column 7 where a comma or } is needed'],
    ['\ufeff{}', '', '"\ufeff" stands at line 1, column 1 where a value is needed'],
    ['[😀]', '/0', '"😀" stands at line 1, column 2 where a value is needed'],
  ])('%j', (text, pointer, detail) => {
    expect(parseStrict(text)).toEqual({ problem: { pointer, detail } });
  });

  it.each([
    '12345678901234567890',
    '9007199254740993',
    '0.1000000000000000055511151231257827',
    '333333333.33333329',
    '1e400',
    '-1e400',
    '1e-400',
    '2e-324',
  ])('the number %s, which a double would change, with the hint to send text', (source) => {
    const detail = `${source} would lose digits as a number: send it as text, in double quotes`;
    expect(parseStrict(`{"a":[${source}]}`)).toEqual({ problem: { pointer: '/a/0', detail } });
  });

  it('an endless number, of which no more than the beginning is shown', () => {
    for (const source of ['1'.repeat(5000), `1${'0'.repeat(1_000_000)}1`, `0.${'0'.repeat(99)}`]) {
      const detail = `${source.slice(0, 40)} would lose digits as a number: send it as text, in double quotes`;
      expect(parseStrict(source)).toEqual({ problem: { pointer: '', detail } });
    }
  });

  it.each([
    '9007199254740992',
    '0.10000000000000000',
    '100000000000000000000',
    '1e22',
    '1.50E+2',
    '5e-324',
    '0e999',
    '0.00000000000000000000',
    '-0.0000001234567',
    '61.00000000000000000',
  ])('but not the number %s, which keeps its size', (source) => {
    expect(parseStrict(source)).toEqual({ value: Number(source) });
  });

  it('but throws where it is given no text, which is a bug of the caller', () => {
    expect(() => parseStrict(Buffer.from('1') as unknown as string)).toThrow(TypeError);
  });

  it('nesting beyond the limit, and not at it', () => {
    const nest = (depth: number) => '['.repeat(depth) + ']'.repeat(depth);
    expect(parseStrict(nest(mostNesting))).toHaveProperty('value');
    expect(parseStrict(nest(mostNesting + 1))).toEqual({
      problem: { pointer: '/0'.repeat(mostNesting), detail: 'nested deeper than 64 levels: make it flatter' },
    });
    expect(parseStrict('[{"a":'.repeat(100_000))).toHaveProperty('problem');
    const siblings = `[${'[],{},'.repeat(100)}[]]`;
    expect(parseStrict(siblings)).toEqual({ value: JSON.parse(siblings) });
  });
});

describe('a JSON pointer', () => {
  // RFC 6901 section 5, the document's names and their pointers.
  it.each([
    [[], ''],
    [['foo', 0], '/foo/0'],
    [[''], '/'],
    [['a/b'], '/a~1b'],
    [['m~n'], '/m~0n'],
    [['c%d'], '/c%d'],
  ])('of %j is %j', (path, pointer) => {
    expect(pointerOf(path)).toBe(pointer);
  });
});

function parses(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

import { describe, expect, it } from 'vitest';
import { fingerprint } from '../../../src/core/log/fingerprint.ts';

describe('a fingerprint', () => {
  it('is the SHA-256 of the canonical JSON, however the value was spelled', () => {
    // By sha256sum over the bytes {"a":[1,"x"],"b":{"c":null,"d":true}}.
    const digest = '800353e95fd8ae2d13f2b04aa4978b34020d878b94063d923f8995a7558e410e';
    expect(fingerprint({ a: [1, 'x'], b: { c: null, d: true } })).toBe(digest);
    expect(fingerprint(JSON.parse('{ "b": {"d": true, "c": null}, "a": [1.0, "\\u0078"] }'))).toBe(digest);
    expect(fingerprint({ a: ['x', 1], b: { c: null, d: true } })).not.toBe(digest);
  });
});

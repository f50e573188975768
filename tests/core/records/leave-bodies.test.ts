import { describe, expect, it } from 'vitest';
import { approvalBody, authorisationBody } from '../../../src/core/records/leave-bodies.ts';

const from = '2026-01-01T00:00:00+01:00';
const authorisation = { reference: 'r', tasks: ['assemble'], from };
const approval = { reference: 'r', distributor: 'brackwater', shop: 'north', from, reason: 'seen' };

describe.each([
  ['an authorisation', (more: object) => authorisationBody.safeParse({ ...authorisation, ...more })],
  ['an approval', (more: object) => approvalBody.safeParse({ ...approval, ...more })],
])('%s', (_, parse) => {
  const problems = (more: object) => parse(more).error?.issues.map((one) => one.path.join('/')) ?? [];

  it('may have no end, or one after its beginning, whatever the offsets', () => {
    expect(problems({})).toEqual([]);
    expect(problems({ until: '2026-01-01T00:00:00+00:59' })).toEqual([]);
    // The same instant, and one before it.
    expect(problems({ until: '2025-12-31T23:00:00Z' })).toEqual(['until']);
    expect(problems({ until: '2026-01-01T00:00:00+01:01' })).toEqual(['until']);
  });

  it('is told of a time that is none once, and not compared by it', () => {
    expect(problems({ until: 'soon' })).toEqual(['until']);
    expect(problems({ from: '2026-13-01T00:00:00Z', until: from })).toEqual(['from']);
  });
});

import type { Rule } from './rule.ts';

export const functionNotOffered: Rule = {
  id: 'function-not-offered',
  severity: 'refuse',
  kinds: ['registration', 'conversion', 'inspection'],
  sentence: 'The declared function is one that the body can have, at its size and rotation.',
  basis: 'The catalogue lists the functions of each body; what matches none is declared as null.',
  clears: null,
  check: ({ target, kind, record }) => {
    if (target === null || !('refused' in target)) return [];
    // What the records have, an inspection need not defend: the voltage that it depends on may not be known.
    if (kind === 'inspection' && record.found?.function === undefined) return [];
    return [
      {
        pointer: kind === 'conversion' ? '/to/function' : '/found/function',
        expected: target.offered.join(' or ') || null,
        because: `${sentence(target.refused)}. It can have: ${target.offered.join(', ') || 'none'}.`,
      },
    ];
  },
};

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

import type { Rule } from './rule.ts';

export const tagNeeded: Rule = {
  id: 'tag-needed',
  severity: 'refuse',
  kinds: ['mounting'],
  sentence: 'A control without a serial gets a tag when it comes off its pump.',
  basis: 'It was known as the control of its pump; off it, nothing else tells it from another.',
  clears: null,
  check: ({ record, control }) =>
    record.mounting?.on === false && !control.hasName && record.mounting.tag === undefined
      ? [{ pointer: '/tag', because: 'This control has no serial. Tie a tag to it and give the tag here.' }]
      : [],
};

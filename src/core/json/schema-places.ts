/** What zod found wrong with a value, place by place and in words for people: of bodies as of editions. */
import type { z } from 'zod';

type Issue = z.core.$ZodIssue;
export type Place = { readonly path: readonly PropertyKey[]; readonly detail: string };

const noForm = 'has none of the forms that are allowed here';

/** One entry a place: unknown fields one by one, and of a union the form that came nearest. Parse with `explain`. */
export function placesOf(issues: readonly Issue[], base: readonly PropertyKey[] = []): Place[] {
  return issues.flatMap((issue) => {
    const path = [...base, ...issue.path];
    if (issue.code === 'unrecognized_keys') {
      return issue.keys.map((key) => ({ path: [...path, key], detail: 'is not known here' }));
    }
    if (issue.code === 'invalid_key') return placesOf(issue.issues, path);
    if (issue.code === 'invalid_union') return placesOfUnion(issue, path);
    return [{ path, detail: issue.message }];
  });
}

/** Where no form came near: in the schema's own words, else by all that the forms say. */
function placesOfUnion(issue: z.core.$ZodIssueInvalidUnion, path: readonly PropertyKey[]): Place[] {
  const nearest = nearestForm(issue.errors);
  if (nearest !== null) return placesOf(nearest, path);
  if (issue.message !== noForm) return [{ path, detail: issue.message }];
  const said = issue.errors.flatMap((issues) => placesOf(issues).map(({ detail }) => detail));
  return [{ path, detail: [...new Set(said)].join(', or ') }];
}

/** The form whose complaints all lie inside the value, fewest first: the others don't even have its type. */
function nearestForm(forms: readonly (readonly Issue[])[]): readonly Issue[] | null {
  const inside = forms.filter((issues) =>
    issues.every((issue) => issue.path.length > 0 || issue.code === 'unrecognized_keys'),
  );
  const sorted = inside.toSorted((a, b) => weight(a) - weight(b));
  return sorted[0] ?? null;
}

function weight(issues: readonly Issue[]): number {
  return issues.reduce((sum, issue) => sum + (issue.code === 'unrecognized_keys' ? issue.keys.length : 1), 0);
}

/** Words for what zod found. A message that a schema states itself comes before these. */
export function explain(issue: z.core.$ZodRawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type':
      return typeDetail(issue.expected, issue.input);
    case 'invalid_value':
      return `must be ${issue.values.map((value) => JSON.stringify(value)).join(' or ')}`;
    case 'too_small':
      return isCounted(issue.origin)
        ? `must have at least ${counted(Number(issue.minimum), issue.origin)}`
        : `must be ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`;
    case 'too_big':
      return isCounted(issue.origin)
        ? `must have at most ${counted(Number(issue.maximum), issue.origin)}`
        : `must be ${issue.inclusive ? 'at most' : 'less than'} ${issue.maximum}`;
    case 'invalid_format':
      return issue.format === 'regex' ? 'is not written as expected' : `is not a valid ${issue.format}`;
    case 'invalid_union':
      return issue.input === undefined ? 'is required' : noForm;
    default:
      return undefined;
  }
}

function typeDetail(expected: string, input: unknown): string {
  if (input === undefined) return `is required: ${typeName(expected)}`;
  if (expected === 'int' && typeof input === 'number') return 'must be a whole number';
  return `must be ${typeName(expected)}, not ${typeOf(input)}`;
}

const typeNames: Readonly<Record<string, string>> = {
  string: 'text',
  object: 'an object',
  record: 'an object',
  array: 'a list',
  boolean: 'true or false',
  number: 'a number',
  int: 'a whole number',
  null: 'null',
};

function typeName(expected: string): string {
  return typeNames[expected] ?? expected;
}

function typeOf(input: unknown): string {
  if (input === null) return 'null';
  return typeName(Array.isArray(input) ? 'array' : typeof input);
}

function isCounted(origin: string): boolean {
  return origin === 'string' || origin === 'array';
}

function counted(count: number, origin: string): string {
  if (origin === 'string') return `${count} character${count === 1 ? '' : 's'}`;
  return `${count} ${count === 1 ? 'entry' : 'entries'}`;
}

/**
 * A mapping says how the rows of somebody's table become records: it is the body of a record with columns in the place
 * of values. It is described in DEVELOPERS.md, "Importing tables".
 */
import { readFile } from 'node:fs/promises';
import { z } from 'zod';
import { parseStrict } from '../../core/json/parse-strict.ts';
import { Problem } from '../../errors.ts';
import { isLineKind, type LineKindName, lineKindNames, lineKinds } from '../../http/bulk/line-kinds.ts';
import { readAs } from '../../http/zod-validation.ts';
import { compileTemplate, type Template } from './compile-template.ts';
import { encodings } from './read-csv.ts';
import { sourceSchema } from './source.ts';

const fileSchema = z.strictObject({
  name: z
    .string()
    .regex(/^[a-z0-9][a-z0-9.-]{0,49}$/, { error: 'a name is 1 to 50 small letters, digits, dots and hyphens' }),
  kind: z
    .string()
    .refine(isLineKind, { error: `must be one of ${lineKindNames.join(', ')}` })
    .optional(),
  sheet: z.string().optional().describe('Of an XLSX file; without it the first'),
  header: z
    .union([z.int().min(1), z.array(z.int().min(1)).min(1).max(5)])
    .default(1)
    .describe('The row of headers, or several whose words are joined by " / "'),
  csv: z
    .strictObject({
      delimiter: z.enum([',', ';', '\t', '|']).default(','),
      encoding: z.enum(encodings).default('utf-8'),
    })
    .default({ delimiter: ',', encoding: 'utf-8' }),
  decimal: z.enum([',', '.']).default('.'),
  zone: sourceSchema.shape.zone,
  key: z
    .union([z.string().min(1), z.array(z.string().min(1)).min(1)])
    .describe('The columns that tell one row from all others'),
  lookups: z.record(z.string(), z.record(z.string(), z.json())).default({}),
  line: z
    .record(z.string(), z.json())
    .default({})
    .describe('Members of the line beside the body, where the kind has some'),
  body: z.record(z.string(), z.json()),
});

export type Mapping = Omit<z.output<typeof fileSchema>, 'body' | 'line' | 'kind' | 'key' | 'header'> & {
  readonly kind: LineKindName;
  readonly key: readonly string[];
  readonly header: readonly number[];
  /** Of the whole line but for its key and kind. */
  readonly template: Template;
};

/** What is wrong with a mapping file, a line for each place. */
export class MappingError extends Error {
  override readonly name = 'MappingError';
}

/** @param kind what the command says; a mapping that says another is refused */
export async function readMapping(file: string, kind: string | null): Promise<Mapping> {
  const text = await readFile(file, 'utf8').catch((error: unknown) => {
    throw new MappingError(`${file} can't be read: ${error instanceof Error ? error.message : error}`);
  });
  const parsed = parseStrict(text);
  if ('problem' in parsed) throw new MappingError(lineOf(file, parsed.problem));
  return mappingOf(parsed.value, kind, file);
}

export function mappingOf(value: unknown, kind: string | null, file = 'the mapping'): Mapping {
  const read = readAs(fileSchema, value, 'body');
  if (read instanceof Problem) throw new MappingError((read.errors ?? []).map((one) => lineOf(file, one)).join('\n'));
  const { body, line, key, header, kind: stated, ...rest } = read.value;
  const known = kind ?? stated;
  if (!isLineKind(known)) throw new MappingError(`Say what is imported: --kind ${lineKindNames.join(' | ')}`);
  if (kind !== null && stated !== undefined && stated !== kind)
    throw new MappingError(`${file} is for ${stated}, and the command says ${kind}.`);
  const problems: { pointer: string; detail: string }[] = [];
  const template = compileTemplate({ ...line, body }, problems);
  for (const name of Object.keys(lineKinds[known].address)) {
    if (!Object.hasOwn(line, name)) problems.push({ pointer: `/line/${name}`, detail: `is needed for ${known}` });
  }
  for (const { source, pointer } of template.sources) {
    if (source.lookup !== undefined && !Object.hasOwn(rest.lookups, source.lookup))
      problems.push({ pointer: `${pointer}/lookup`, detail: `there is no list ${source.lookup} in "lookups"` });
    if (source.date !== undefined && (source.zone ?? rest.zone) === undefined)
      problems.push({ pointer: `${pointer}/zone`, detail: 'say the time zone, here or for the whole mapping' });
  }
  if (problems.length > 0) throw new MappingError(problems.map((one) => lineOf(file, one)).join('\n'));
  return { ...rest, kind: known, key: [key].flat(), header: [header].flat(), template };
}

function lineOf(file: string, problem: object): string {
  const { pointer = '', detail = '' } = problem as { pointer?: string; detail?: string };
  return `${file} ${pointer === '' ? '(the whole file)' : pointer}: ${detail}`;
}

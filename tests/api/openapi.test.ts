/** Sources: OpenAPI 3.1.0 §4.8 (objects), JSON Schema 2020-12, which its schemas are. */
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { withScope } from '../../src/http/access.ts';
import { described } from '../support/described.ts';
import { bodySchema, startShell } from './shell.ts';

const run = promisify(execFile);

async function description(more: Parameters<typeof startShell>[0] = {}) {
  const { app } = await startShell(more);
  const answer = await app.inject('/openapi.json');
  return { answer, document: answer.json() };
}

describe('the description of the interface', () => {
  test('is public OpenAPI 3.1 and lists every route but itself', async () => {
    const { answer, document } = await description();
    expect(answer.statusCode).toBe(200);
    expect(document.openapi).toBe('3.1.0');
    expect(Object.keys(document.paths).sort()).toEqual([
      '/badly-answered',
      '/fails',
      '/livez',
      '/log/key',
      '/problems/{code}',
      '/readyz',
      '/startupz',
      '/v1/anybody',
      '/v1/things/{maker}/{serial}',
      '/where',
    ]);
  });

  test('gives every operation the one description of a problem, with every code', async () => {
    const { document } = await description();
    for (const path of Object.values<Record<string, { responses: object }>>(document.paths)) {
      for (const operation of Object.values(path)) {
        expect(operation.responses).toHaveProperty('default', { $ref: '#/components/responses/Problem' });
      }
    }
    const { description: text, content } = document.components.responses.Problem;
    expect(text).toContain('`refused-by-rules` (409)');
    expect(content['application/problem+json'].schema).toEqual({ $ref: '#/components/schemas/Problem' });
    expect(document.components.schemas.Problem.required).toContain('requestId');
  });

  test('shows a body with its example, its parameters and the key that it takes', async () => {
    const { document } = await description();
    const { post, get } = document.paths['/v1/things/{maker}/{serial}'];
    const media = post.requestBody.content['application/json'];
    expect(media.schema).toMatchObject({ type: 'object', required: ['name'], additionalProperties: false });
    expect(bodySchema.parse(media.example)).toMatchObject({ name: 'sense seat' });
    const places = post.parameters.map(
      (parameter: { in: string; name: string }) => `${parameter.in} ${parameter.name}`,
    );
    expect(places.sort()).toEqual([
      'header Idempotency-Key',
      'path maker',
      'path serial',
      'query check',
      'query first',
    ]);
    expect(get.requestBody).toBeUndefined();
  });

  test('shows several examples, and those of a shape that is described once', async () => {
    const shared = z.strictObject({ value: z.string() }).meta({ id: 'TestReading', examples: [{ value: '1.5' }] });
    const inline = z
      .strictObject({ reading: shared })
      .meta({ examples: [{ reading: { value: '1' } }, { reading: { value: '2' } }] });
    const { document } = await description({
      routes: (app) => {
        app.register(
          withScope('record:write', (scoped) => {
            scoped.post('/inline', { schema: { body: inline, response: { 201: shared } } }, async () => ({
              value: '1',
            }));
            scoped.post('/shared', { schema: { body: shared } }, async () => ({}));
          }),
        );
      },
    });
    z.globalRegistry.remove(shared);
    const body = (path: string) => document.paths[path].post.requestBody.content['application/json'];
    expect(Object.values(body('/inline').examples)).toEqual([
      { value: { reading: { value: '1' } } },
      { value: { reading: { value: '2' } } },
    ]);
    const name = body('/shared').schema.$ref.split('/').at(-1);
    expect(document.components.schemas[name].examples).toEqual([{ value: '1.5' }]);
  });

  test('has a shape once where it is sent and answered alike, twice where not, and never where it is not used', async () => {
    const same = z.strictObject({ text: z.string() }).meta({ id: 'TestSame', description: 'Alike' });
    const differs = z.strictObject({ count: z.int().default(1) }).meta({ id: 'TestDiffers', description: 'Not alike' });
    const sent = z.strictObject({ same }).meta({ id: 'TestSent' });
    const unused = z.string().meta({ id: 'TestUnused' });
    const body = z.strictObject({ sent, same: same.describe('Of this field'), differs });
    const { document } = await description({
      routes: (app) => {
        app.register(
          withScope('record:write', (scoped) => {
            scoped.post('/test', { schema: { body, response: { 201: differs, 200: same } } }, async () => ({
              text: '',
            }));
          }),
        );
      },
    });
    for (const shape of [same, differs, sent, unused]) z.globalRegistry.remove(shape);
    const names = Object.keys(document.components.schemas).filter((name) => name.startsWith('Test'));
    expect(names).toEqual(['TestDiffers', 'TestDiffersInput', 'TestSame', 'TestSent']);
    const { requestBody, responses } = document.paths['/test'].post;
    const ref = (name: string) => ({ $ref: `#/components/schemas/${name}` });
    expect(requestBody.content['application/json'].schema.properties).toEqual({
      sent: ref('TestSent'),
      same: { description: 'Of this field', allOf: [ref('TestSame')] },
      differs: ref('TestDiffersInput'),
    });
    expect(document.components.schemas.TestSent.properties).toEqual({ same: ref('TestSame') });
    expect(responses['201']).toEqual({
      description: 'Not alike',
      content: { 'application/json': { schema: ref('TestDiffers') } },
    });
  });

  test('refers to nothing that is not in it', async () => {
    const { document } = await description();
    const refs = [...JSON.stringify(document).matchAll(/"\$ref":"([^"]+)"/g)].map((match) => match[1] ?? '');
    expect(refs.length).toBeGreaterThan(0);
    for (const ref of new Set(refs)) {
      const found = ref
        .slice(2)
        .split('/')
        .reduce((node, step) => node?.[step], document);
      expect([ref, typeof found]).toEqual([ref, 'object']);
    }
  });
});

describe('a name in answers', () => {
  type Schema = { readonly format?: string; readonly $ref?: string; readonly anyOf?: readonly Schema[] };
  /** What may be null is of the same meaning. */
  const formatOf = ({ format, anyOf = [] }: Schema): string | undefined => format ?? anyOf.map(formatOf)[0];
  const named = (node: unknown, name: string): Schema[] => {
    if (typeof node !== 'object' || node === null) return [];
    const own = (node as { properties?: Record<string, Schema> }).properties?.[name];
    return [...(own === undefined ? [] : [own]), ...Object.values(node).flatMap((one) => named(one, name))];
  };

  test.each([
    ['since', 'date-time'],
    ['record', 'uuid'],
  ])('"%s" is of one meaning everywhere: %s', (name, format) => {
    const formats = named(described, name).map(formatOf);
    expect(formats.length).toBeGreaterThan(0);
    expect([...new Set(formats)]).toEqual([format]);
  });
});

describe('the generated file', () => {
  const generate = (...args: string[]) => run(process.execPath, ['src/cli/generate-openapi.ts', ...args]);

  test('is what the routes say, without a database', async () => {
    await expect(generate('--check')).resolves.toMatchObject({ stderr: '' });
  });

  test('is called stale where it is not, or is missing', async () => {
    const directory = await mkdtemp(join(tmpdir(), 'openapi-'));
    const file = join(directory, 'openapi.json');
    await expect(generate('--check', file)).rejects.toMatchObject({
      code: 1,
      stderr: expect.stringContaining('is stale'),
    });
    await generate(file);
    await expect(generate('--check', file)).resolves.toMatchObject({ stderr: '' });
    await writeFile(file, (await readFile(file, 'utf8')).replace('/livez', '/alive'));
    await expect(generate('--check', file)).rejects.toMatchObject({ code: 1 });
    await rm(directory, { recursive: true });
  });
});

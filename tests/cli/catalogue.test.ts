import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { changed, editionInput } from '../support/editions/editions.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
let directory = '';

beforeAll(async () => {
  directory = await mkdtemp(join(tmpdir(), 'asfitted-catalogue-'));
});
afterAll(async () => {
  await rm(directory, { recursive: true });
});

describe('catalogue check', () => {
  it('sums up an edition that is right, and exits 0', async () => {
    const { code, out } = await catalogue('check', 'src/cli/demo/ardenholm-2026-1.json');
    expect(out).toContain('Edition 2026-1 of ardenholm, in effect from 2026-01-01');
    expect(out).toContain(
      '  size 83: 83 cm3, set up to 265 bar, peak 320 bar; stations displacement-stop, flank-cover',
    );
    expect(out).toContain('body curlew-wedge, for one rotation each: 11 stations, 13 joints');
    expect(out).toContain('  function torque-limit: sets pressure-limit, differential, pump/torque-limit');
    expect(out).toContain('  kit-bleed: orifice-0.6, plug-m5, seal-22-fkm');
    expect(out).toContain('texts in en, de\n');
    expect(out.endsWith('no problems, no warnings\n')).toBe(true);
    expect(code).toBe(0);
  });

  it('sums up an edition without kits, texts or settings', async () => {
    const bare = { '/kits': undefined, '/texts': undefined, '/functions/1/settings': undefined };
    const { code, out } = await catalogue('check', await written(changed(editionInput('small'), bare)));
    expect(out).toContain('\nno kits\n');
    expect(out).toContain('texts in no language\n');
    expect(out).toContain('  function sense\n');
    expect(code).toBe(0);
  });

  it('names each problem by its place, and exits 1', async () => {
    const wrong = { '/bodies/0/joints/0/station': 'kap', '/functions/0/patterns/0/stations/pump~1linkage': ['shim'] };
    const { code, out } = await catalogue('check', await written(changed(editionInput('small'), wrong)));
    expect(out.split('\n').slice(0, 2)).toEqual([
      '/bodies/0/joints/0/station: there is no station kap on body block',
      '/functions/0/patterns/0/stations/pump~1linkage/0: pump/linkage does not accept shim',
    ]);
    expect(out).toContain('2 problems\n');
    expect(code).toBe(1);
  });

  it('names one problem, of the file as a whole', async () => {
    const { code, out } = await catalogue('check', await written([]));
    expect(out).toContain('(the whole file): ');
    expect(out).toContain('1 problem\n');
    expect(code).toBe(1);
  });

  it('names a field that is given twice', async () => {
    const file = join(directory, 'twice.json');
    await writeFile(file, '{"maker": "ardenholm", "maker": "ardenholm"}');
    const { code, out } = await catalogue('check', file);
    expect(out).toContain('/maker: the name "maker" is given twice');
    expect(code).toBe(1);
  });

  it('warns, and still exits 0', async () => {
    const spare = { '/elements/-': { id: 'spare', kind: 'plug' } };
    const { code, out } = await catalogue('check', await written(changed(editionInput('small'), spare)));
    expect(out).toContain('warning /elements/8: no function, joint or kit uses spare\n');
    expect(out).toContain('no problems, 1 warning\n');
    expect(code).toBe(0);
  });

  it('says which file it can not read, and exits 1', async () => {
    const { code, err } = await catalogue('check', 'not-there.json');
    expect(err).toContain("not-there.json can't be read");
    expect(code).toBe(1);
  });

  it.each([
    ['Say what to do.', []],
    ['There is no command chekc.', ['chekc', 'x.json']],
    ['There is no command constructor.', ['constructor']],
    ['Name one file.', ['check']],
    ['Name one file.', ['check', 'a.json', 'b.json']],
  ])('answers a wrong call with "%s" and its usage, and exits 2', async (message, args) => {
    const { code, err } = await catalogue(...args);
    expect(err).toBe(
      `${message}\nusage: npm run -s catalogue -- check FILE | publish FILE [--service URL] [--token TOKEN]\n`,
    );
    expect(code).toBe(2);
  });
});

describe('schema/edition.schema.json', () => {
  it('is what the schema of an edition says', async () => {
    expect(await run('src/cli/generate-schemas.ts', '--check')).toEqual({ code: 0, out: '', err: '' });
  });
});

async function written(document: unknown): Promise<string> {
  const file = join(directory, 'edition.json');
  await writeFile(file, JSON.stringify(document));
  return file;
}

function catalogue(...args: readonly string[]) {
  return run('src/cli/catalogue.ts', ...args);
}

function run(...args: readonly string[]): Promise<{ code: number; out: string; err: string }> {
  return new Promise((resolve) => {
    execFile(process.execPath, args, { cwd: root }, (error, out, err) => {
      resolve({ code: typeof error?.code === 'number' ? error.code : error === null ? 0 : -1, out, err });
    });
  });
}

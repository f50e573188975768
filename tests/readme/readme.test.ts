import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const readme = readFileSync(resolve(root, 'README.md'), 'utf8');
const developers = readFileSync(resolve(root, 'DEVELOPERS.md'), 'utf8');
const { scripts } = JSON.parse(readFileSync(resolve(root, 'package.json'), 'utf8')) as {
  scripts: Record<string, string>;
};
const run = promisify(execFile);

describe('README', () => {
  it('shows a worked example that answers what it says', async () => {
    const { stdout } = await run('bash', ['-euo', 'pipefail', '-c', block('sh example')], {
      cwd: root,
      env: bareEnvironment(),
    });
    expect(stdout).toContain(block('text output'));
  });

  it('has the rules and the codes that the code has', async () => {
    const { stderr } = await run('node', ['src/cli/generate-readme.ts', '--check'], { cwd: root });
    expect(stderr).toBe('');
  });
});

describe('README and DEVELOPERS.md', () => {
  it.each(named(readme + developers))('name npm run %s, which exists', (script) => {
    expect(Object.keys(scripts)).toContain(script);
  });
});

function block(kind: string): string {
  const found = new RegExp(`^\`\`\`${kind}\n([\\s\\S]*?)^\`\`\``, 'm').exec(readme)?.[1];
  if (found === undefined) throw new Error(`README.md has no block of ${kind}`);
  return found;
}

function named(text: string): string[] {
  const found = [...text.matchAll(/npm (?:run (?:-s )?([a-z:-]+)|(start|test))/g)].map(
    (match) => match[1] ?? match[2] ?? '',
  );
  return [...new Set(found)].sort();
}

/** Nothing of the test run's own database may lead the example there. */
function bareEnvironment(): NodeJS.ProcessEnv {
  return { PATH: process.env['PATH'], HOME: process.env['HOME'] };
}

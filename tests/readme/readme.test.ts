import { execFile } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { removeDataDir } from '../../src/store/embedded/remove-data-dir.ts';

const root = resolve(import.meta.dirname, '../..');
const readme = readFileSync(resolve(root, 'README.md'), 'utf8');
const developers = readFileSync(resolve(root, 'DEVELOPERS.md'), 'utf8');
const { scripts } = JSON.parse(readFileSync(resolve(root, 'package.json'), 'utf8')) as {
  scripts: Record<string, string>;
};
const run = promisify(execFile);

describe('README', () => {
  it('shows worked examples that answer what they say', async () => {
    const temporary = mkdtempSync(join(tmpdir(), 'asfitted-readme-'));
    const { stdout } = await run(
      'bash',
      ['-euo', 'pipefail', '-c', block('sh example') + block('sh history') + block('sh report') + block('sh verify')],
      {
        cwd: root,
        env: { PATH: process.env['PATH'], HOME: process.env['HOME'], TMPDIR: temporary },
      },
    );
    expect(stdout.replaceAll('\r\n', '\n')).toContain(
      block('text output') + block('text history') + block('text report') + block('text verify'),
    );
    for (const made of readdirSync(temporary)) await removeDataDir(join(temporary, made));
  }, 240_000);

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

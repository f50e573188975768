/**
 * `npm run -s catalogue -- check FILE`: checks an edition without a service.
 * `npm run -s catalogue -- publish FILE [--service URL] [--token TOKEN]`: publishes it; without a token the local key
 * of DATA_DIR signs one. Exits 1 on problems, 2 on a wrong call.
 */
import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { issueToken } from '../app/issue-token.ts';
import { loadConfig } from '../config.ts';
import { type CheckedEdition, checkEdition } from '../core/catalogue/check-edition.ts';
import type { Problem } from '../core/catalogue/problem.ts';
import { parseStrict } from '../core/json/parse-strict.ts';
import { describeEdition } from './describe-edition.ts';

const usage = 'usage: npm run -s catalogue -- check FILE | publish FILE [--service URL] [--token TOKEN]';

class UsageError extends Error {}

type Command = (args: readonly string[]) => Promise<void>;
const commands: Readonly<Record<string, Command>> = { check, publish };

try {
  const [name = '', ...args] = process.argv.slice(2);
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (command === undefined) throw new UsageError(name === '' ? 'Say what to do.' : `There is no command ${name}.`);
  await command(args);
} catch (error) {
  const message = error instanceof Error ? error.message : String(error);
  console.error(error instanceof UsageError ? `${message}\n${usage}` : message);
  process.exitCode = error instanceof UsageError ? 2 : 1;
}

async function check(args: readonly string[]): Promise<void> {
  const [file] = args;
  if (file === undefined || args.length > 1) throw new UsageError('Name one file.');
  const checked = await checkFile(file);
  if ('problems' in checked) {
    for (const problem of checked.problems) console.log(line(problem));
    console.log(`${file}: ${counted(checked.problems.length, 'problem')}`);
    process.exitCode = 1;
    return;
  }
  for (const warning of checked.warnings) console.log(`warning ${line(warning)}`);
  console.log(describeEdition(checked.edition).join('\n'));
  console.log(`${file}: no problems, ${counted(checked.warnings.length, 'warning')}`);
}

async function publish(args: readonly string[]): Promise<void> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { service: { type: 'string' }, token: { type: 'string' } },
  });
  const [file] = positionals;
  if (file === undefined || positionals.length > 1) throw new UsageError('Name one file.');
  const checked = await checkFile(file);
  if ('problems' in checked) {
    for (const problem of checked.problems) console.log(line(problem));
    throw new Error(`${file}: ${counted(checked.problems.length, 'problem')}; nothing is published`);
  }
  const { maker, edition } = checked.edition;
  const { host, port, dataDir } = loadConfig();
  const answer = await fetch(
    `${values.service ?? `http://${host}:${port}`}/v1/catalogue/${maker}/editions/${edition}`,
    {
      method: 'PUT',
      headers: {
        authorization: `Bearer ${values.token ?? (await localToken(dataDir, maker))}`,
        'content-type': 'application/json',
      },
      body: await readFile(file, 'utf8'),
    },
  );
  const said = (await answer.json()) as { digest?: string; detail?: string; errors?: Problem[] };
  for (const problem of said.errors ?? []) console.log(line(problem));
  if (!answer.ok) throw new Error(`${answer.status}: ${said.detail}`);
  console.log(`${maker} ${edition} ${answer.status === 201 ? 'is published' : 'was published before'}: ${said.digest}`);
}

async function localToken(dataDir: string, maker: string): Promise<string> {
  const token = {
    distributor: null,
    maker,
    scopes: ['catalogue:publish'],
    subject: 'catalogue',
    client: 'catalogue',
    minutes: 5,
  } as const;
  return await issueToken(dataDir, token, new Date());
}

async function checkFile(file: string): Promise<CheckedEdition> {
  const text = await readFile(file, 'utf8').catch((error: unknown) => {
    throw new Error(`${file} can't be read: ${error instanceof Error ? error.message : error}`);
  });
  const parsed = parseStrict(text);
  return 'problem' in parsed ? { problems: [parsed.problem] } : checkEdition(parsed.value);
}

/** The whole document has the empty pointer, which would not be seen on a line. */
function line({ pointer, detail }: Problem): string {
  return `${pointer === '' ? '(the whole file)' : pointer}: ${detail}`;
}

function counted(count: number, what: string): string {
  return count === 1 ? `1 ${what}` : `${count === 0 ? 'no' : count} ${what}s`;
}

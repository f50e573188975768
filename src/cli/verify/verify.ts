/** What `npm run -s verify` does with its arguments: what is found goes to one voice, progress and wrong calls to another. */
import { parseArgs } from 'node:util';
import type { VerifierKey } from '../../core/log/note.ts';
import { verifyCertificate } from './certificate.ts';
import { verifyChain } from './chain.ts';
import { readKept } from './kept.ts';
import { readKeys } from './keys.ts';
import { type Progress, verifyLog } from './log.ts';
import { type Outcome, printable, UsageError } from './outcome.ts';
import { logInFolder } from './published-log.ts';
import { mostJson, mostText, readText } from './read-file.ts';
import { verifyReceipt } from './receipt.ts';
import { servedLog } from './served-log.ts';

const usage = `usage: npm run -s verify -- certificate FILE --key KEY [--checkpoint FILE [--consistency FILE]]
       npm run -s verify -- receipt FILE --key KEY [--record FILE]
           [--inclusion FILE [--checkpoint FILE [--consistency FILE]]]
       npm run -s verify -- chain FILE --key KEY [--checkpoint FILE [--consistency FILE]]
       npm run -s verify -- log URL|FOLDER --key KEY [--since CHECKPOINT-FILE] [--timeout SECONDS]
KEY is a vkey (C2SP signed-note), or a file with one a line; give --key as often as there are keys.
The URL or FOLDER of a log is what "checkpoint" and "tile/" are in. Files of JSON may have ${mostJson / 2 ** 20} MiB,
others ${mostText / 2 ** 10} KiB. A file that a server does not give whole within the timeout (30 s) ends it.
exits 0: proven; 1: not proven, with a sentence for each thing that is wrong; 2: called wrongly, or not readable`;

type Values = Readonly<Partial<Record<Option, string>>>;
type Option = 'checkpoint' | 'consistency' | 'record' | 'inclusion' | 'since' | 'timeout';
type Command = {
  readonly options: readonly Option[];
  readonly run: (given: string, keys: readonly VerifierKey[], values: Values, err: Voice['err']) => Promise<Outcome>;
};

const commands = new Map<string, Command>([
  [
    'certificate',
    {
      options: ['checkpoint', 'consistency'],
      run: async (file, keys, values) => await verifyCertificate(file, keys, await keptOf(values)),
    },
  ],
  [
    'receipt',
    {
      options: ['record', 'inclusion', 'checkpoint', 'consistency'],
      run: async (file, keys, values) => {
        const { record, inclusion, checkpoint } = values;
        if (checkpoint !== undefined && inclusion === undefined)
          throw new UsageError('--checkpoint needs --inclusion FILE.');
        return await verifyReceipt(file, keys, { record, inclusion }, await keptOf(values));
      },
    },
  ],
  [
    'chain',
    {
      options: ['checkpoint', 'consistency'],
      run: async (file, keys, values) => await verifyChain(file, keys, await keptOf(values)),
    },
  ],
  [
    'log',
    {
      options: ['since', 'timeout'],
      run: async (place, keys, { since, timeout = '30' }, err) => {
        if (!/^[1-9]\d{0,3}$/.test(timeout))
          throw new UsageError('--timeout is a whole number of seconds, up to 9999.');
        const isUrl = /^[a-z][a-z0-9+.-]*:\/\//i.test(place);
        const log = isUrl ? servedLog(place, Number(timeout) * 1000) : logInFolder(place);
        const older = since === undefined ? null : { path: since, note: await readText(since, mostText) };
        return await verifyLog(log, keys, older, showProgress(err));
      },
    },
  ],
]);

export type Voice = { readonly out: (line: string) => void; readonly err: (text: string) => void };

/** @returns the exit code */
export async function verify(args: readonly string[], { out, err }: Voice): Promise<0 | 1 | 2> {
  try {
    const { proven, faults, notShown } = await runCommand(args, err);
    if (faults.length > 0) {
      for (const fault of faults) out(printable(fault));
      out('Not proven.');
      return 1;
    }
    out(printable(`Proven: ${proven}.`));
    for (const one of notShown) out(printable(`Not shown: ${one}.`));
    return 0;
  } catch (error) {
    const message = printable(error instanceof Error ? error.message : String(error));
    err(`${error instanceof UsageError ? `${message}\n${usage}` : message}\n`);
    return 2;
  }
}

async function runCommand([name, ...args]: readonly string[], err: Voice['err']): Promise<Outcome> {
  if (name === undefined) throw new UsageError('Say what to verify.');
  const command = commands.get(name);
  if (command === undefined) throw new UsageError(`There is no command ${name}.`);
  const { key, given, values } = parse(command.options, args);
  if (key.length === 0) throw new UsageError('Name the key: --key KEY.');
  return await command.run(given, await readKeys(key), values, err);
}

function parse(options: readonly Option[], args: readonly string[]) {
  const texts = Object.fromEntries(options.map((option) => [option, { type: 'string' as const }]));
  const { values, positionals } = parsed(() =>
    parseArgs({
      args: [...args],
      options: { ...texts, key: { type: 'string', multiple: true } },
      allowPositionals: true,
      strict: true,
    }),
  );
  const { key = [], ...others } = values as Values & { key?: string[] };
  const [given, ...more] = positionals;
  if (given === undefined || more.length > 0) throw new UsageError('Name one thing to verify.');
  return { key, given, values: others as Values };
}

function parsed<T>(parse: () => T): T {
  try {
    return parse();
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}

async function keptOf({ checkpoint, consistency }: Values) {
  if (consistency !== undefined && checkpoint === undefined)
    throw new UsageError('--consistency needs --checkpoint FILE.');
  return await readKept(checkpoint, consistency);
}

/** A line at every tenth; on a terminal one that is written over. */
function showProgress(err: Voice['err']): Progress {
  let shown = 0;
  return (leaves, all) => {
    const percent = Math.floor((leaves / all) * 100);
    const isTerminal = process.stderr.isTTY;
    if (percent < shown + (isTerminal ? 1 : 10) && leaves < all) return;
    shown = percent;
    const line = `${leaves} of ${all} leaves (${percent} %)`;
    err(isTerminal ? `\r${line}${leaves === all ? '\n' : ''}` : `${line}\n`);
  };
}

/**
 * `npm run -s verify -- certificate|receipt|chain|log …` checks what the service gave out without trusting it: with public
 * keys alone, and for files without a network. Exits 0 where it is proven, 1 where it isn't, 2 where it can't be told.
 */
import { parseArgs } from 'node:util';
import type { VerifierKey } from '../core/log/note.ts';
import { verifyCertificate } from './verify/certificate.ts';
import { verifyChain } from './verify/chain.ts';
import { readKept } from './verify/kept.ts';
import { readKeys } from './verify/keys.ts';
import { type Progress, verifyLog } from './verify/log.ts';
import { type Outcome, printable, UsageError } from './verify/outcome.ts';
import { logInFolder } from './verify/published-log.ts';
import { mostJson, mostText, readText } from './verify/read-file.ts';
import { verifyReceipt } from './verify/receipt.ts';
import { servedLog } from './verify/served-log.ts';

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
  readonly run: (given: string, keys: readonly VerifierKey[], values: Values) => Promise<Outcome>;
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
      run: async (place, keys, { since, timeout = '30' }) => {
        if (!/^[1-9]\d{0,3}$/.test(timeout))
          throw new UsageError('--timeout is a whole number of seconds, up to 9999.');
        const isUrl = /^[a-z][a-z0-9+.-]*:\/\//i.test(place);
        const log = isUrl ? servedLog(place, Number(timeout) * 1000) : logInFolder(place);
        const older = since === undefined ? null : { path: since, note: await readText(since, mostText) };
        return await verifyLog(log, keys, older, showProgress());
      },
    },
  ],
]);

try {
  const { proven, faults, notShown } = await runCommand(process.argv.slice(2));
  if (faults.length > 0) {
    for (const fault of faults) console.log(printable(fault));
    console.log('Not proven.');
    process.exitCode = 1;
  } else {
    console.log(printable(`Proven: ${proven}.`));
    for (const one of notShown) console.log(printable(`Not shown: ${one}.`));
  }
} catch (error) {
  const message = printable(error instanceof Error ? error.message : String(error));
  console.error(error instanceof UsageError ? `${message}\n${usage}` : message);
  process.exitCode = 2;
}

async function runCommand([name, ...args]: readonly string[]): Promise<Outcome> {
  if (name === undefined) throw new UsageError('Say what to verify.');
  const command = commands.get(name);
  if (command === undefined) throw new UsageError(`There is no command ${name}.`);
  const { key, given, values } = parse(command.options, args);
  if (key.length === 0) throw new UsageError('Name the key: --key KEY.');
  return await command.run(given, await readKeys(key), values);
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
function showProgress(): Progress {
  let shown = 0;
  return (leaves, all) => {
    const percent = Math.floor((leaves / all) * 100);
    const isTerminal = process.stderr.isTTY;
    if (percent < shown + (isTerminal ? 1 : 10) && leaves < all) return;
    shown = percent;
    const line = `${leaves} of ${all} leaves (${percent} %)`;
    process.stderr.write(isTerminal ? `\r${line}${leaves === all ? '\n' : ''}` : `${line}\n`);
  };
}

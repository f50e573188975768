/**
 * `npm run -s import -- --mapping FILE [--kind KIND] INPUT.csv|INPUT.xlsx [--dry-run] [--url URL] [--token-file FILE]`
 * records the rows of a table, each once however often it is run; `--dry-run` tells what stands against them and
 * records nothing. The token is in ASFITTED_TOKEN or in a file. Exits 1 where rows have problems, 2 on a wrong call.
 */
import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { loadConfig } from '../config.ts';
import { readMapping } from './import/mapping.ts';
import { readCsv } from './import/read-csv.ts';
import { runImport, type Summary } from './import/run-import.ts';
import { readXlsx } from './import/xlsx/read-xlsx.ts';

const usage = `usage: npm run -s import -- --mapping FILE [--kind KIND] INPUT.csv|INPUT.xlsx
         [--dry-run] [--url URL] [--token-file FILE, else ASFITTED_TOKEN]`;

class UsageError extends Error {}

try {
  const { mapping: mappingFile, kind, input, dryRun, url, token } = await readArguments(process.argv.slice(2));
  const mapping = await readMapping(mappingFile, kind);
  const table = /\.xlsx$/i.test(input) ? readXlsx(input, mapping.sheet ?? null) : readCsv(input, mapping.csv);
  const summary = await runImport({
    mapping,
    table,
    service: { url, token, checkOnly: dryRun },
    tell: (line) => console.log(line),
    progress: showProgress(),
  });
  for (const line of summaryOf(summary, dryRun)) console.log(line);
  if (summary.problemRows > 0) process.exitCode = 1;
} catch (error) {
  const message = error instanceof Error ? error.message : String(error);
  console.error(error instanceof UsageError ? `${message}\n${usage}` : message);
  process.exitCode = error instanceof UsageError ? 2 : 1;
}

async function readArguments(args: string[]) {
  const { values, positionals } = parse(args);
  const [input, ...more] = positionals;
  if (values.mapping === undefined) throw new UsageError('Name the mapping: --mapping FILE');
  if (input === undefined || more.length > 0) throw new UsageError('Name one table.');
  if (!/\.(csv|xlsx)$/i.test(input))
    throw new UsageError('The table is a .csv or a .xlsx file; save others as one of these.');
  const config = loadConfig();
  const file = values['token-file'];
  const token = file === undefined ? config.callerToken : (await readFile(file, 'utf8')).trim();
  if (token === null || token === '') throw new UsageError('Give a token, in ASFITTED_TOKEN or by --token-file.');
  const url = values.url ?? `http://${config.host}:${config.port}`;
  if (!/^https?:$/.test(URL.parse(url)?.protocol ?? '')) throw new UsageError('--url is an http or https URL.');
  return { mapping: values.mapping, kind: values.kind ?? null, input, dryRun: values['dry-run'], url, token };
}

function parse(args: string[]) {
  try {
    const options = {
      mapping: { type: 'string' },
      kind: { type: 'string' },
      'dry-run': { type: 'boolean', default: false },
      url: { type: 'string' },
      'token-file': { type: 'string' },
    } as const;
    return parseArgs({ args, options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}

/** On a terminal a line that is written over; elsewhere a line every ten parcels or so. */
function showProgress(): (done: number, all: number) => void {
  let shown = -1;
  return (done, all) => {
    const percent = all === 0 ? 100 : Math.floor((done / all) * 100);
    if (process.stderr.isTTY)
      process.stderr.write(`\r${done} of ${all} rows (${percent} %)${done === all ? '\n' : ''}`);
    else if (Math.floor(percent / 10) > shown || done === all) console.error(`${done} of ${all} rows (${percent} %)`);
    shown = Math.floor(percent / 10);
  };
}

function summaryOf(
  { rows, recorded, before, problemRows, judged, hidden, merged }: Summary,
  dryRun: boolean,
): string[] {
  const would = dryRun ? 'would be recorded' : 'recorded';
  const { released, incomplete, held } = judged;
  return [
    `${rows} rows: ${recorded} ${would}, ${before} recorded before, ${problemRows} with problems`,
    ...(released + incomplete + held > 0
      ? [`judged: ${released} released, ${incomplete} incomplete, ${held} held`]
      : []),
    ...(hidden > 0 ? [`${hidden} of the rows are hidden in the spreadsheet; they count like the others`] : []),
    ...(merged.length > 0
      ? [`merged cells hold their value in the first cell alone: ${merged.slice(0, 10).join(', ')}`]
      : []),
  ];
}

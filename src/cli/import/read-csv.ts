/** A CSV file (RFC 4180, but for the delimiter and the line ends, which differ by country and program), streamed. */
import { createReadStream } from 'node:fs';
import { PassThrough, Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { CsvError, parse } from 'csv-parse';
import { type Cell, type Row, requireWithin, type Table, tableLimits, UnreadableError } from './table.ts';

export const encodings = [
  'utf-8',
  'utf-16le',
  'windows-1252',
  'windows-1250',
  'iso-8859-2',
  'shift_jis',
  'gb18030',
] as const;
export type CsvOptions = { readonly delimiter: string; readonly encoding: (typeof encodings)[number] };

export function readCsv(file: string, options: CsvOptions): Table {
  return { rows: () => rowsOf(file, options), merged: () => [] };
}

async function* rowsOf(file: string, { delimiter, encoding }: CsvOptions): AsyncGenerator<Row, void, undefined> {
  const parser = parse({
    delimiter,
    bom: true,
    relax_column_count: true,
    skip_empty_lines: false,
    max_record_size: tableLimits.cell * 20,
  });
  const out = new PassThrough({ objectMode: true, readableHighWaterMark: 64 });
  let number = 0;
  const read = pipeline(createReadStream(file), decoding(encoding), parser, out);
  // Heard of below, by whoever reads the rows.
  read.catch(() => {});
  try {
    for await (const record of out as AsyncIterable<string[]>) {
      number += 1;
      yield { number, cells: cellsOf(record, number), hidden: false };
    }
    await read;
  } catch (error) {
    throw readable(error, number);
  } finally {
    out.destroy();
  }
}

function cellsOf(record: readonly string[], number: number): Map<number, Cell> {
  const cells = new Map<number, Cell>();
  for (const [column, text] of record.entries()) {
    requireWithin(number, text.trim() === '' ? 0 : column, text.length);
    if (text.trim() !== '') cells.set(column, { text: text.trim(), kind: 'text' });
  }
  return cells;
}

/** Strict: what is not of this encoding would come out as something else, and stay so. */
function decoding(encoding: string): Transform {
  const decoder = new TextDecoder(encoding, { fatal: true });
  const decoded = (done: (error: Error | null, text?: string) => void, decode: () => string) => {
    let text: string;
    try {
      text = decode();
    } catch {
      done(new UnreadableError(`The file is not in ${encoding}: say its encoding in the mapping, as csv.encoding.`));
      return;
    }
    done(null, text);
  };
  return new Transform({
    transform: (chunk: Buffer, _, done) => decoded(done, () => decoder.decode(chunk, { stream: true })),
    flush: (done) => decoded(done, () => decoder.decode()),
  });
}

function readable(error: unknown, rowsRead: number): Error {
  if (error instanceof CsvError)
    return new UnreadableError(`The file cannot be read beyond row ${rowsRead}: ${error.message}`);
  if (error instanceof UnreadableError) return error;
  return error instanceof Error && 'code' in error && error.code === 'ENOENT'
    ? new UnreadableError('There is no such file.')
    : new UnreadableError(`The file cannot be read: ${error instanceof Error ? error.message : error}`);
}

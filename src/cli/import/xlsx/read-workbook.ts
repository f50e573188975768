/** What a sheet needs of its workbook: where it is, the texts that cells share, and which formats show a day. */
import { posix } from 'node:path';
import { UnreadableError } from '../table.ts';
import type { Archive } from './open-archive.ts';
import { showsDay } from './serial-date.ts';
import { readXml } from './xml-events.ts';

export type Workbook = {
  /** The part that holds the rows. */
  readonly part: string;
  readonly texts: readonly string[];
  /** By the style of a cell. */
  readonly showsDay: readonly boolean[];
  readonly since1904: boolean;
};

/** Characters: all cells that share texts hold them at once. */
const mostSharedText = 64 * 1024 * 1024;

/** @param wanted the name of the sheet; null: the first */
export async function readWorkbook(archive: Archive, wanted: string | null): Promise<Workbook> {
  const sheets: { name: string; id: string }[] = [];
  let since1904 = false;
  await readPart(archive, 'xl/workbook.xml', (name, attributes) => {
    if (name === 'workbookPr') since1904 = /^(1|true)$/.test(attributes['date1904'] ?? '');
    if (name === 'sheet') sheets.push({ name: attributes['name'] ?? '', id: attributes['id'] ?? '' });
  });
  const sheet = wanted === null ? sheets[0] : sheets.find((one) => one.name.trim() === wanted.trim());
  if (sheet === undefined) {
    throw new UnreadableError(
      sheets.length === 0
        ? 'The file has no sheets: is it an XLSX file?'
        : `There is no sheet ${wanted}: the file has ${sheets.map((one) => one.name).join(', ')}.`,
    );
  }
  const part = (await targets(archive)).get(sheet.id);
  if (part === undefined) throw new UnreadableError(`The file holds no rows for the sheet ${sheet.name}.`);
  return { part, since1904, texts: await sharedTexts(archive), showsDay: await dayStyles(archive) };
}

async function targets(archive: Archive): Promise<Map<string, string>> {
  const found = new Map<string, string>();
  await readPart(archive, 'xl/_rels/workbook.xml.rels', (name, { Id: id, Target: target }) => {
    if (name !== 'Relationship' || id === undefined || target === undefined) return;
    found.set(id, target.startsWith('/') ? target.slice(1) : posix.join('xl', target));
  });
  return found;
}

/** Runs of a formatted text belong together; how it is pronounced does not (§18.4.6). */
async function sharedTexts(archive: Archive): Promise<string[]> {
  const stream = await archive.open('xl/sharedStrings.xml');
  if (stream === null) return [];
  const texts: string[] = [];
  let [current, inText, inSound, length] = ['', false, false, 0];
  await readXml(stream, {
    open: (name) => {
      if (name === 'si') current = '';
      if (name === 't') inText = true;
      if (name === 'rPh') inSound = true;
    },
    close: (name) => {
      if (name === 'si') texts.push(current);
      if (name === 't') inText = false;
      if (name === 'rPh') inSound = false;
    },
    text: (text) => {
      if (!inText || inSound) return;
      length += text.length;
      if (length > mostSharedText)
        throw new UnreadableError(
          'The spreadsheet is refused: it holds more than 64 MB of text. Save the sheet as CSV.',
        );
      current += text;
    },
  });
  return texts;
}

async function dayStyles(archive: Archive): Promise<boolean[]> {
  const codes = new Map<number, string>();
  const styles: boolean[] = [];
  let inCells = false;
  await readPart(
    archive,
    'xl/styles.xml',
    (name, attributes) => {
      const id = Number(attributes['numFmtId'] ?? 0);
      if (name === 'numFmt') codes.set(id, attributes['formatCode'] ?? '');
      if (name === 'cellXfs') inCells = true;
      if (name === 'xf' && inCells) styles.push(showsDay(id, codes.get(id)));
    },
    (name) => {
      if (name === 'cellXfs') inCells = false;
    },
  );
  return styles;
}

async function readPart(
  archive: Archive,
  part: string,
  open: (name: string, attributes: Readonly<Record<string, string>>) => void,
  close: (name: string) => void = () => {},
): Promise<void> {
  const stream = await archive.open(part);
  if (stream !== null) await readXml(stream, { open, close, text: () => {} });
}

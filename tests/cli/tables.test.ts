/** Reading tables and dates: what is sound comes out as it stands there, what is not is refused with its reason. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { crc32, deflateRawSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import writeXlsxFile from 'write-excel-file/node';
import { headersOf } from '../../src/cli/import/find-columns.ts';
import { mappingOf } from '../../src/cli/import/mapping.ts';
import { readCell } from '../../src/cli/import/read-cell.ts';
import { type CsvOptions, readCsv } from '../../src/cli/import/read-csv.ts';
import { isDateFormat, readDate } from '../../src/cli/import/read-date.ts';
import { columnIndex, columnLetters, type Row, type Table, tableLimits } from '../../src/cli/import/table.ts';
import { readXlsx } from '../../src/cli/import/xlsx/read-xlsx.ts';
import { dateOfSerial, showsDay } from '../../src/cli/import/xlsx/serial-date.ts';

const folder = await mkdtemp(join(tmpdir(), 'asfitted-tables-'));
afterAll(() => rm(folder, { recursive: true }));

async function rowsIn(table: Table): Promise<Row[]> {
  const rows: Row[] = [];
  for await (const row of table.rows()) rows.push(row);
  return rows;
}
const textsOf = (rows: readonly Row[]) =>
  rows.map(({ number, cells }) => [number, ...[...cells].map(([at, cell]) => `${columnLetters(at)}=${cell.text}`)]);

const csv = async (content: string | Buffer, options: Partial<CsvOptions> = {}) => {
  const file = join(folder, 'table.csv');
  await writeFile(file, content);
  return await rowsIn(readCsv(file, { delimiter: ',', encoding: 'utf-8', ...options }));
};
/** An archive of these parts (APPNOTE 6.3), each of which may lie about its size. */
const zip = (parts: Readonly<Record<string, { text: Buffer; says?: number }>>) => {
  const bodies: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const [name, { text, says = text.length }] of Object.entries(parts)) {
    const packed = deflateRawSync(text);
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    common.writeUInt16LE(8, 4);
    common.writeUInt32LE(crc32(text), 10);
    common.writeUInt32LE(packed.length, 14);
    common.writeUInt32LE(says, 18);
    common.writeUInt16LE(name.length, 22);
    const local = Buffer.concat([Buffer.from('PK\x03\x04'), common, Buffer.from(name), packed]);
    const tail = Buffer.alloc(14);
    tail.writeUInt32LE(offset, 10);
    directory.push(Buffer.concat([Buffer.from('PK\x01\x02\x14\x00', 'latin1'), common, tail, Buffer.from(name)]));
    bodies.push(local);
    offset += local.length;
  }
  const listed = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 'latin1');
  end.writeUInt16LE(directory.length, 8);
  end.writeUInt16LE(directory.length, 10);
  end.writeUInt32LE(listed.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...bodies, listed, end]);
};
const sheet = (rows: string, more: Readonly<Record<string, string>> = {}, tail = '') => {
  const parts = {
    'xl/workbook.xml': '<workbook><sheets><sheet name="One" r:id="r1"/></sheets></workbook>',
    'xl/_rels/workbook.xml.rels': '<Relationships><Relationship Id="r1" Target="worksheets/one.xml"/></Relationships>',
    'xl/worksheets/one.xml': `<worksheet><sheetData>${rows}</sheetData>${tail}</worksheet>`,
    ...more,
  };
  return zip(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, { text: Buffer.from(text) }])));
};
const tableOf = async (content: Buffer, name: string | null = null) => {
  const file = join(folder, 'table.xlsx');
  await writeFile(file, content);
  return readXlsx(file, name);
};
const xlsx = async (content: Buffer, name: string | null = null) => await rowsIn(await tableOf(content, name));

describe('a CSV file', () => {
  it('is read by its rows as a spreadsheet counts them, blank ones and line breaks in quotes too', async () => {
    const rows = await csv('\uFEFFa;b\r\n\r\n"x;1";"two\nlines"\r\n;c\r\n', { delimiter: ';' });
    expect(textsOf(rows)).toEqual([[1, 'A=a', 'B=b'], [2], [3, 'A=x;1', 'B=two\nlines'], [4, 'B=c']]);
  });

  it('is read in its encoding or not at all', async () => {
    const old = Buffer.from([0x44, 0xfc, 0x73, 0x65, 0x0a]);
    expect(textsOf(await csv(old, { encoding: 'windows-1252' }))).toEqual([[1, 'A=Düse']]);
    await expect(csv(old)).rejects.toThrow('not in utf-8');
  });

  it('that breaks off in a quote is refused from there on', async () => {
    await expect(csv('a,b\n"open,c\n')).rejects.toThrow('cannot be read beyond row');
    await expect(rowsIn(readCsv(join(folder, 'none.csv'), { delimiter: ',', encoding: 'utf-8' }))).rejects.toThrow(
      'no such file',
    );
  });
});

describe('an XLSX file', () => {
  it('gives texts, numbers, dates and errors as they are, by the place they are at', async () => {
    const data = [
      [{ value: 'joint' }, { value: 61.5 }, { value: new Date(Date.UTC(2026, 2, 14)), format: 'dd.mm.yyyy' }],
      [null, null, null],
      [null, { value: new Date(Date.UTC(2026, 2, 14, 10, 25)), format: 'dd.mm.yyyy hh:mm' }, { value: true }],
    ];
    const rows = await xlsx(await writeXlsxFile(data).toBuffer());
    expect(textsOf(rows).filter((row) => row.length > 1)).toEqual([
      [1, 'A=joint', 'B=61.5', 'C=2026-03-14'],
      [3, 'B=2026-03-14T10:25:00', 'C=true'],
    ]);
    expect(rows[0]?.cells.get(1)?.kind).toBe('number');
    expect(rows[0]?.cells.get(2)?.kind).toBe('date');
  });

  it('may say what it says in the other ways that the standard has', async () => {
    const strings = '<sst><si><r><t>two </t></r><r><t>runs</t></r><rPh><t>sound</t></rPh></si></sst>';
    const rows = await xlsx(
      sheet(
        '<row r="2" hidden="true"><c t="s"><v>0</v></c><c t="inlineStr"><is><t>in line</t></is></c><c t="str"><f>A1</f><v>made</v></c></row>' +
          '<row><c r="C3" t="e"><v>#N/A</v></c><c><v>48.200000000000003</v></c><c><f>1/0</f></c><c t="d"><v>2026-03-14T00:00:00</v></c></row>',
        { 'xl/sharedStrings.xml': strings },
        '<mergeCells><mergeCell ref="A2:A3"/></mergeCells>',
      ),
    );
    expect(textsOf(rows)).toEqual([
      [2, 'A=two runs', 'B=in line', 'C=made'],
      [3, 'C=#N/A', 'D=48.2', 'E=a formula without a saved result', 'F=2026-03-14'],
    ]);
    expect(rows[0]?.hidden).toBe(true);
    expect(rows[1]?.cells.get(4)?.kind).toBe('error');
  });

  it('tells which cells are merged', async () => {
    const table = await tableOf(sheet('<row r="1"/>', {}, '<mergeCells><mergeCell ref="A5:A7"/></mergeCells>'));
    await rowsIn(table);
    expect(table.merged()).toEqual(['A5:A7']);
  });

  it('counts days from 1904 where it says so', async () => {
    const more = {
      'xl/workbook.xml':
        '<workbook><workbookPr date1904="1"/><sheets><sheet name="One" r:id="r1"/></sheets></workbook>',
      'xl/styles.xml': '<styleSheet><cellXfs><xf numFmtId="14"/></cellXfs></styleSheet>',
    };
    expect(textsOf(await xlsx(sheet('<row><c><v>0</v></c></row>', more)))).toEqual([[1, 'A=1904-01-01']]);
  });

  it.each([
    ['that is none', Buffer.from('a,b'), 'not a sound XLSX file'],
    [
      'with another sheet',
      sheet('', { 'xl/workbook.xml': '<workbook><sheets><sheet name="Two" r:id="r1"/></sheets></workbook>' }),
      'There is no sheet One: the file has Two',
    ],
    ['with broken XML', sheet('<row><c></row>'), 'XML is broken'],
    [
      'with entities of its own',
      sheet('', { 'xl/worksheets/one.xml': '<!DOCTYPE a [<!ENTITY b "c">]><worksheet/>' }),
      'document type',
    ],
    ['with too many rows', sheet(`<row r="${tableLimits.rows + 1}"/>`), 'more than 200000 rows'],
    ['with too many columns', sheet('<row r="1"><c r="ZZ1"><v>1</v></c></row>'), 'more than 500 columns'],
    [
      'with a cell that is too long',
      sheet(`<row><c t="str"><v>${'x'.repeat(40_000)}</v></c></row>`),
      'more than 32767 characters',
    ],
  ])('%s is refused', async (_, content, why) => {
    await expect(xlsx(content, 'One')).rejects.toThrow(why);
  });

  it('that unpacks to far more than it is, or than it says, is refused before it fills the memory', async () => {
    const parts = (one: { text: Buffer; says?: number }) => ({
      'xl/workbook.xml': { text: Buffer.from('<workbook><sheets><sheet name="One" r:id="r1"/></sheets></workbook>') },
      'xl/_rels/workbook.xml.rels': {
        text: Buffer.from('<Relationships><Relationship Id="r1" Target="one.xml"/></Relationships>'),
      },
      'xl/one.xml': one,
    });
    const spaces = Buffer.alloc(40 * 1024 * 1024, ' ');
    await expect(xlsx(zip(parts({ text: spaces })))).rejects.toThrow(/unpacks to more than \d+ MB/);
    await expect(xlsx(zip(parts({ text: spaces, says: 100 })))).rejects.toThrow('not a sound XLSX file');
    await expect(xlsx(zip(parts({ text: spaces, says: 600 * 1024 * 1024 })))).rejects.toThrow('more than 512 MB');
  });
});

describe('a day as a number', () => {
  // ECMA-376-1 §18.17.4.1 and §18.17.4.3: serial 1 is 1900-01-01, 60 the day that never was, 61 1900-03-01; 1462 days lie between the systems.
  it.each([
    [1, false, '1900-01-01'],
    [59, false, '1900-02-28'],
    [60, false, null],
    [61, false, '1900-03-01'],
    [43_831, false, '2020-01-01'],
    [43_831 - 1462, true, '2020-01-01'],
    [43_831.5, false, '2020-01-01T12:00:00'],
    [0.25, false, null],
    [1e9, false, null],
  ])('%d (1904: %s) is %s', (serial, since1904, day) => {
    expect(dateOfSerial(serial, since1904)).toBe(day);
  });

  it.each([
    [14, undefined, true],
    [2, undefined, false],
    [164, 'dd\\.mm\\.yyyy', true],
    [165, '[Red]0.00 "days"', false],
    [166, '#,##0', false],
  ])('is shown as a day by format %d %s: %s', (id, code, is) => {
    expect(showsDay(id, code)).toBe(is);
  });
});

describe('a date', () => {
  it.each([
    ['14.03.2026', 'dd.MM.yyyy', 'Europe/Berlin', { at: '2026-03-14T00:00:00+01:00', precision: 'day' }],
    ['1.7.2026 9:05', 'd.M.yyyy H:mm', 'Europe/Berlin', { at: '2026-07-01T09:05:00+02:00', precision: 'minute' }],
    ['2026-07-01T09:05:30', 'yyyy-MM-ddTHH:mm:ss', 'America/St_Johns', '2026-07-01T09:05:30-02:30'],
    ['07/2019', 'MM/yyyy', '+05:30', { at: '2019-07-01T00:00:00+05:30', precision: 'month' }],
    ['29.03.2026 03:30', 'dd.MM.yyyy HH:mm', 'Europe/Berlin', { at: '2026-03-29T03:30:00+02:00', precision: 'minute' }],
    ['25.10.2026 01:30', 'dd.MM.yyyy HH:mm', 'Europe/Berlin', { at: '2026-10-25T01:30:00+02:00', precision: 'minute' }],
    ['25.10.2026 03:30', 'dd.MM.yyyy HH:mm', 'Europe/Berlin', { at: '2026-10-25T03:30:00+01:00', precision: 'minute' }],
  ])('%s by %s in %s is as it was there', (text, format, zone, value) => {
    expect(readDate(text, [format], zone)).toEqual({ value });
  });

  it.each(['30.02.2026', '14.13.2026', '14.03.26', '14-03-2026', ''])('%s is none', (text) => {
    expect(readDate(text, ['dd.MM.yyyy'], '+00:00')).toHaveProperty('problem');
  });

  it('has a format with all that it needs', () => {
    expect(['dd.MM.yyyy', 'MM/yyyy', 'yyyy-MM-ddTHH:mm'].map(isDateFormat)).toEqual([true, true, true]);
    expect(
      ['dd.MM', 'dd.MM.yy', 'yyyy', 'dd.MM.yyyy HH', 'MM.yyyy HH:mm', 'dd.dd.MM.yyyy', 'the dd of MM yyyy'].map(
        isDateFormat,
      ),
    ).toEqual(Array(7).fill(false));
  });
});

describe('a cell', () => {
  const rules = { decimal: ',', zone: undefined, lookups: { parts: { 'Orifice 0,6': 'orifice-0.6' } } } as const;
  const text = (written: string) => ({ text: written, kind: 'text' }) as const;
  it.each([
    ['61,50', { quantity: { unit: 'N.m' } }, { value: { value: '61.50', unit: 'N.m' } }],
    ['61,5 NM', { quantity: { units: { Nm: 'N.m' } } }, { value: { value: '61.5', unit: 'N.m' } }],
    ['-40', { quantity: { unit: 'degC' } }, { value: { value: '-40', unit: 'degC' } }],
    ['61.5', { quantity: { decimal: '.', unit: 'N.m' } }, { value: { value: '61.5', unit: 'N.m' } }],
    ['3', { number: ',' }, { value: 3 }],
    [' orifice  0,6', { lookup: 'parts' }, { value: 'orifice-0.6' }],
    ['as it is', {}, { value: 'as it is' }],
    ['61.5', { quantity: { unit: 'N.m' } }, { problem: expect.stringContaining('decimal comma') }],
    ['1.061,5', { quantity: { unit: 'N.m' } }, { problem: expect.stringContaining('decimal comma') }],
    ['61,5', { quantity: {} }, { problem: expect.stringContaining('no unit') }],
    ['61,5 kp', { quantity: { unit: 'N.m' } }, { problem: expect.stringContaining('"kp"') }],
    ['about', { number: ',' }, { problem: expect.stringContaining('not a number') }],
  ] as const)('%s by %j', (written, source, read) => {
    expect(readCell(text(written), { column: 'c', ...source } as never, rules)).toEqual(read);
  });

  it('that is empty says nothing, or what the mapping has for it', () => {
    expect(readCell(undefined, { column: 'c' }, rules)).toBeNull();
    expect(readCell(undefined, { column: 'c', empty: { unknown: 'not on the card' } }, rules)).toEqual({
      value: { unknown: 'not on the card' },
    });
  });

  it('that is a number has a point whatever the mapping says, and is no date', () => {
    const number = { text: '61.5', kind: 'number' } as const;
    expect(readCell(number, { column: 'c', quantity: { unit: 'N.m' } }, rules)).toEqual({
      value: { value: '61.5', unit: 'N.m' },
    });
    expect(readCell(number, { column: 'c', date: 'dd.MM.yyyy', zone: '+00:00' }, rules)).toHaveProperty('problem');
  });
});

describe('headers', () => {
  const row = (number: number, ...texts: string[]): Row => ({
    ...{ number, hidden: false },
    cells: new Map(texts.flatMap((text, at) => (text === '' ? [] : [[at, { text, kind: 'text' }] as const]))),
  });

  it('of several rows are joined, those of groups reaching to the right', () => {
    const headers = headersOf([row(1, 'Work', '', 'Torques', ''), row(2, 'Card', 'Date', 'Front', 'Bleed')]);
    expect([...headers]).toEqual([
      [0, 'Work / Card'],
      [1, 'Work / Date'],
      [2, 'Torques / Front'],
      [3, 'Torques / Bleed'],
    ]);
  });

  it('have letters', () => {
    expect([0, 25, 26, 701, 702].map(columnLetters)).toEqual(['A', 'Z', 'AA', 'ZZ', 'AAA']);
    expect(['A', 'Z', 'AA', 'ZZ', 'AAA'].map(columnIndex)).toEqual([0, 25, 26, 701, 702]);
  });
});

describe('a mapping', () => {
  const good = {
    name: 'cards',
    kind: 'shop',
    key: 'Id',
    line: { id: { column: 'Id' } },
    body: { name: { column: 'Name' } },
  };
  it.each([
    [{ ...good, body: { name: { column: 'Name', lookup: 'none' } } }, '/body/name/lookup'],
    [{ ...good, body: { name: { column: 'Name', date: 'dd.MM.yyyy' } } }, '/body/name/zone'],
    [{ ...good, body: { name: { column: 'Name', number: ';' } } }, '/body/name/number'],
    [{ ...good, body: { name: { column: 'Name', colour: 'red' } } }, '/body/name/colour'],
    [{ ...good, line: {} }, '/line/id'],
    [{ ...good, kind: 'song' }, '/kind'],
    [{ ...good, zone: 'Europe/Nowhere' }, '/zone'],
    [{ ...good, title: '' }, '/title'],
  ])('that is wrong is refused by its place: %#', (mapping, place) => {
    expect(() => mappingOf(good, null)).not.toThrow();
    expect(() => mappingOf(mapping, null)).toThrow(place);
  });
});

/** A workshop's card index of 500 rows as somebody kept it: invented, with everything wrong that people get wrong. */
import writeXlsxFile, { type Cell, type SheetData } from 'write-excel-file/node';

/** Row numbers as a spreadsheet shows them. */
export type Planted = { readonly row: number; readonly column: string; readonly says: RegExp };
export type Card = Readonly<Record<Column, string>>;
type Column =
  | 'card'
  | 'control'
  | 'date'
  | 'fitter'
  | 'out'
  | 'in'
  | 'lot'
  | 'seal'
  | 'body'
  | 'seat'
  | 'wrench'
  | 'safe';

const columns: readonly (readonly [Column, string, string])[] = [
  ['card', 'Work', 'Card'],
  ['control', '', 'Control'],
  ['date', '', 'Date'],
  ['fitter', '', 'Fitter'],
  ['out', 'Bleed', 'Out'],
  ['in', '', 'In'],
  ['lot', '', 'Lot'],
  ['seal', 'Front', 'Seal'],
  ['body', 'Torques', 'Front'],
  ['seat', '', 'Bleed'],
  ['wrench', '', 'Wrench'],
  ['safe', '', 'Made safe'],
];
const letterOf = (wanted: Column) => String.fromCharCode(65 + columns.findIndex(([name]) => name === wanted));

/** Title, groups, names: the cards begin in the fourth row. */
const firstRow = 4;
export const cardCount = 500;
/** Rows that are empty, and hidden in the spreadsheet. */
const emptyRows = [104, 310];

/** What is wrong by itself, before anybody looks anything up. */
const wrongAlone: readonly [number, Column, string, RegExp][] = [
  [5, 'date', '31.02.2019', /is no day/],
  [6, 'date', '2019/03/14', /is not written as/],
  [7, 'out', 'Orifise 0,6', /not in the list parts; it has "Orifice 0,6"/],
  [8, 'in', 'Widget', /not in the list parts/],
  [9, 'body', 'sixty', /is not a number/],
  [10, 'body', '1.061,0', /decimal comma/],
  [11, 'seat', '5,5 kp', /"kp" is not among the units/],
  [12, 'seat', '#N/A', /#N\/A/],
  [13, 'card', '', /nothing else tells this row/],
  [14, 'safe', 'perhaps', /not in the list results/],
  [250, 'date', 'spring 2019', /is not written as/],
];
/** What only the service can tell. */
const wrongThere: readonly [number, Column, string, RegExp][] = [
  [20, 'control', 'K-nowhere', /K-nowhere/],
  [21, 'fitter', 't-404', /t-404/],
  [22, 'lot', 'L-404', /L-404/],
  [23, 'date', '01.01.2950', /ahead|future/],
  [24, 'wrench', 'tw-404', /tw-404/],
];
/** What happened and must be looked at: recorded, and held. */
const held: readonly [number, Column, string, RegExp][] = [
  [30, 'body', '', /held: sense-adjuster-body is broken .* no closing torque/],
  [31, 'seat', '', /held: bleed-seat-element is broken .* no closing torque/],
  [32, 'body', '48,0', /held: .* its limits are/],
  [33, 'seal', '', /held: .*seal/],
];
/** This row has the card of that one. */
const doubles: readonly [number, number][] = [
  [40, 35],
  [503, 36],
];

export type Messy = {
  readonly serials: readonly string[];
  readonly planted: readonly Planted[];
  readonly goodRows: number;
  readonly csv: string;
  readonly xlsx: () => Promise<Buffer>;
  readonly mapping: unknown;
  /** With one cell set right. */
  readonly mended: (row: number, column: Column, text: string) => Messy;
};

export function messyTable(mend: ReadonlyMap<string, string> = new Map()): Messy {
  const rows: (Card | null)[] = [];
  for (let nth = 0; nth < cardCount + emptyRows.length; nth++)
    rows.push(emptyRows.includes(nth + firstRow) ? null : cardAt(nth + firstRow));
  const all = [...wrongAlone, ...wrongThere, ...held].filter(([row, column]) => !mend.has(`${row} ${column}`));
  for (const [row, column, text] of all) set(row, column, text);
  for (const [row, of] of doubles) set(row, 'card', rows[of - firstRow]?.card ?? '');
  for (const [place, text] of mend) {
    const [row = '', column = ''] = place.split(' ');
    set(Number(row), column as Column, text);
  }
  const planted = [
    ...all.map(([row, column, , says]) => ({ row, column: letterOf(column), says })),
    ...doubles.map(([row, of]) => ({ row, column: letterOf('card'), says: new RegExp(`stands in row ${of} already`) })),
  ];
  const bad = all.filter((one) => !held.includes(one)).length + doubles.length;
  return {
    serials: Array.from({ length: cardCount + emptyRows.length }, (_, nth) => serialAt(nth + firstRow)),
    planted,
    goodRows: cardCount - bad,
    csv: csvOf(rows),
    xlsx: async () => await xlsxOf(rows),
    mapping,
    mended: (row, column, text) => messyTable(new Map([...mend, [`${row} ${column}`, text]])),
  };

  function set(row: number, column: Column, text: string): void {
    const card = rows[row - firstRow];
    if (card === null || card === undefined) throw new Error(`row ${row} has no card`);
    rows[row - firstRow] = { ...card, [column]: text };
  }
}

const serialAt = (row: number) => `K-9${row}`;

function cardAt(row: number): Card {
  const date = `${String(1 + (row % 28)).padStart(2, '0')}.0${4 + (row % 5)}.2026`;
  return {
    ...{ card: String(70_000 + row), control: serialAt(row), date },
    ...{
      fitter: 't-17',
      out: 'Orifice 0,6',
      in: row % 2 ? 'Plug M5' : 'plug  m5',
      lot: 'L-1',
      seal: 'S22',
      body: '61,5',
    },
    ...{ seat: row % 3 ? '5,5' : '5,5 Nm', wrench: 'tw-3', safe: 'yes' },
  };
}

function csvOf(rows: readonly (Card | null)[]): string {
  const quoted = (text: string) => (/[";\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const line = (cells: readonly string[]) => `${cells.map(quoted).join(';')}\r\n`;
  const cards = rows.map((card) => line(columns.map(([name]) => card?.[name] ?? '')));
  const heads = [['Card index; "north" yard'], columns.map(([, group]) => group), columns.map(([, , name]) => name)];
  return `\uFEFF${heads.map(line).join('')}${cards.join('')}`;
}

/** Some dates and numbers as such, some as texts, as people's spreadsheets have them. */
async function xlsxOf(rows: readonly (Card | null)[]): Promise<Buffer> {
  const cards = rows.map((card) =>
    columns.map(([name]) => (card === null ? null : cellOf(name, card[name], Number(card.card)))),
  );
  const groups = columns.map(([, group], index): Cell => {
    const next = columns.findIndex(([, other], at) => at > index && other !== '');
    return group === '' ? null : { value: group, columnSpan: (next < 0 ? columns.length : next) - index };
  });
  const title: Cell[] = [{ value: 'Card index; "north" yard', columnSpan: columns.length }];
  const data: SheetData = [title, groups, columns.map(([, , name]) => ({ value: name })), ...cards];
  const hide = (xml: string) =>
    emptyRows.reduce((text, row) => text.replace(`<row r="${row}"`, `<row r="${row}" hidden="1"`), withErrors(xml));
  const feature = { files: { transform: { 'xl/worksheets/sheet{id}.xml': { transform: hide } } } };
  return await writeXlsxFile(data, { sheet: 'Cards' }, { features: [feature] }).toBuffer();
}

/** The one cell that holds an error holds it as an error, not as its text. */
function withErrors(xml: string): string {
  return xml.replace(/<c r="J12"[^>]*>.*?<\/c>/, '<c r="J12" t="e"><v>#N/A</v></c>');
}

function cellOf(name: Column, text: string, nth: number): Cell {
  if (text === '') return null;
  const [, day, month, year] = /^(\d\d)\.(\d\d)\.(\d{4})$/.exec(text) ?? [];
  if (name === 'date' && nth % 2 === 0 && text !== '31.02.2019' && year !== undefined)
    return { value: new Date(Date.UTC(Number(year), Number(month) - 1, Number(day))), format: 'dd.mm.yyyy' };
  if (name === 'card' && /^\d+$/.test(text)) return { value: Number(text) };
  if ((name === 'body' || name === 'seat') && nth % 3 !== 0 && /^\d+,\d+$/.test(text))
    return { value: Number(text.replace(',', '.')) };
  return { value: text };
}

const torque = (joint: string, column: string) => ({
  ...{ if: column, joint, how: 'set', reading: { column, quantity: { unit: 'N.m', units: { Nm: 'N.m' } } } },
  instrument: { column: 'Torques / Wrench' },
});
const mapping = {
  ...{ name: 'card-index', kind: 'conversion', header: [2, 3], decimal: ',', zone: 'Europe/Berlin' },
  ...{ csv: { delimiter: ';' }, key: 'Work / Card' },
  lookups: {
    parts: { 'Orifice 0,6': 'orifice-0.6', 'Plug M5': 'plug-m5' },
    seals: { S22: 'seal-22-nbr' },
    results: { yes: 'passed', no: 'failed' },
  },
  body: {
    control: { maker: 'ardenholm', serial: { column: 'Work / Control' } },
    reference: { column: 'Work / Card' },
    edition: '2026-1',
    performedAt: { column: 'Work / Date', date: ['dd.MM.yyyy', 'MM.yyyy'] },
    shop: 'north',
    technician: { column: 'Work / Fitter', empty: { unknown: 'not on the card' } },
    grade: 'from-paper',
    for: { size: '83', rotation: 'clockwise' },
    found: { function: 'load-sense-bled' },
    to: { function: 'load-sense' },
    removed: [{ station: 'bleed-seat', element: { column: 'Bleed / Out', lookup: 'parts' } }],
    fitted: [
      { station: 'bleed-seat', element: { column: 'Bleed / In', lookup: 'parts' }, lot: { column: 'Bleed / Lot' } },
    ],
    seals: [
      {
        if: 'Front / Seal',
        joint: 'sense-adjuster-body',
        seal: { column: 'Front / Seal', lookup: 'seals' },
        lot: 'L-1',
      },
    ],
    torques: [torque('sense-adjuster-body', 'Torques / Front'), torque('bleed-seat-element', 'Torques / Bleed')],
    checks: [{ check: 'make-safe', result: { column: 'Torques / Made safe', lookup: 'results' } }],
  },
};

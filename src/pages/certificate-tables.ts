/** What a certificate says was changed, closed, set and checked: close together, so that it fits on paper. */
import { isReading } from '../core/quantity/add-display.ts';
import { asRecord, type CertificateRead, type Judged, judgedLines } from './certificate-read.ts';
import { html, type Part } from './html.ts';
import { adapter, type Column, known, lot, namedBy, none, readings, table, times } from './record-tables.ts';
import { percentOf } from './record-verdicts.ts';
import type { Say } from './say.ts';
import { stated } from './stated.ts';
import { type Json, listOf, textOf } from './statement.ts';

/** Station by station: what came out beside what went in. */
export function partsTable(read: CertificateRead, say: Say): Part {
  const { words } = say;
  const [removed, fitted] = [listOf(read.statement['removed']), listOf(read.statement['fitted'])];
  const all = [...removed, ...fitted];
  const stations = new Map(all.map(({ station }) => [JSON.stringify(station), { station }]));
  const there = (list: readonly Json[], { station }: Json) =>
    list.filter((one) => JSON.stringify(one['station']) === JSON.stringify(station));
  const pieces = (list: readonly Json[], of: (piece: Json) => Part): Column['of'] => {
    return (one) => {
      const some = there(list, one);
      return some.length === 0 ? none() : some.map((piece) => html`<div>${of(piece)}</div>`);
    };
  };
  const piece = namedBy(
    asRecord(read),
    say,
  )({
    title: '',
    of: (one) => [times(one), known(one['element'], say, say.element)],
  });
  const withMeasure = (one: Json): Part => [
    piece.of(one, 0),
    one['measured'] !== undefined && html`<div class="small">${words.measured}: ${stated(one['measured'], say)}</div>`,
  ];
  return table(
    words.certificate.parts,
    [...stations.values()],
    [
      { title: words.station, of: (one) => known(one['station'], say, say.station) },
      { title: words.removed, width: 'w25', of: pieces(removed, withMeasure) },
      { title: words.fitted, width: 'w25', of: pieces(fitted, withMeasure) },
      { title: words.lot, width: 'w20', of: pieces(fitted, (one) => lot(one['lot'], say)) },
    ],
  );
}

export function sealsTable(read: CertificateRead, say: Say): Part {
  const { words } = say;
  return table(words.sealsRenewed, read.statement['seals'], [
    namedBy(asRecord(read), say)({ title: words.joint, of: (one) => known(one['joint'], say, say.joint) }),
    { title: words.seals, width: 'w50', of: (one) => [times(one), known(one['seal'], say, say.element)] },
    { title: words.lot, width: 'w15', of: (one) => lot(one['lot'], say) },
  ]);
}

export function readingTables(read: CertificateRead, say: Say): Part {
  const { words } = say;
  const of = (title: string, name: string, list: Judged[], place: (line: Json) => Part): Part =>
    table(
      title,
      list.map(({ line }) => line),
      readingColumns(read, say, list, { title: name, of: place }),
    );
  return [
    of(words.torques, words.joint, judgedLines(read, 'torque'), (one) => known(one['joint'], say, say.joint)),
    of(words.settingsRead, words.setting, judgedLines(read, 'setting'), (one) =>
      known(one['setting'], say, say.setting),
    ),
  ];
}

function readingColumns(read: CertificateRead, say: Say, list: Judged[], name: Column): Column[] {
  const { words } = say;
  const own = words.certificate;
  const verdict = (title: string, width: string, one: (verdict: Json) => Part): Column => ({
    title,
    width,
    of: (_, at) => {
      const verdicts = list[at]?.verdicts ?? [];
      return verdicts.length === 0 ? none() : verdicts.map((each) => html`<div>${one(each)}</div>`);
    },
  });
  const bound = (value: unknown): Part => (isReading(value) ? say.quantity(value) : '…');
  return [
    namedBy(asRecord(read), say)(name),
    {
      title: words.reading,
      width: 'w12',
      of: (one) => [
        readings(one['reading'], say),
        adapter(one, say),
        one['conditions'] !== undefined && html`<div class="small">${stated(one['conditions'], say)}</div>`,
      ],
    },
    verdict(words.limits, 'w20', ({ min, max }) => [bound(min), ' – ', bound(max)]),
    verdict(own.verdict, read.withheld.includes('statement') ? 'w20' : 'w25', ({ verdict: given, rule }) => [
      html`<b>${words.verdicts[textOf(given) ?? ''] ?? words.notKnown}</b>, `,
      words.rules[textOf(rule) ?? ''],
    ]),
    verdict(own.likely, 'w12', ({ probability }) =>
      typeof probability === 'number' ? percentOf(probability) : words.notKnown,
    ),
    // Without the statement it is known by the id that the service gave it, which is long.
    read.withheld.includes('statement')
      ? { title: words.instrument, width: 'w20', of: (one) => known(one['instrument'], say, say.id) }
      : { title: words.instrument, width: 'w12', of: (one) => known(one['instrument'], say, say.typed) },
  ];
}

export function checksTable(read: CertificateRead, say: Say): Part {
  const { words } = say;
  const because = ({ value, reason }: Json): Part => [
    isReading(value) && [' ', say.quantity(value)],
    textOf(reason) !== null && [' ', say.typed(textOf(reason) ?? '')],
  ];
  return table(words.checks, read.statement['checks'], [
    namedBy(asRecord(read), say)({ title: words.check, of: (one) => known(one['check'], say, say.check) }),
    {
      title: words.result,
      width: 'w30',
      of: (one) => [words.results[textOf(one['result']) ?? ''] ?? none(), because(one)],
    },
  ]);
}

export function measurementsTable(read: CertificateRead, say: Say): Part {
  const { words } = say;
  return table(words.measurements, read.statement['measurements'], [
    namedBy(asRecord(read), say)({ title: words.measured, of: (one) => say.id(textOf(one['measured']) ?? '') }),
    { title: words.reading, width: 'w20', of: (one) => readings(one['reading'], say) },
    { title: words.instrument, width: 'w15', of: (one) => known(one['instrument'], say, say.typed) },
    {
      title: words.conditions,
      width: 'w30',
      of: ({ conditions }) => (conditions === undefined ? none() : stated(conditions, say)),
    },
  ]);
}

/** The lines of a record that take something from a lot, each with what is stated of that lot. */
import { lotKey, lotKeyOf } from '../records/lot-name.ts';
import { isUnknown } from '../records/parts.ts';
import type { LotBody } from '../records/stock-bodies.ts';
import type { Clear } from '../rules/finding.ts';
import type { Case } from './case.ts';

export type LotLine = {
  /** To the lot of the line. */
  readonly pointer: string;
  readonly item: string;
  /** By `lotKey`. */
  readonly lot: string;
  readonly stated: LotBody;
  /** What takes the piece out again. */
  readonly clear: Clear;
};

/** Without what isn't known by name or lot. */
export function lotLines({ record, edition, known }: Case): LotLine[] {
  const lines = [
    ...record.fitted.map(({ station, element, lot }, index) => ({
      ...{ pointer: `/fitted/${index}/lot`, item: element, lot },
      clear: { kind: 'part', place: station } as const,
    })),
    ...record.seals.map(({ joint, seal, lot }, index) => ({
      ...{ pointer: `/seals/${index}/lot`, item: seal, lot },
      clear: { kind: 'seal', place: joint } as const,
    })),
  ];
  return lines.flatMap(({ item, lot: ref, ...line }) => {
    const lot = lotKeyOf(ref, edition.maker);
    const stated = lot === null ? undefined : known.lots.get(lot)?.statement;
    return lot === null || stated === undefined || isUnknown(item) ? [] : [{ ...line, item, lot, stated }];
  });
}

/** What is stated of the lots that the piece is from: of the named one, and of those in it that such pieces are from. */
export function lotsBehind({ known }: Case, { item, lot, stated }: LotLine): { lot: string; stated: LotBody }[] {
  const components = (stated.components ?? []).flatMap(({ element, lot: { maker, number } }) => {
    const key = lotKey(maker, number);
    const component = known.lots.get(key);
    return element === item && component !== undefined ? [{ lot: key, stated: component.statement }] : [];
  });
  return [{ lot, stated }, ...components];
}

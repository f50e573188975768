/** What a unit is called, from what a registration or a mounting states; when recording and when verifying. */
import type { UnitKind } from '../../core/history/event.ts';
import { nameKey } from '../../core/records/name-key.ts';
import type { Row } from '../../store/sql/insert-rows.ts';

export type NameRow = Omit<Row<'unit_names'>, 'fact'>;

export function serialRow(maker: string, kind: UnitKind, serial: string, unit: string): NameRow {
  return nameRow(maker, kind, 'serial', serial, unit);
}

/** Only controls get tags: those without a serial, when they come off their pump. */
export function tagRow(maker: string, tag: string, control: string): NameRow {
  return nameRow(maker, 'control', 'tag', tag, control);
}

function nameRow(maker: string, kind: UnitKind, nameKind: 'serial' | 'tag', written: string, unit: string): NameRow {
  return {
    maker,
    unit_kind: kind,
    name_kind: nameKind,
    name_key: nameKey(written),
    as_written: written,
    unit_id: unit,
  };
}

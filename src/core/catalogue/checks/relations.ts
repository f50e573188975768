/** The sums that settings, pump values and circuit values must keep. */
import { explain, placesOf } from '../../json/schema-places.ts';
import { quantitySchema } from '../../quantity/quantity.ts';
import { dimensionOf, isUnit } from '../../quantity/unit.ts';
import type { Edition, Fun } from '../edition.ts';
import { bodyOf, pumpValueNames, pumpValueOf, sizesWith } from '../lookup.ts';
import { type Path, type Problem, problem } from '../problem.ts';
import { settingsAt } from './places.ts';
import { dimensionsOf } from './units.ts';

type Relation = Fun['relations'][number];
type Term = Relation['sum'][number];

/** Circuit values come with a record, under names of its own: only settings and pump values are known here. */
export function unknownTerm(edition: Edition): Problem[] {
  return termsOf(edition).flatMap(({ fun, term, path }) => {
    const body = bodyOf(edition, fun.body);
    if ('setting' in term && body !== null && settingsAt(edition, body, term.setting).length === 0) {
      return [problem([...path, 'setting'], `there is no setting ${term.setting} on ${body.id}`)];
    }
    if ('pump' in term && !pumpValueNames.includes(term.pump)) {
      return [problem([...path, 'pump'], `${term.pump} is no value of a pump: use ${pumpValueNames.join(', ')}`)];
    }
    return [];
  });
}

export function wrongValueOfTerm(edition: Edition): Problem[] {
  return termsOf(edition).flatMap(({ term, path }) => {
    if (!('value' in term)) return [];
    const { error } = quantitySchema.safeParse({ value: term.value, unit: term.unit }, { error: explain });
    return placesOf(error?.issues ?? [], path).map((place) => problem(place.path, place.detail));
  });
}

/** Only like can be added. What a circuit value is measured in is judged when it arrives. */
export function mixedTerms(edition: Edition): Problem[] {
  return relationsOf(edition).flatMap(({ fun, relation, path }) => {
    const measured = [...new Set(relation.sum.flatMap((term) => dimensionsOfTerm(edition, fun, term)))];
    return measured.length < 2 ? [] : [problem([...path, 'sum'], `${measured.join(' and ')} can't be added`)];
  });
}

export function relationWithoutBound(edition: Edition): Problem[] {
  return relationsOf(edition).flatMap(({ relation, path }) =>
    relation.atMost === undefined && relation.atLeast === undefined
      ? [problem(path, `${relation.id} bounds nothing: give "atMost" or "atLeast"`)]
      : [],
  );
}

/** A bound has no unit of its own, so that anything but nothing could be read in two ways. */
export function boundWithoutUnit(edition: Edition): Problem[] {
  return relationsOf(edition).flatMap(({ relation, path }) =>
    (['atMost', 'atLeast'] as const).flatMap((field) =>
      /^0(\.0+)?$/.test(relation[field] ?? '0')
        ? []
        : [problem([...path, field], 'compare with "0", and put the bound into the sum as a value with its unit')],
    ),
  );
}

function relationsOf(edition: Edition): readonly { fun: Fun; relation: Relation; path: Path }[] {
  return edition.functions.flatMap((fun, at) =>
    fun.relations.map((relation, nth) => ({ fun, relation, path: ['functions', at, 'relations', nth] })),
  );
}

function termsOf(edition: Edition): readonly { fun: Fun; term: Term; path: Path }[] {
  return relationsOf(edition).flatMap(({ fun, relation, path }) =>
    relation.sum.map((term, at) => ({ fun, term, path: [...path, 'sum', at] })),
  );
}

function dimensionsOfTerm(edition: Edition, fun: Fun, term: Term): string[] {
  if ('circuit' in term) return [];
  if ('value' in term) return isUnit(term.unit) ? [dimensionOf(term.unit)] : [];
  if ('pump' in term) {
    const values = sizesWith(edition, fun.body).map((size) => pumpValueOf(size, term.pump));
    return values.flatMap((value) => (value === null ? [] : [dimensionOf(value.unit)]));
  }
  const body = bodyOf(edition, fun.body);
  return body === null ? [] : dimensionsOf(settingsAt(edition, body, term.setting));
}

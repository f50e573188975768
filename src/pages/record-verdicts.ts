/** The verdicts on the readings of a record, each as a picture and in words. */
import type { Edition } from '../core/catalogue/edition.ts';
import { coverageFactor } from '../core/conformity/decision-rule.ts';
import { isReading } from '../core/quantity/add-display.ts';
import { times } from '../core/quantity/exact.ts';
import { filled } from './furniture.ts';
import { html, type Part } from './html.ts';
import { limitsPicture, limitsSign, type Pictured, verdictSign } from './limits-picture.ts';
import type { RecordRead } from './record-read.ts';
import { type Say, written } from './say.ts';
import { stated } from './stated.ts';
import { type Json, listOf, objectOf, textOf } from './statement.ts';
import { targetOf } from './target-of.ts';

/** Every verdict given on readings at this place of the statement: of a joint of several screws there are several. */
export function verdictsAt(record: RecordRead, place: string, edition: Edition | null, say: Say): Part {
  const { words } = say;
  const given = verdictsOf(record).filter(({ pointer }) => textOf(pointer)?.startsWith(place));
  if (given.length === 0) return null;
  const bound = (value: unknown): Part => (isReading(value) ? say.quantity(value) : '…');
  return given.map((one) => {
    const said = words.verdicts[textOf(one['verdict']) ?? ''] ?? stated(one['verdict'], say);
    return html`<div>${pictureOf(one, record, edition, say)}${bound(one['min'])} – ${bound(one['max'])}<br><b>${said}</b>${howSure(one, say)}</div>`;
  });
}

/** What the signs of these pictures stand for. */
export function verdictKey(record: RecordRead, edition: Edition | null, say: Say): Part {
  const pictured = verdictsOf(record).flatMap((one) => picturedIn(one, record, edition) ?? []);
  if (pictured.length === 0) return null;
  const uses = {
    shown: pictured.some(({ reading, estimate }) => reading.value !== estimate.value),
    whisker: pictured.some(({ uncertainty }) => uncertainty !== null),
    unknown: pictured.some(({ uncertainty }) => uncertainty === null),
    band: pictured.some(({ guardBand }) => guardBand !== null),
    target: pictured.some(({ target }) => target !== null),
  };
  const { verdicts, signs } = say.words;
  const given = Object.keys(verdicts).filter((name) => pictured.some(({ verdict }) => verdict === name));
  const others = (Object.keys(uses) as (keyof typeof uses)[]).filter((sign) => uses[sign]);
  return html`<ul class="key small">
${given.map((name) => html`<li>${verdictSign(name)}${verdicts[name]}</li>`)}
${others.map((sign) => html`<li>${limitsSign(sign)}${signs[sign]}</li>`)}
</ul>`;
}

function verdictsOf({ judgement }: RecordRead): readonly Json[] {
  return listOf(objectOf(judgement)['verdicts']);
}

/** Null: there is no reading in it that could be drawn. */
function picturedIn(one: Json, { judgement }: RecordRead, edition: Edition | null): Pictured | null {
  const { reading, estimate, min, max, uncertainty, guardBand } = one;
  if (!isReading(reading)) return null;
  const fun = textOf(objectOf(judgement)['function']);
  const target = edition && targetOf(edition, textOf(one['of']) ?? '', textOf(one['place']) ?? '', fun);
  const known = (value: unknown) => (isReading(value) ? value : null);
  return {
    ...{ reading, estimate: known(estimate) ?? reading, min: known(min), max: known(max), target },
    ...{ uncertainty: known(uncertainty), guardBand: known(guardBand), verdict: textOf(one['verdict']) },
  };
}

function pictureOf(one: Json, record: RecordRead, edition: Edition | null, say: Say): Part {
  const pictured = picturedIn(one, record, edition);
  return pictured && limitsPicture(pictured, inWords(pictured, say));
}

/** For those who don't see it. */
function inWords({ min, max, target, estimate, uncertainty, guardBand, verdict }: Pictured, { words }: Say): string {
  const { pictured } = words;
  const named = { min: min === null ? '…' : written(min), max: max === null ? '…' : written(max) };
  return [
    filled(pictured.reading, { value: written(estimate), verdict: words.verdicts[verdict ?? ''] ?? words.notKnown }),
    filled(pictured.limits, named),
    target === null ? null : filled(pictured.target, { value: written(target) }),
    uncertainty === null
      ? words.unsure
      : filled(pictured.expanded, { value: written(times(uncertainty, coverageFactor)) }),
    guardBand === null ? null : filled(pictured.band, { value: written(guardBand) }),
  ]
    .filter((said) => said !== null)
    .join('; ');
}

/** By which rule, how uncertain, how probable; records of earlier releases don't say. */
function howSure({ rule, reading, estimate, uncertainty, probability, linear }: Json, say: Say): Part {
  const { words } = say;
  const corrected = isReading(estimate) && isReading(reading) && estimate.value !== reading.value;
  const line = (...parts: Part[]): Part => html`<div class="small">${parts}</div>`;
  return [
    corrected && line(words.estimate, ': ', say.quantity(estimate)),
    isReading(uncertainty) && line(words.uncertainty, ': ', say.quantity(uncertainty)),
    typeof probability === 'number' && line(words.probability, ': ', percentOf(probability)),
    isReading(objectOf(linear)['estimate']) &&
      line(words.evenly, ': ', say.quantity(objectOf(linear)['estimate'] as never)),
    probability === null && line(words.unsure),
    textOf(rule) !== null && line(words.rules[textOf(rule) ?? ''] ?? textOf(rule)),
  ];
}

/** What is nearly sure is not said to be sure. */
export function percentOf(probability: number): string {
  const percent = Math.round(probability * 1000) / 10;
  if (percent >= 100 && probability < 1) return '>\u00a099.9\u00a0%';
  return percent <= 0 && probability > 0 ? '<\u00a00.1\u00a0%' : `${percent}\u00a0%`;
}

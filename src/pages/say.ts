/** How a page says words, values and names: words that are not in its language are marked, values keep their digits. */

import { type Names, noLanguage, type Words } from '../core/catalogue/names.ts';
import type { Held } from '../core/fit/fit.ts';
import { type Run, saidTorque, type TorqueLimits } from '../core/fit/step-texts.ts';
import { display, displayDifference, type UnitSystem } from '../core/quantity/display.ts';
import type { Quantity } from '../core/quantity/quantity.ts';
import { type Furniture, filled } from './furniture.ts';
import { type Html, html, type Part } from './html.ts';

export type Say = ReturnType<typeof sayFor>;

export function sayFor(words: Furniture, names: Names, units: UnitSystem | null) {
  const marked = (said: Words): Part =>
    said.lang === noLanguage || said.lang === words.lang
      ? said.text
      : html`<span lang="${said.lang}">${said.text}</span>`;
  const both = (read: string, other: string): Part =>
    other === read ? read : html`${read} <span class="other">(${other})</span>`;
  const quantity = (q: Quantity): Part => {
    const other = units === null ? q : display(q, units);
    return both(written(q), other.unit === q.unit ? written(q) : written(other));
  };
  const torque = (required: TorqueLimits): Part => {
    const read = saidTorque(required, words.lang, written);
    return both(read, units === null ? read : saidTorque(displayed(required, units), words.lang, written));
  };
  const run = (one: Run): Part => {
    if ('text' in one) return marked(one);
    return 'quantity' in one ? quantity(one.quantity) : torque(one.torque);
  };
  return {
    words,
    names,
    units,
    marked,
    quantity,
    torque,
    run,
    /** An id stays what it is, whatever the language. */
    id,
    typed,
    /** `own` is what the body itself calls it; where the body isn't known, what all of them do. */
    station: (station: string, own?: string): Part =>
      marked(own === undefined ? names.station(station) : names.of('station', station, own)),
    /** Its id too, which is what a record names it by. */
    joint: (joint: string): Part => {
      const name = names.of('joint', joint);
      return name.text === joint ? id(joint) : [marked(name), ' ', id(joint)];
    },
    setting: (setting: string): Part => marked(names.of('setting', setting)),
    check: (check: string): Part => marked(names.check(check)),
    element: (element: string): Part => marked(names.element(element)),
    function: (fun: string | null): Part => (fun === null ? words.noFunction : marked(names.of('function', fun))),
    held: (held: readonly Held[] | null): Part =>
      held === null
        ? words.notKnown
        : held.length === 0
          ? words.nothing
          : held.map((one, at) => [
              at > 0 && html`<br>`,
              one.quantity > 1 && `${one.quantity} × `,
              marked(names.element(one.element)),
            ]),
    unitsSaid: (): Part =>
      units !== null && html`<p class="small">${filled(words.unitsSaid, { system: words.units[units] })}</p>`,
  };
}

/** A text that somebody typed, kept from turning round what stands beside it. */
export function typed(text: string): Html {
  return html`<bdi>${text}</bdi>`;
}

function id(text: string): Html {
  return html`<span class="id" translate="no">${text}</span>`;
}

const signs: Readonly<Record<string, string>> = {
  'N.m': 'N·m',
  'lbf.ft': 'lbf·ft',
  'lbf.in': 'lbf·in',
  cm3: 'cm³',
  in3: 'in³',
  'mm2/s': 'mm²/s',
  degC: '°C',
  degF: '°F',
  ohm: 'Ω',
  um: 'µm',
};

/** The digits as they were read, with a space that doesn't break before the unit (none before the sign of degrees). */
export function written({ value, unit }: Quantity): string {
  return unit === 'deg' ? `${value}°` : `${value}\u00a0${signs[unit] ?? unit}`;
}

function displayed(required: TorqueLimits, units: UnitSystem): TorqueLimits {
  if ('min' in required) return { min: display(required.min, units), max: display(required.max, units) };
  const { target, tolerance, angle } = required;
  return {
    target: display(target, units),
    ...(tolerance !== undefined && { tolerance: displayDifference(tolerance, units) }),
    ...(angle !== undefined && { angle: display(angle, units) }),
  };
}

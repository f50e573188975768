/** What a job's settings can ask of the pump's shaft and of its drive, as far as the size is known. */
import type { Size } from '../catalogue/edition.ts';
import { sizesWith } from '../catalogue/lookup.ts';
import { deliveredFlow, pressureFor, shaftPower, shaftTorque } from '../physics/hydraulics.ts';
import { compare, numberIn } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { PlannedWork } from './demand.ts';
import { layoutOf } from './layout.ts';
import type { Bound, Load, PlannedSetting } from './plan.ts';
import { allowedRange } from './plan-settings.ts';

/**
 * At the highest pressure that a setting of the function may have, and no more than its torque limit may be set to: a
 * pump whose torque is limited has left full displacement by then. Power is that of the corner, the highest pressure at
 * which the pump still delivers its full flow (ISO 4391 symbols, ISO 4409 definitions). Null where the work sets
 * neither a pressure nor a torque.
 */
export function loadOf(
  { edition, layout, function: fun, contents }: PlannedWork,
  planned: readonly PlannedSetting[],
  builtForSize: string | undefined,
): Load | null {
  const size = layout.size ?? sizeNamed(sizesWith(edition, layout.body.id), builtForSize);
  const known = size === null ? layout : layoutOf(layout.body, size);
  const quantityOf = new Map(known.settings.map(({ id, quantity }) => [id, quantity]));
  const loads = planned.some(({ setting }) => loading.has(quantityOf.get(setting)));
  if (!loads) return null;
  if (size === null) return { size: null, unknown: ['size'], reckoned: null };
  const fitted = [...contents.values()].flatMap((content) => content ?? []);
  const highest = (quantity: string): Highest[] =>
    fun.settings
      .filter(({ setting }) => quantityOf.get(setting) === quantity)
      .map(({ setting }) => ({
        setting,
        most: allowedRange(edition, known, fun, setting, fitted).max,
      }))
      .filter((one): one is Highest => one.most !== null)
      .sort((a, b) => compare(b.most, a.most));
  return loadAt(size, highest('pressure')[0], highest('torque').at(-1));
}

const loading: ReadonlySet<string | undefined> = new Set(['pressure', 'torque']);
type Highest = { readonly setting: string; readonly most: Bound };

function loadAt(size: Size, highest: Highest | undefined, torqueLimit: Highest | undefined): Load {
  const { efficiency, displacement, maxSpeed, shaftTorqueLimit } = size;
  const limit = shaftTorqueLimit ?? null;
  const unknown = [
    ...(highest === undefined ? (['pressure'] as const) : []),
    ...(efficiency === undefined ? (['efficiency'] as const) : []),
    ...(limit === null ? (['shaft-torque-limit'] as const) : []),
  ];
  if (highest === undefined || efficiency === undefined) return { size: size.id, unknown, reckoned: null };
  const [hydromechanical, volumetric] = [Number(efficiency.hydromechanical), Number(efficiency.volumetric)];
  const volume = numberIn(displacement, 'cm3');
  const full = shaftTorque(numberIn(highest.most, 'bar'), volume, hydromechanical);
  const limited = torqueLimit !== undefined && numberIn(torqueLimit.most, 'N.m') < full ? torqueLimit : null;
  const torque = limited === null ? full : numberIn(limited.most, 'N.m');
  const pressure = pressureFor(torque, volume, hydromechanical);
  const flow = deliveredFlow(numberIn(maxSpeed, 'r/min'), volume, volumetric);
  return {
    size: size.id,
    unknown,
    reckoned: {
      setting: highest.setting,
      pressure: highest.most,
      displacement,
      efficiency,
      limited: limited && { setting: limited.setting, torque: limited.most },
      torque: shown(torque, 'N.m'),
      limit,
      isOver: limit === null ? null : torque > numberIn(limit, 'N.m'),
      corner: {
        speed: maxSpeed,
        pressure: shown(pressure, 'bar'),
        flow: shown(flow, 'L/min'),
        power: shown(shaftPower(pressure, flow, volumetric * hydromechanical), 'kW'),
      },
    },
  };
}

/** Two series may have sizes of one name, and then it isn't known which. */
function sizeNamed(sizes: readonly Size[], name: string | undefined): Size | null {
  const [one, ...others] = sizes.filter(({ id }) => id === name);
  return others.length === 0 ? (one ?? null) : null;
}

function shown(number: number, unit: string): Quantity {
  return { value: number.toFixed(1), unit };
}

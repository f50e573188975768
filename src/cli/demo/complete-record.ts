/** What a shop system does with a job sheet: the complete record of the work, as if everything went by the book. */
import type { Sheet, Value } from './shapes.ts';

export type Bench = {
  readonly edition: string;
  readonly shop: string;
  readonly technician: string;
  readonly wrench: string;
  readonly gauge: string;
  /** The lots of the elements and of the seals. */
  readonly lot: string;
  readonly sealLot: string;
  /** Values set, by setting. */
  readonly settings: Readonly<Record<string, Value>>;
};

export function completeRecord({ sheet, changes, joints, evidence }: Sheet, bench: Bench) {
  const { edition, shop, technician, wrench, gauge, lot, sealLot } = bench;
  return {
    edition,
    shop,
    technician,
    sheet,
    removed: changes.flatMap(({ station, out }) => (out ?? []).map((held) => ({ station, ...held }))),
    fitted: changes.flatMap(({ station, in: put }) => put.map((held) => ({ station, ...held, lot }))),
    seals: joints.flatMap(({ joint, seals }) =>
      seals.map(({ fitting, quantity }) => ({ joint, seal: fitting[0], quantity, lot: sealLot })),
    ),
    torques: joints
      .filter(({ joint }) => evidence.torques.includes(joint))
      .map((one) => ({ joint: one.joint, how: 'set', reading: readingsOf(one), instrument: wrench })),
    settings: evidence.settings.map((setting) => ({ setting, reading: bench.settings[setting], instrument: gauge })),
    checks: evidence.checks.map((check) => ({ check, result: 'passed' })),
  };
}

/** The target, or the middle between the limits; once for each screw. */
function readingsOf({ torque, count }: Sheet['joints'][number]): Value | Value[] {
  const { target, min, max } = torque;
  const middle = { value: ((Number(min?.value) + Number(max?.value)) / 2).toFixed(1), unit: min?.unit ?? '' };
  const reading = target ?? middle;
  return count === 1 ? reading : Array.from({ length: count }, () => reading);
}

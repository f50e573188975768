/** What a registration is answered with, but for its id and receipt; when recording and when verifying. */
import type { UnitKind } from '../../core/history/event.ts';

type Registered = {
  readonly of: UnitKind;
  readonly unit: string;
  readonly maker: string;
  readonly serial: string;
  /** The control on a pump. */
  readonly control: { readonly unit: string; readonly serial: string | undefined } | null;
  readonly judgement: {
    readonly status: unknown;
    readonly function: unknown;
    readonly findings: unknown;
    readonly fit: unknown;
  };
};

export function registrationAnswer({ of, unit, maker, serial, control, judgement }: Registered): object {
  const under = control && { unit: control.unit, maker, name: control.serial ?? null };
  return {
    [of]: { unit, maker, name: serial },
    ...(of === 'pump' && { control: under }),
    status: judgement.status,
    function: judgement.function,
    findings: judgement.findings,
    fit: judgement.fit,
  };
}

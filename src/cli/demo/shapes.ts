/** What the demo reads of the service's answers; the whole of each is in the OpenAPI description. */
import type { Receipt } from '../../core/log/receipt.ts';

export type Value = { readonly value: string; readonly unit: string };
export type Held = { readonly element: string; readonly quantity: number };

export type Sheet = {
  readonly sheet: string;
  readonly from: { readonly function: string | null };
  readonly to: { readonly function: string | null };
  readonly cautions: readonly string[];
  readonly changes: readonly {
    readonly station: string;
    readonly out: readonly Held[] | null;
    readonly in: readonly Held[];
  }[];
  readonly joints: readonly {
    readonly joint: string;
    readonly count: number;
    readonly torque: { readonly target?: Value; readonly min?: Value; readonly max?: Value };
    readonly seals: readonly {
      readonly seal: string;
      readonly quantity: number;
      readonly fitting: readonly string[];
    }[];
  }[];
  readonly steps: readonly { readonly step: number; readonly text: string }[];
  readonly kits: readonly { readonly part: string; readonly quantity: number }[];
  readonly loose: readonly (
    | { readonly element: string; readonly quantity: number }
    | { readonly seal: string; readonly quantity: number }
  )[];
  readonly leftOver: readonly Held[];
  readonly evidence: {
    readonly torques: readonly string[];
    readonly settings: readonly string[];
    readonly checks: readonly string[];
  };
};

export type Outcome = {
  readonly id: string;
  readonly status: string;
  /** Of what was recorded. */
  readonly receipt?: Receipt;
  readonly findings?: readonly {
    readonly rule: string;
    readonly severity: string;
    readonly because: string;
    /** Of a unit under a containment. */
    readonly instruction?: string;
  }[];
};

export type Statement = {
  readonly technician: string;
  readonly shop: string;
  readonly fitted: readonly { readonly station: string; readonly lot?: string }[];
  readonly torques: readonly {
    readonly joint: string;
    readonly reading: Value | readonly Value[];
    readonly instrument: string;
  }[];
};

export type History = {
  readonly state: {
    readonly function: string | null;
    readonly fit: Readonly<Record<string, { readonly elements: readonly Held[] | null; readonly record: string }>>;
    readonly settings: Readonly<Record<string, Value>>;
  };
  readonly mountings: readonly { readonly name: string | null; readonly from: string; readonly to: string | null }[];
  readonly items: readonly {
    readonly id: string | null;
    readonly kind: string;
    readonly statement: Statement | null;
  }[];
};

export type Reach = {
  readonly items: readonly {
    readonly kind: string;
    readonly name: string | null;
    readonly mounted: { readonly name: string | null } | null;
  }[];
};

export type Judgements = {
  readonly items: readonly {
    readonly reference: string;
    readonly units: readonly {
      readonly kind: 'pump' | 'control' | null;
      readonly name: string | null;
      readonly mountedWith: { readonly name: string | null } | null;
    }[];
    readonly verdicts: readonly { readonly place: string; readonly was: string | null; readonly is: string | null }[];
  }[];
};

export type ClaimTrace = {
  readonly control: { readonly name: string | null } | null;
  readonly points: readonly {
    readonly topic: string;
    readonly place: string | null;
    readonly bears: string;
    readonly basis: string;
  }[];
};

export type Contained = {
  readonly items: readonly { readonly name: string | null; readonly added: object | null }[];
};

/** A request to keep a fact, as the callers of this ring make it. */

import { type Edition, type RecordKind, recordKinds } from '../../core/catalogue/edition.ts';
import type { ClaimBody, ClaimEvidenceBody } from '../../core/claims/claim-body.ts';
import type { ClaimDecisionBody } from '../../core/claims/decision-body.ts';
import type { TermsBody } from '../../core/claims/terms-body.ts';
import type { AttachmentBody } from '../../core/records/attachment.ts';
import type {
  AdjustmentBody,
  ControlRegistration,
  ConversionBody,
  CorrectionBody,
  IdentityBody,
  InspectionBody,
  MountingBody,
  PumpRegistration,
  RepairBody,
  TestBody,
} from '../../core/records/bodies.ts';
import type { ContainmentBody, LiftBody, ProgressBody } from '../../core/records/containment-bodies.ts';
import type { DispositionBody } from '../../core/records/disposition-body.ts';
import type {
  CalibrationBody,
  IncidentBody,
  InstrumentVoidBody,
  InterimCheckBody,
} from '../../core/records/instrument-bodies.ts';
import type {
  ApprovalBody,
  ApprovalWithdrawalBody,
  AuthorisationBody,
  AuthorisationWithdrawalBody,
} from '../../core/records/leave-bodies.ts';
import { type LifeKind, type LifeRecord, lifeKinds } from '../../core/records/life-bodies.ts';
import { type LotMove, type LotMoveKind, lotMoveKinds, type RestockingBody } from '../../core/records/lot-bodies.ts';
import type {
  ErasureBody,
  InstrumentBody,
  LotBody,
  ShopBody,
  TechnicianBody,
} from '../../core/records/stock-bodies.ts';

type Work =
  | { readonly kind: 'conversion'; readonly body: ConversionBody }
  | { readonly kind: 'mounting'; readonly body: MountingBody }
  | { readonly kind: 'adjustment'; readonly body: AdjustmentBody }
  | { readonly kind: 'repair'; readonly body: RepairBody }
  | { readonly kind: 'inspection'; readonly body: InspectionBody }
  | { readonly kind: 'test'; readonly body: TestBody };
type Registration =
  | {
      readonly kind: 'registration';
      readonly of: 'control';
      readonly maker: string;
      readonly serial: string;
      readonly body: ControlRegistration;
    }
  | {
      readonly kind: 'registration';
      readonly of: 'pump';
      readonly maker: string;
      readonly serial: string;
      readonly body: PumpRegistration;
    };
type Stock =
  | { readonly kind: 'shop'; readonly id: string; readonly body: ShopBody }
  | { readonly kind: 'technician'; readonly id: string; readonly body: TechnicianBody }
  | { readonly kind: 'instrument'; readonly id: string; readonly body: InstrumentBody }
  | { readonly kind: 'attachment'; readonly id: string; readonly body: AttachmentBody }
  | { readonly kind: 'lot'; readonly maker: string; readonly number: string; readonly body: LotBody }
  | { readonly kind: 'calibration'; readonly instrument: string; readonly body: CalibrationBody }
  | { readonly kind: 'interim-check'; readonly instrument: string; readonly body: InterimCheckBody }
  | { readonly kind: 'incident'; readonly instrument: string; readonly body: IncidentBody }
  | { readonly kind: 'instrument-void'; readonly instrument: string; readonly body: InstrumentVoidBody }
  | ({ readonly maker: string; readonly number: string } & LotMove)
  | { readonly kind: 'restocking'; readonly body: RestockingBody };
/** `distributor`: whose shop an approval is about; null where the directory has no such distributor. */
type Leave =
  | { readonly kind: 'authorisation'; readonly technician: string; readonly body: AuthorisationBody }
  | {
      readonly kind: 'authorisation-withdrawal';
      readonly authorisation: string;
      readonly body: AuthorisationWithdrawalBody;
    }
  | {
      readonly kind: 'approval';
      readonly maker: string;
      readonly distributor: string | null;
      readonly body: ApprovalBody;
    }
  | {
      readonly kind: 'approval-withdrawal';
      readonly approval: string;
      readonly distributor: string | null;
      readonly body: ApprovalWithdrawalBody;
    };

/** `distributor`: whose claim a decision is about; null where the maker's people see no such claim. */
type Warranty =
  | { readonly kind: 'claim'; readonly body: ClaimBody }
  | { readonly kind: 'claim-evidence'; readonly claim: string; readonly body: ClaimEvidenceBody }
  | {
      readonly kind: 'claim-decision';
      readonly claim: string;
      readonly distributor: string | null;
      readonly body: ClaimDecisionBody;
    }
  | { readonly kind: 'terms'; readonly maker: string; readonly terms: string; readonly body: TermsBody };
/** `issuer`: whose containment it is; null: there is none that the asker may know. */
type Containing =
  | {
      readonly kind: 'containment';
      readonly maker: string | null;
      readonly body: ContainmentBody;
      /** Units with the first record that matches, as they were when it was issued. */
      readonly reached: readonly (readonly [unit: string, record: string])[];
    }
  | {
      readonly kind: 'containment-progress';
      readonly containment: string;
      readonly issuer: string | null;
      readonly body: ProgressBody;
    }
  | { readonly kind: 'containment-lift'; readonly containment: string; readonly body: LiftBody }
  /** By the service: a unit comes under a containment, or out of it. */
  | ({ readonly kind: 'containment-unit'; readonly containment: string } & UnitContained);
export type UnitContained = {
  readonly unit: string;
  readonly is: 'in' | 'out';
  /** The record that brought it in; null of one that comes out. */
  readonly record: string | null;
};

/** What the caller asks. */
export type Asked =
  | Work
  | Registration
  | Stock
  | Leave
  | Warranty
  /** `person`: by the service's id, which stays. */
  | { readonly kind: 'erasure'; readonly person: string; readonly body: ErasureBody }
  | { readonly kind: 'disposition'; readonly record: string; readonly body: DispositionBody }
  | { readonly kind: 'correction'; readonly record: string; readonly body: CorrectionBody }
  | { readonly kind: 'identity'; readonly body: IdentityBody }
  | LifeRecord
  | {
      readonly kind: 'judgement';
      readonly record: string;
      readonly cause: string;
      readonly work: Frame & (Work | LifeRecord);
    }
  | Containing
  | { readonly kind: 'edition'; readonly maker: string; readonly edition: string; readonly checked: Edition };

/** Who asks, in whose name, and how often it may count. */
export type Frame = {
  /** The id that the fact gets when it is kept. */
  readonly fact: string;
  /** The organisation that the fact will belong to. */
  readonly owner: string;
  readonly client: string;
  readonly subject: string;
  /** The body as sent: what is hashed, and what fingerprints are made of. */
  readonly sent: unknown;
  /** Method and path as routed, which a key is bound to. */
  readonly route: string;
  /** The Idempotency-Key; null for a PUT, which says by its path what it is. */
  readonly key: string | null;
  /** Judge and write nothing. */
  readonly checkOnly: boolean;
};

export type Request<K extends Asked['kind'] = Asked['kind']> = Frame & Extract<Asked, { kind: K }>;

export function isWork(request: Request): request is Request<RecordKind> {
  return (recordKinds as readonly string[]).includes(request.kind);
}

export function isLotMove(request: Request): request is Request<LotMoveKind> {
  return (lotMoveKinds as readonly string[]).includes(request.kind);
}

/** Whose rows a decision may write: an approval is the maker's, and what follows from it the distributor's. */
export function organisationsOf(request: Request): string[] {
  const other = 'distributor' in request ? request.distributor : 'issuer' in request ? request.issuer : null;
  return other === null ? [request.owner] : [request.owner, other];
}

export function isLife(request: Request): request is Request<LifeKind> {
  return (lifeKinds as readonly string[]).includes(request.kind);
}

/** What became of a request. `answer` is the text of the JSON body, kept and replayed as it is. */
export type Outcome =
  | {
      readonly kind: 'kept';
      readonly status: 200 | 201;
      readonly answer: string;
      readonly replayed: boolean;
      /** The fact after which other records may still have to be judged again; null: none. */
      readonly judgesAgain: string | null;
    }
  | { readonly kind: 'refused'; readonly refusal: Refusal }
  | { readonly kind: 'failed'; readonly error: unknown };

/** Why nothing was kept, as a problem's code and what goes with it. */
export type Refusal = {
  readonly code: import('../../errors.ts').ProblemCode;
  readonly detail: string;
  readonly extra?: Readonly<Record<string, unknown>>;
};

import type { GraphQLResolveInfo, GraphQLScalarType, GraphQLScalarTypeConfig } from 'graphql';
import type { UnitView, CustodyView } from '../../app/read-unit.ts';
import type { RecordSeen } from '../record-parts.ts';
import type { Past, PastEntry } from '../../app/read-history.ts';
import type { UnitThenParent, MountingParent, StationParent, SettingParent, FittedParent, SealParent, TorqueParent, SettingReadingParent } from '../parents.ts';
import type { FindingView, ConcessionView, LimitView } from '../../app/view-findings.ts';
import type { StandingView } from '../../app/list-findings.ts';
import type { LotName } from '../../core/records/lot-name.ts';
import type { ClaimItem } from '../../app/list-claims.ts';
import type { Exposure, ExposedUnit } from '../../app/lot-exposure.ts';
import type { ContainmentView } from '../../app/containing/read-containments.ts';
import type { Contained } from '../../app/containing/list-contained.ts';
import type { LotUse } from '../../app/read-lots.ts';
import type { VerdictKept, VerdictChangeParent } from '../verdicts.ts';
import type { GraphContext } from '../context.ts';
export type Maybe<T> = T | null;
export type InputMaybe<T> = T | null | undefined;
export type Omit<T, K extends keyof T> = Pick<T, Exclude<keyof T, K>>;
export type RequireFields<T, K extends keyof T> = Omit<T, K> & { [P in K]-?: NonNullable<T[P]> };
/** All built-in and custom scalars, mapped to their actual values */
export type Scalars = {
  ID: { input: string; output: string; }
  String: { input: string; output: string; }
  Boolean: { input: boolean; output: boolean; }
  Int: { input: number; output: number; }
  Float: { input: number; output: number; }
  /** UTC with six decimals, such as 2026-03-14T09:25:00.000000Z. Taken with any offset. */
  Instant: { input: string; output: string; }
};

/** How a content is known. */
export type GraphBasis =
  | 'assumed'
  | 'built'
  | 'plate'
  | 'seen'
  | 'unknown';

/** What a control is built for, as far as that is decided. */
export type GraphBuiltFor = {
  readonly __typename?: 'BuiltFor';
  readonly rotation?: Maybe<Scalars['String']['output']>;
  readonly size?: Maybe<Scalars['String']['output']>;
  readonly voltage?: Maybe<Scalars['String']['output']>;
};

export type GraphCheckResult = {
  readonly __typename?: 'CheckResult';
  readonly check: Scalars['String']['output'];
  readonly reason?: Maybe<Scalars['String']['output']>;
  /** passed, failed, not-done or not-applicable. */
  readonly result: Scalars['String']['output'];
  readonly value?: Maybe<GraphQuantity>;
};

/** A claim under warranty, and how it stands. */
export type GraphClaim = {
  readonly __typename?: 'Claim';
  readonly distributor: Scalars['String']['output'];
  readonly failed: GraphInterval;
  readonly failureMode: Scalars['String']['output'];
  readonly id: Scalars['ID']['output'];
  /** pump, control, kit-part or workmanship. */
  readonly part: Scalars['String']['output'];
  readonly raised: GraphInterval;
  /** The claim as it was recorded. */
  readonly record?: Maybe<GraphRecord>;
  readonly recordedAt: Scalars['Instant']['output'];
  /** The distributor's own id of it. */
  readonly reference: Scalars['String']['output'];
  /** Whether evidence was recorded after a decision. */
  readonly reopened: Scalars['Boolean']['output'];
  /** open, more-evidence, accepted, declined, goodwill; or replaced: another claim corrects it. */
  readonly status: Scalars['String']['output'];
  readonly symptom: Scalars['String']['output'];
  /** The unit that it names. */
  readonly unit?: Maybe<GraphUnit>;
};

export type GraphClaimConnection = {
  readonly __typename?: 'ClaimConnection';
  readonly edges: ReadonlyArray<GraphClaimEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphClaimEdge = {
  readonly __typename?: 'ClaimEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphClaim;
};

/** Which claims count. Times are of the failure and half-open: from counts, to does not. */
export type GraphClaimFilter = {
  readonly failedFrom?: InputMaybe<Scalars['Instant']['input']>;
  readonly failedTo?: InputMaybe<Scalars['Instant']['input']>;
  /** pump, control, kit-part or workmanship. */
  readonly part?: InputMaybe<Scalars['String']['input']>;
  /** open, more-evidence, accepted, declined or goodwill. */
  readonly status?: InputMaybe<Scalars['String']['input']>;
};

/** A lot, and how many claims there are about units that had a part of it when they failed, or had had one before. */
export type GraphClaimedLot = {
  readonly __typename?: 'ClaimedLot';
  /** Those that the filter takes. A claim counts for each of the lots that it may be about. */
  readonly claims: Scalars['Int']['output'];
  readonly lot: GraphLot;
};

export type GraphClaimedLotConnection = {
  readonly __typename?: 'ClaimedLotConnection';
  readonly edges: ReadonlyArray<GraphClaimedLotEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphClaimedLotEdge = {
  readonly __typename?: 'ClaimedLotEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphClaimedLot;
};

/** Later evidence of this kind at this place. */
export type GraphClear = {
  readonly __typename?: 'Clear';
  readonly kind: Scalars['String']['output'];
  readonly place: Scalars['String']['output'];
};

/** Leave to use a unit in spite of a finding, with limits or an end. */
export type GraphConcession = {
  readonly __typename?: 'Concession';
  /** Whether it has ended by the time that is asked for. */
  readonly ended: Scalars['Boolean']['output'];
  /** Within which the unit may be used. */
  readonly limits: ReadonlyArray<GraphConcessionLimit>;
  /** The disposition that gives it; null: it is not the asker's to see. */
  readonly record?: Maybe<GraphRecord>;
  /** From then on it holds the unit again; null: it has no end. */
  readonly until?: Maybe<Scalars['Instant']['output']>;
};

/** A number, or words. */
export type GraphConcessionLimit = {
  readonly __typename?: 'ConcessionLimit';
  readonly atMost?: Maybe<GraphQuantity>;
  /** Null also where it is for others to read. */
  readonly text?: Maybe<Scalars['String']['output']>;
  readonly what?: Maybe<Scalars['String']['output']>;
};

export type GraphConformity =
  | 'conforms'
  | 'outside'
  /** The limit is met, or missed, but not so that it could be relied on. */
  | 'undecided';

/** How many units of one containment were reached by records of one shop. */
export type GraphContainedCount = {
  readonly __typename?: 'ContainedCount';
  readonly containment: GraphContainment;
  readonly distributor?: Maybe<Scalars['String']['output']>;
  readonly done: Scalars['Int']['output'];
  readonly overdue: Scalars['Int']['output'];
  readonly shop?: Maybe<Scalars['String']['output']>;
  readonly units: Scalars['Int']['output'];
};

export type GraphContainedCountConnection = {
  readonly __typename?: 'ContainedCountConnection';
  readonly edges: ReadonlyArray<GraphContainedCountEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphContainedCountEdge = {
  readonly __typename?: 'ContainedCountEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphContainedCount;
};

/** What is left out is not asked for. */
export type GraphContainedFilter = {
  readonly containment?: InputMaybe<Scalars['ID']['input']>;
  /** By the record that a unit was reached by. */
  readonly distributor?: InputMaybe<Scalars['String']['input']>;
  readonly done?: InputMaybe<Scalars['Boolean']['input']>;
  readonly overdue?: InputMaybe<Scalars['Boolean']['input']>;
  /** stop, inspect or inform. */
  readonly severity?: InputMaybe<Scalars['String']['input']>;
  readonly shop?: InputMaybe<Scalars['String']['input']>;
  /** What was told last: secured, inspected, cleared, converted or scrapped. */
  readonly step?: InputMaybe<Scalars['String']['input']>;
};

/** A unit under a containment, and what was done about it. */
export type GraphContainedUnit = {
  readonly __typename?: 'ContainedUnit';
  /** When it was known that a later record brought it in; null: it was in at issue. */
  readonly addedAt?: Maybe<Scalars['Instant']['output']>;
  /** Whether it was reached when the containment was issued. */
  readonly atIssue: Scalars['Boolean']['output'];
  readonly containment: GraphContainment;
  /** Whose record that is, and of which shop; null: they are not the asker's to see. */
  readonly distributor?: Maybe<Scalars['String']['output']>;
  readonly done: Scalars['Boolean']['output'];
  readonly dueBy?: Maybe<Scalars['Instant']['output']>;
  readonly overdue: Scalars['Boolean']['output'];
  /** By which it was reached; null: it is not the asker's to see. */
  readonly record?: Maybe<GraphRecord>;
  readonly shop?: Maybe<Scalars['String']['output']>;
  /** What was told last: secured, inspected, cleared, converted or scrapped; null: nothing yet. */
  readonly step?: Maybe<Scalars['String']['output']>;
  readonly toldAt?: Maybe<Scalars['Instant']['output']>;
  readonly unit?: Maybe<GraphUnit>;
};

export type GraphContainedUnitConnection = {
  readonly __typename?: 'ContainedUnitConnection';
  readonly edges: ReadonlyArray<GraphContainedUnitEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphContainedUnitEdge = {
  readonly __typename?: 'ContainedUnitEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphContainedUnit;
};

/** What is under suspicion: whatever it reaches is stopped, is to be inspected, or is told of. */
export type GraphContainment = {
  readonly __typename?: 'Containment';
  /** By when each unit should be done, such as P30D; null: nobody said. */
  readonly dueWithin?: Maybe<Scalars['String']['output']>;
  readonly id: Scalars['ID']['output'];
  /** What is to be done. */
  readonly instruction: Scalars['String']['output'];
  readonly issuedAt: Scalars['Instant']['output'];
  readonly issuedBy: Scalars['String']['output'];
  readonly reason: Scalars['String']['output'];
  readonly reference: Scalars['String']['output'];
  /** stop, inspect or inform. */
  readonly severity: Scalars['String']['output'];
};

export type GraphContradiction = {
  readonly __typename?: 'Contradiction';
  /** When it was found otherwise. */
  readonly before: Scalars['Instant']['output'];
  readonly found?: Maybe<ReadonlyArray<GraphHeld>>;
  readonly station: Scalars['String']['output'];
};

export type GraphControl = GraphUnit & {
  readonly __typename?: 'Control';
  readonly body?: Maybe<Scalars['String']['output']>;
  readonly builtAt?: Maybe<Scalars['Instant']['output']>;
  readonly builtFor: GraphBuiltFor;
  readonly custody?: Maybe<GraphCustody>;
  readonly findings: ReadonlyArray<GraphOpenFinding>;
  readonly fit: ReadonlyArray<GraphStationContent>;
  readonly function?: Maybe<Scalars['String']['output']>;
  readonly history: GraphHistory;
  readonly hours?: Maybe<GraphQuantity>;
  readonly id: Scalars['ID']['output'];
  readonly maker: Scalars['String']['output'];
  readonly mergedInto?: Maybe<GraphUnit>;
  readonly mountings: GraphMountingConnection;
  readonly name?: Maybe<Scalars['String']['output']>;
  /** The pump under it now; null: it is on the shelf. */
  readonly pump?: Maybe<GraphPump>;
  readonly retiredSince?: Maybe<Scalars['Instant']['output']>;
  readonly settings: ReadonlyArray<GraphSettingValue>;
  readonly status: GraphStatus;
};


export type GraphControlHistoryArgs = {
  known?: InputMaybe<Scalars['Instant']['input']>;
  performed?: InputMaybe<Scalars['Instant']['input']>;
};


export type GraphControlMountingsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  first?: Scalars['Int']['input'];
};

/** Conversions of one shop, function and month. What was made void isn't counted; what was corrected is, once. */
export type GraphConversionCount = {
  readonly __typename?: 'ConversionCount';
  readonly conversions: Scalars['Int']['output'];
  readonly distributor?: Maybe<Scalars['String']['output']>;
  /** Those that nothing held when they were recorded. */
  readonly firstPass: Scalars['Int']['output'];
  /** Null: it matched none. */
  readonly function?: Maybe<Scalars['String']['output']>;
  /** Of the end of the work, in UTC, such as 2026-03. */
  readonly month: Scalars['String']['output'];
  readonly shop?: Maybe<Scalars['String']['output']>;
};

export type GraphConversionCountConnection = {
  readonly __typename?: 'ConversionCountConnection';
  readonly edges: ReadonlyArray<GraphConversionCountEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphConversionCountEdge = {
  readonly __typename?: 'ConversionCountEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphConversionCount;
};

/** Which conversions are counted. Times are half-open: from counts, to does not. */
export type GraphConversionFilter = {
  /** That the control was left with, as judged then. */
  readonly function?: InputMaybe<Scalars['String']['input']>;
  readonly performedFrom?: InputMaybe<Scalars['Instant']['input']>;
  readonly performedTo?: InputMaybe<Scalars['Instant']['input']>;
  readonly shop?: InputMaybe<Scalars['String']['input']>;
};

export type GraphCustody = {
  readonly __typename?: 'Custody';
  /** in: in at the shop; out: out of it. */
  readonly is: GraphWhereabouts;
  readonly record?: Maybe<GraphRecord>;
  readonly shop: Scalars['String']['output'];
  readonly since: Scalars['Instant']['output'];
};

/** As GET /v1/due takes it. */
export type GraphDueFilter = {
  /** Whose work ended at least so many days ago. */
  readonly days?: InputMaybe<Scalars['Int']['input']>;
  /** true: what somebody else has taken over; left out or false: what nobody has. */
  readonly handedOver?: InputMaybe<Scalars['Boolean']['input']>;
  /** Of the record that opened it, such as conversion. */
  readonly kind?: InputMaybe<Scalars['String']['input']>;
  /** true: only what is overdue; false: only what is not. */
  readonly overdue?: InputMaybe<Scalars['Boolean']['input']>;
  /** How long after the work a due is overdue where the edition does not say: P14D; left out: P30D. */
  readonly overdueAfter?: InputMaybe<Scalars['String']['input']>;
  readonly performedFrom?: InputMaybe<Scalars['Instant']['input']>;
  readonly performedTo?: InputMaybe<Scalars['Instant']['input']>;
};

export type GraphEvenDrift = {
  readonly __typename?: 'EvenDrift';
  readonly estimate: GraphQuantity;
  readonly probability?: Maybe<Scalars['Float']['output']>;
  readonly verdict: GraphConformity;
};

/** A unit that ever had a part of a lot. */
export type GraphExposedUnit = {
  readonly __typename?: 'ExposedUnit';
  /** About it, or about what it was mounted with at the failure. */
  readonly claims: ReadonlyArray<GraphClaim>;
  /** That put parts of the lot into it. */
  readonly records: ReadonlyArray<GraphRecord>;
  readonly still: GraphUnitStill;
  readonly unit?: Maybe<GraphUnit>;
};

export type GraphExposedUnitConnection = {
  readonly __typename?: 'ExposedUnitConnection';
  readonly edges: ReadonlyArray<GraphExposedUnitEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphExposedUnitEdge = {
  readonly __typename?: 'ExposedUnitEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphExposedUnit;
};

/** What a rule said of a record. */
export type GraphFinding = {
  readonly __typename?: 'Finding';
  /** One sentence for people. */
  readonly because: Scalars['String']['output'];
  /** Any one of these clears it. */
  readonly clearedBy: ReadonlyArray<GraphClear>;
  readonly expected?: Maybe<Scalars['String']['output']>;
  readonly found?: Maybe<Scalars['String']['output']>;
  /** JSON pointer into the body as sent. */
  readonly pointer: Scalars['String']['output'];
  /** The table of rules is in README. */
  readonly rule: Scalars['String']['output'];
  /** hold: it must not ship; due: evidence is still to come; note: to be read. */
  readonly severity: Scalars['String']['output'];
};

/** Whether the instrument is fine enough for the requirement. */
export type GraphFitness = {
  readonly __typename?: 'Fitness';
  /** The ratio is at least 4; null: it can not be told. */
  readonly fit?: Maybe<Scalars['Boolean']['output']>;
  /** The reading over the most that the instrument shows. */
  readonly partOfRange?: Maybe<Scalars['Float']['output']>;
  /** Half of what lies between the limits over the expanded uncertainty. */
  readonly ratio?: Maybe<Scalars['Float']['output']>;
};

/** What was put in. */
export type GraphFittedPart = {
  readonly __typename?: 'FittedPart';
  readonly element: GraphNamed;
  /** Null where none was named, or it is not known. */
  readonly lot?: Maybe<GraphLot>;
  readonly quantity: Scalars['Int']['output'];
  readonly station: Scalars['String']['output'];
};

export type GraphHeld = {
  readonly __typename?: 'Held';
  readonly element: Scalars['String']['output'];
  readonly quantity: Scalars['Int']['output'];
};

/** As GET /v1/held takes it; beside a shop and a rule. Times are of the end of the work and half-open: from counts, to does not. */
export type GraphHeldFilter = {
  /** Whose work ended at least so many days ago. */
  readonly days?: InputMaybe<Scalars['Int']['input']>;
  /** Of the record that opened it, such as conversion. */
  readonly kind?: InputMaybe<Scalars['String']['input']>;
  readonly performedFrom?: InputMaybe<Scalars['Instant']['input']>;
  readonly performedTo?: InputMaybe<Scalars['Instant']['input']>;
};

/** A unit as it was, and the records that led there. */
export type GraphHistory = {
  readonly __typename?: 'History';
  /** In the order in which the work was done, or against it. */
  readonly entries: GraphHistoryEntryConnection;
  /** What was recorded before this can not change any more. */
  readonly horizon: Scalars['Instant']['output'];
  /** And as it was known at this time: the horizon where a later one was asked; null: as known now. */
  readonly known?: Maybe<Scalars['Instant']['output']>;
  readonly mountings: GraphMountingConnection;
  /** The state is as at this time; null: as it is now. */
  readonly performed?: Maybe<Scalars['Instant']['output']>;
  /** Whether the same question gets the same answer for ever. */
  readonly settled: Scalars['Boolean']['output'];
  readonly state: GraphUnitThen;
};


/** A unit as it was, and the records that led there. */
export type GraphHistoryEntriesArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  first?: Scalars['Int']['input'];
  order?: GraphOrder;
};


/** A unit as it was, and the records that led there. */
export type GraphHistoryMountingsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  first?: Scalars['Int']['input'];
};

/** One record on the unit. Of another organisation's only that there was work, and when. */
export type GraphHistoryEntry = {
  readonly __typename?: 'HistoryEntry';
  readonly correctedBy?: Maybe<GraphRecord>;
  /** False where a correction has replaced it. */
  readonly counts: Scalars['Boolean']['output'];
  readonly kind: Scalars['String']['output'];
  readonly performed: GraphInterval;
  /** Null where the record is another's to read. */
  readonly record?: Maybe<GraphRecord>;
  readonly recordedAt: Scalars['Instant']['output'];
};

export type GraphHistoryEntryConnection = {
  readonly __typename?: 'HistoryEntryConnection';
  readonly edges: ReadonlyArray<GraphHistoryEntryEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphHistoryEntryEdge = {
  readonly __typename?: 'HistoryEntryEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphHistoryEntry;
};

/** When work was done: both ends belong to it, an exact time is both. */
export type GraphInterval = {
  readonly __typename?: 'Interval';
  readonly from: Scalars['Instant']['output'];
  readonly to: Scalars['Instant']['output'];
};

export type GraphLimit = {
  readonly __typename?: 'Limit';
  /** Of a setting: what it comes from, in words. */
  readonly from?: Maybe<Scalars['String']['output']>;
  readonly unit: Scalars['String']['output'];
  readonly value: Scalars['String']['output'];
};

/** A batch of kits or parts. */
export type GraphLot = {
  readonly __typename?: 'Lot';
  /** Claims about units that had a part of it, in the order in which they were recorded. */
  readonly claims: GraphClaimConnection;
  /** How far it went, and how many of the units are claimed. */
  readonly exposure: GraphLotExposure;
  readonly maker: Scalars['String']['output'];
  readonly number: Scalars['String']['output'];
  /** What it is said to be of: one part, unless distributors say otherwise of each other. */
  readonly parts: ReadonlyArray<Scalars['String']['output']>;
  /** The units that ever had a part of it, by their ids. */
  readonly units: GraphExposedUnitConnection;
  /** Where its parts went, by themselves or in kits that hold pieces of it, in the order in which it was recorded: a unit with three uses is listed three times. */
  readonly uses: GraphLotUseConnection;
};


/** A batch of kits or parts. */
export type GraphLotClaimsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphClaimFilter>;
  first?: Scalars['Int']['input'];
};


/** A batch of kits or parts. */
export type GraphLotUnitsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  claimed?: InputMaybe<Scalars['Boolean']['input']>;
  first?: Scalars['Int']['input'];
  still?: InputMaybe<GraphUnitStill>;
};


/** A batch of kits or parts. */
export type GraphLotUsesArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  first?: Scalars['Int']['input'];
};

export type GraphLotConnection = {
  readonly __typename?: 'LotConnection';
  readonly edges: ReadonlyArray<GraphLotEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphLotEdge = {
  readonly __typename?: 'LotEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphLot;
};

/** How far a lot went, in units, and how many of them are claimed: by themselves, or by what they were mounted with when that failed. */
export type GraphLotExposure = {
  readonly __typename?: 'LotExposure';
  readonly accepted: Scalars['Int']['output'];
  /** Of all these units those with a claim; with two claims of two statuses a unit is in both lines below. */
  readonly claimed: Scalars['Int']['output'];
  /** How many claims that are. */
  readonly claims: Scalars['Int']['output'];
  readonly declined: Scalars['Int']['output'];
  readonly goodwill: Scalars['Int']['output'];
  readonly moreEvidence: Scalars['Int']['output'];
  /** That have one now. */
  readonly now: Scalars['Int']['output'];
  /** That had one and have it no more. */
  readonly once: Scalars['Int']['output'];
  readonly open: Scalars['Int']['output'];
  /** That ever had a part of it. */
  readonly units: Scalars['Int']['output'];
  /** Of which nobody can say: so it is always of a seal. */
  readonly unknown: Scalars['Int']['output'];
};

export type GraphLotUse = {
  readonly __typename?: 'LotUse';
  /** The element or seal. */
  readonly item: Scalars['String']['output'];
  /** The station, or the joint of a seal. */
  readonly place: Scalars['String']['output'];
  readonly quantity: Scalars['Int']['output'];
  /** The record that put it in. */
  readonly record?: Maybe<GraphRecord>;
  /** element or seal. */
  readonly role: Scalars['String']['output'];
  /** Whether it is still in; always unknown of a seal. */
  readonly still: GraphStill;
  /** The lot of kits that it came in; null: it was used from the lot itself. */
  readonly through?: Maybe<GraphLot>;
  readonly unit?: Maybe<GraphUnit>;
};

export type GraphLotUseConnection = {
  readonly __typename?: 'LotUseConnection';
  readonly edges: ReadonlyArray<GraphLotUseEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphLotUseEdge = {
  readonly __typename?: 'LotUseEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphLotUse;
};

export type GraphMeasurement = {
  readonly __typename?: 'Measurement';
  readonly conditions: ReadonlyArray<GraphNamedQuantity>;
  readonly instrument: GraphNamed;
  readonly measured: Scalars['String']['output'];
  readonly reading: GraphQuantity;
};

/** What sat on what, from when to when. */
export type GraphMounting = {
  readonly __typename?: 'Mounting';
  readonly from: Scalars['Instant']['output'];
  /** Null: it still does, or did at the time asked for. */
  readonly to?: Maybe<Scalars['Instant']['output']>;
  readonly unit?: Maybe<GraphUnit>;
};

export type GraphMountingConnection = {
  readonly __typename?: 'MountingConnection';
  readonly edges: ReadonlyArray<GraphMountingEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphMountingEdge = {
  readonly __typename?: 'MountingEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphMounting;
};

/** An id, or why it is not known. */
export type GraphNamed = {
  readonly __typename?: 'Named';
  readonly id?: Maybe<Scalars['String']['output']>;
  readonly unknown?: Maybe<Scalars['String']['output']>;
};

/** A measured value by its name. */
export type GraphNamedQuantity = {
  readonly __typename?: 'NamedQuantity';
  readonly name: Scalars['String']['output'];
  readonly quantity: GraphQuantity;
};

/** A hold or due that nothing has cleared yet. */
export type GraphOpenFinding = {
  readonly __typename?: 'OpenFinding';
  readonly clearedBy: ReadonlyArray<GraphClear>;
  /** Leave to use the unit nevertheless. The finding counts for nothing until that has ended. */
  readonly concession?: Maybe<GraphConcession>;
  /** Of a due that a named party has taken over: the start-up or movement that says so. */
  readonly handedOver?: Maybe<GraphRecord>;
  readonly pointer: Scalars['String']['output'];
  /** The record that opened it; null: it is not the asker's to see. */
  readonly record?: Maybe<GraphRecord>;
  readonly rule: Scalars['String']['output'];
  readonly severity: Scalars['String']['output'];
};

export type GraphOrder =
  | 'newest'
  | 'oldest';

export type GraphPageInfo = {
  readonly __typename?: 'PageInfo';
  /** Send it as `after` to get what follows. */
  readonly endCursor?: Maybe<Scalars['String']['output']>;
  readonly hasNextPage: Scalars['Boolean']['output'];
  /** Whether anything comes before the page. */
  readonly hasPreviousPage: Scalars['Boolean']['output'];
  readonly startCursor?: Maybe<Scalars['String']['output']>;
};

export type GraphPump = GraphUnit & {
  readonly __typename?: 'Pump';
  readonly builtAt?: Maybe<Scalars['Instant']['output']>;
  /** The control on it now; null: it is bare. */
  readonly control?: Maybe<GraphControl>;
  readonly custody?: Maybe<GraphCustody>;
  readonly findings: ReadonlyArray<GraphOpenFinding>;
  readonly fit: ReadonlyArray<GraphStationContent>;
  readonly fluid?: Maybe<Scalars['String']['output']>;
  readonly function?: Maybe<Scalars['String']['output']>;
  readonly history: GraphHistory;
  readonly hours?: Maybe<GraphQuantity>;
  readonly id: Scalars['ID']['output'];
  readonly maker: Scalars['String']['output'];
  readonly mergedInto?: Maybe<GraphUnit>;
  readonly mountings: GraphMountingConnection;
  readonly name?: Maybe<Scalars['String']['output']>;
  readonly retiredSince?: Maybe<Scalars['Instant']['output']>;
  /** Its sense of rotation. */
  readonly rotation?: Maybe<Scalars['String']['output']>;
  readonly series?: Maybe<Scalars['String']['output']>;
  readonly settings: ReadonlyArray<GraphSettingValue>;
  /** Its displacement. */
  readonly size?: Maybe<Scalars['String']['output']>;
  readonly status: GraphStatus;
};


export type GraphPumpHistoryArgs = {
  known?: InputMaybe<Scalars['Instant']['input']>;
  performed?: InputMaybe<Scalars['Instant']['input']>;
};


export type GraphPumpMountingsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  first?: Scalars['Int']['input'];
};

/** A measured value: the decimals as read, and the unit. */
export type GraphQuantity = {
  readonly __typename?: 'Quantity';
  readonly unit: Scalars['String']['output'];
  readonly value: Scalars['String']['output'];
};

/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQuery = {
  readonly __typename?: 'Query';
  /** A maker's lots with claims, most claims first. */
  readonly claimedLots: GraphClaimedLotConnection;
  /** The units under containments that are not lifted, by containment and unit. */
  readonly contained: GraphContainedUnitConnection;
  /** How many of them there are, by containment, distributor and shop. */
  readonly containedCounts: GraphContainedCountConnection;
  /** A control by maker and serial or tag, as it is now. */
  readonly control?: Maybe<GraphControl>;
  /** Which rules held conversions of a period, and which refused them; the busiest first. */
  readonly conversionRules: GraphRuleCountConnection;
  /** Conversions by shop, function and month, the latest month first. */
  readonly conversions: GraphConversionCountConnection;
  /** Evidence that is still to come, and that nobody else has taken over. Of the oldest record first. With known: as it was known then. */
  readonly due: GraphUnitFindingConnection;
  /** What is due on them now, counted; as GET /v1/due/counts does. */
  readonly dueCounts: GraphStandingCountConnection;
  /** What holds units: it must not ship. Of the oldest record first. With known: as it was known then, as in GET /v1/held. */
  readonly held: GraphUnitFindingConnection;
  /** What holds a distributor's units now, counted; as GET /v1/held/counts does. */
  readonly heldCounts: GraphStandingCountConnection;
  readonly lot?: Maybe<GraphLot>;
  /** A distributor's own lots. */
  readonly lots: GraphLotConnection;
  /** A pump by maker and serial, as it is now. */
  readonly pump?: Maybe<GraphPump>;
  readonly record?: Maybe<GraphRecord>;
  /** Records in the order in which they were recorded. */
  readonly records: GraphRecordConnection;
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryClaimedLotsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphClaimFilter>;
  first?: Scalars['Int']['input'];
  maker: Scalars['String']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryContainedArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphContainedFilter>;
  first?: Scalars['Int']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryContainedCountsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphContainedFilter>;
  first?: Scalars['Int']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryControlArgs = {
  maker: Scalars['String']['input'];
  serial: Scalars['String']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryConversionRulesArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphConversionFilter>;
  first?: Scalars['Int']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryConversionsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphConversionFilter>;
  first?: Scalars['Int']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryDueArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphDueFilter>;
  first?: Scalars['Int']['input'];
  known?: InputMaybe<Scalars['Instant']['input']>;
  rule?: InputMaybe<Scalars['String']['input']>;
  shop?: InputMaybe<Scalars['String']['input']>;
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryDueCountsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphDueFilter>;
  first?: Scalars['Int']['input'];
  known?: InputMaybe<Scalars['Instant']['input']>;
  rule?: InputMaybe<Scalars['String']['input']>;
  shop?: InputMaybe<Scalars['String']['input']>;
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryHeldArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphHeldFilter>;
  first?: Scalars['Int']['input'];
  known?: InputMaybe<Scalars['Instant']['input']>;
  rule?: InputMaybe<Scalars['String']['input']>;
  shop?: InputMaybe<Scalars['String']['input']>;
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryHeldCountsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphHeldFilter>;
  first?: Scalars['Int']['input'];
  known?: InputMaybe<Scalars['Instant']['input']>;
  rule?: InputMaybe<Scalars['String']['input']>;
  shop?: InputMaybe<Scalars['String']['input']>;
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryLotArgs = {
  maker: Scalars['String']['input'];
  number: Scalars['String']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryLotsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  first?: Scalars['Int']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryPumpArgs = {
  maker: Scalars['String']['input'];
  serial: Scalars['String']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryRecordArgs = {
  id: Scalars['ID']['input'];
};


/** What the token's distributor has recorded; with warranty:read what concerns the maker's own make. */
export type GraphQueryRecordsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<GraphRecordFilter>;
  first?: Scalars['Int']['input'];
  order?: GraphOrder;
};

/** A fact about units: what was done, or seen, or decided, with the judgement given on it at the time. */
export type GraphRecord = {
  readonly __typename?: 'Record';
  readonly checks: ReadonlyArray<GraphCheckResult>;
  /** Of a disposition: the record that it is about; of a correction: the one that it replaces. */
  readonly concerns?: Maybe<GraphRecord>;
  /** The correction that has replaced it. */
  readonly correctedBy?: Maybe<GraphRecord>;
  readonly edition?: Maybe<Scalars['String']['output']>;
  /** As judged when it was recorded. */
  readonly findings: ReadonlyArray<GraphFinding>;
  readonly fitted: ReadonlyArray<GraphFittedPart>;
  /** That the control was left with, as judged then. */
  readonly function?: Maybe<Scalars['String']['output']>;
  /** How first-hand it is. */
  readonly grade?: Maybe<Scalars['String']['output']>;
  readonly id: Scalars['ID']['output'];
  /** Facts that judged it again; the last counts. */
  readonly judgedAgain: ReadonlyArray<GraphRecord>;
  /** Such as conversion, repair or correction. */
  readonly kind: Scalars['String']['output'];
  readonly maker?: Maybe<Scalars['String']['output']>;
  readonly measurements: ReadonlyArray<GraphMeasurement>;
  readonly note?: Maybe<Scalars['String']['output']>;
  /** What it opened and nothing has cleared. */
  readonly open: ReadonlyArray<GraphOpenFinding>;
  readonly performed: GraphInterval;
  readonly recordedAt: Scalars['Instant']['output'];
  /** The shop's own id of this record. */
  readonly reference?: Maybe<Scalars['String']['output']>;
  readonly removed: ReadonlyArray<GraphRemovedPart>;
  /** Which rules it was judged by. */
  readonly ruleset: Scalars['String']['output'];
  readonly seals: ReadonlyArray<GraphRenewedSeal>;
  readonly settings: ReadonlyArray<GraphSettingReading>;
  readonly shop?: Maybe<Scalars['String']['output']>;
  /** As it is now. */
  readonly status: GraphStatus;
  /** Who did the work, by the shop's own id. Null for the maker's people, and where it was not said. */
  readonly technician?: Maybe<GraphNamed>;
  readonly torques: ReadonlyArray<GraphTorqueReading>;
  readonly units: ReadonlyArray<GraphUnit>;
  readonly workOrder?: Maybe<Scalars['String']['output']>;
};

export type GraphRecordConnection = {
  readonly __typename?: 'RecordConnection';
  readonly edges: ReadonlyArray<GraphRecordEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphRecordEdge = {
  readonly __typename?: 'RecordEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphRecord;
};

/** What is left out is not asked for. Times are half-open: from counts, to does not. */
export type GraphRecordFilter = {
  /** That the control was left with, as judged then. */
  readonly function?: InputMaybe<Scalars['String']['input']>;
  readonly kinds?: InputMaybe<ReadonlyArray<Scalars['String']['input']>>;
  /** What a lot is of that a part or seal of the record is from. */
  readonly kitPart?: InputMaybe<Scalars['String']['input']>;
  /** By the end of the work. */
  readonly performedFrom?: InputMaybe<Scalars['Instant']['input']>;
  readonly performedTo?: InputMaybe<Scalars['Instant']['input']>;
  readonly recordedFrom?: InputMaybe<Scalars['Instant']['input']>;
  readonly recordedTo?: InputMaybe<Scalars['Instant']['input']>;
  readonly shop?: InputMaybe<Scalars['String']['input']>;
  /** As it is now. */
  readonly status?: InputMaybe<GraphStatus>;
};

/** What came out and stayed out. */
export type GraphRemovedPart = {
  readonly __typename?: 'RemovedPart';
  readonly element: GraphNamed;
  readonly quantity: Scalars['Int']['output'];
  readonly station: Scalars['String']['output'];
};

export type GraphRenewedSeal = {
  readonly __typename?: 'RenewedSeal';
  readonly joint: Scalars['String']['output'];
  readonly lot?: Maybe<GraphLot>;
  readonly quantity: Scalars['Int']['output'];
  readonly seal: GraphNamed;
};

/** What a rule did to conversions of the period. */
export type GraphRuleCount = {
  readonly __typename?: 'RuleCount';
  /** Conversions that it held when they were recorded. */
  readonly held: Scalars['Int']['output'];
  /** Bodies that it refused; null: they are for who sent them. */
  readonly refused?: Maybe<Scalars['Int']['output']>;
  readonly rule: Scalars['String']['output'];
};

export type GraphRuleCountConnection = {
  readonly __typename?: 'RuleCountConnection';
  readonly edges: ReadonlyArray<GraphRuleCountEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphRuleCountEdge = {
  readonly __typename?: 'RuleCountEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphRuleCount;
};

export type GraphSettingReading = {
  readonly __typename?: 'SettingReading';
  /** Under which it was read. */
  readonly conditions: ReadonlyArray<GraphNamedQuantity>;
  readonly instrument: GraphNamed;
  readonly reading: GraphQuantity;
  readonly setting: Scalars['String']['output'];
  /** As judged when it was recorded; null: nothing limits it. */
  readonly verdict?: Maybe<GraphVerdict>;
  /** What later facts made of it, in the order in which they were judged. */
  readonly verdictChanges: ReadonlyArray<GraphVerdictChange>;
};

export type GraphSettingValue = {
  readonly __typename?: 'SettingValue';
  readonly reading: GraphQuantity;
  /** The record that last read it; null: it is not the asker's to see. */
  readonly record?: Maybe<GraphRecord>;
  readonly setting: Scalars['String']['output'];
};

/** How many findings stand now, of one shop, rule and age. */
export type GraphStandingCount = {
  readonly __typename?: 'StandingCount';
  readonly findings: Scalars['Int']['output'];
  /** Whole days since the work ended: the first and the last of the band; without a last: and more. */
  readonly fromDays: Scalars['Int']['output'];
  /** How many of the findings are overdue; null of what is held. */
  readonly overdue?: Maybe<Scalars['Int']['output']>;
  readonly rule: Scalars['String']['output'];
  readonly shop?: Maybe<Scalars['String']['output']>;
  readonly toDays?: Maybe<Scalars['Int']['output']>;
  /** On how many units. */
  readonly units: Scalars['Int']['output'];
};

export type GraphStandingCountConnection = {
  readonly __typename?: 'StandingCountConnection';
  readonly edges: ReadonlyArray<GraphStandingCountEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphStandingCountEdge = {
  readonly __typename?: 'StandingCountEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphStandingCount;
};

/** What sits at a station, and how that is known. */
export type GraphStationContent = {
  readonly __typename?: 'StationContent';
  readonly basis: GraphBasis;
  /** An empty list: nothing sits there; null: it is not known. */
  readonly elements?: Maybe<ReadonlyArray<GraphHeld>>;
  /** The record since which it is there; null: it is not the asker's to see. */
  readonly record?: Maybe<GraphRecord>;
  readonly station: Scalars['String']['output'];
};

export type GraphStatus =
  | 'held'
  | 'incomplete'
  | 'released';

export type GraphStill =
  | 'in'
  | 'out'
  | 'unknown';

/** A joint closed to a torque. */
export type GraphTorqueReading = {
  readonly __typename?: 'TorqueReading';
  /** set: the wrench clicked at the reading; indicated: it was read off. */
  readonly how: Scalars['String']['output'];
  readonly instrument: GraphNamed;
  readonly joint: Scalars['String']['output'];
  /** Of a joint of several screws one for each. */
  readonly readings: ReadonlyArray<GraphQuantity>;
  /** What later facts made of them, in the order in which they were judged. */
  readonly verdictChanges: ReadonlyArray<GraphVerdictChange>;
  /** As judged when it was recorded, one for each reading; none where the edition sets no limits. */
  readonly verdicts: ReadonlyArray<GraphVerdict>;
};

/** A pump or a control, known by maker and serial. */
export type GraphUnit = {
  /** Since when it exists; null: not known. */
  readonly builtAt?: Maybe<Scalars['Instant']['output']>;
  /** Where it is; null: nobody has said, or it is not the asker's to know. */
  readonly custody?: Maybe<GraphCustody>;
  /** What holds it or is still due. */
  readonly findings: ReadonlyArray<GraphOpenFinding>;
  /** A station that is not listed is not known. */
  readonly fit: ReadonlyArray<GraphStationContent>;
  /** The function declared last; null: it matches none. */
  readonly function?: Maybe<Scalars['String']['output']>;
  /** As at `performed`, as known at `known`. */
  readonly history: GraphHistory;
  /** Its running hours, as last read. */
  readonly hours?: Maybe<GraphQuantity>;
  /** The service's id of the unit. */
  readonly id: Scalars['ID']['output'];
  readonly maker: Scalars['String']['output'];
  /** The unit that this one turned out to be. */
  readonly mergedInto?: Maybe<GraphUnit>;
  /** What sat on it or it sat on, in the order of time. */
  readonly mountings: GraphMountingConnection;
  /** The serial or tag as written; null for a control that is known by its pump alone. */
  readonly name?: Maybe<Scalars['String']['output']>;
  /** Out of use for good since then. */
  readonly retiredSince?: Maybe<Scalars['Instant']['output']>;
  /** Of control and pump together; none off the pump. */
  readonly settings: ReadonlyArray<GraphSettingValue>;
  /** released: nothing stands against it; incomplete: evidence is still due; held: something is wrong and undecided. */
  readonly status: GraphStatus;
};


/** A pump or a control, known by maker and serial. */
export type GraphUnitHistoryArgs = {
  known?: InputMaybe<Scalars['Instant']['input']>;
  performed?: InputMaybe<Scalars['Instant']['input']>;
};


/** A pump or a control, known by maker and serial. */
export type GraphUnitMountingsArgs = {
  after?: InputMaybe<Scalars['String']['input']>;
  first?: Scalars['Int']['input'];
};

/** A finding and the unit that it stands against. */
export type GraphUnitFinding = {
  readonly __typename?: 'UnitFinding';
  /** Of what is due: from then on it is overdue; null also where it is due by a containment that does not say by when. */
  readonly dueBy?: Maybe<Scalars['Instant']['output']>;
  readonly finding: GraphOpenFinding;
  readonly overdue?: Maybe<Scalars['Boolean']['output']>;
  readonly unit: GraphUnit;
};

export type GraphUnitFindingConnection = {
  readonly __typename?: 'UnitFindingConnection';
  readonly edges: ReadonlyArray<GraphUnitFindingEdge>;
  readonly pageInfo: GraphPageInfo;
};

export type GraphUnitFindingEdge = {
  readonly __typename?: 'UnitFindingEdge';
  readonly cursor: Scalars['String']['output'];
  readonly node: GraphUnitFinding;
};

export type GraphUnitStill =
  | 'now'
  | 'once'
  | 'unknown';

/** A pump or a control as it was. */
export type GraphUnitThen = {
  readonly __typename?: 'UnitThen';
  /** Stations that a later record found otherwise, with nothing recorded in between. */
  readonly changedUnrecorded: ReadonlyArray<GraphContradiction>;
  readonly findings: ReadonlyArray<GraphOpenFinding>;
  readonly fit: ReadonlyArray<GraphStationContent>;
  readonly function?: Maybe<Scalars['String']['output']>;
  readonly hours?: Maybe<GraphQuantity>;
  /** What it was mounted on, or had on it. */
  readonly mounted?: Maybe<GraphUnit>;
  readonly mountedSince?: Maybe<Scalars['Instant']['output']>;
  /** Whether anything was recorded of it by then. */
  readonly registered: Scalars['Boolean']['output'];
  readonly retiredSince?: Maybe<Scalars['Instant']['output']>;
  readonly settings: ReadonlyArray<GraphSettingValue>;
  readonly status: GraphStatus;
};

/** What one reading proves, by the rule that is named, with what was known when it was judged. What an earlier release did not reckon is null. */
export type GraphVerdict = {
  readonly __typename?: 'Verdict';
  /** What the uncertainty is taken from: calibration, stated or type-and-class; null: nothing is known. */
  readonly basis?: Maybe<Scalars['String']['output']>;
  /** The calibration that was in force, as a fact; null: none is known. */
  readonly calibration?: Maybe<Scalars['ID']['output']>;
  /** What was there, as well as can be told: corrected by the certificate, at the end of an extension. */
  readonly estimate?: Maybe<GraphQuantity>;
  readonly fitness?: Maybe<GraphFitness>;
  /** The examination that found the instrument worse than it may be, as a fact. */
  readonly foundBy?: Maybe<Scalars['ID']['output']>;
  /** By how much the estimate must lie within the limits; null: none is asked for, or it is not known. */
  readonly guardBand?: Maybe<GraphQuantity>;
  /** The version of the instrument that was in force, as a fact; null: not known. */
  readonly instrument?: Maybe<Scalars['ID']['output']>;
  /** Where the instrument was later found worse than it may be: as if it had drifted evenly. The verdict beside it is of the worst. */
  readonly linear?: Maybe<GraphEvenDrift>;
  readonly max?: Maybe<GraphLimit>;
  /** Limits belong to what is allowed; null: there is none. */
  readonly min?: Maybe<GraphLimit>;
  /** JSON pointer to the reading in the body as sent. */
  readonly pointer: Scalars['String']['output'];
  /** Of conformity, from 0 to 1; null: not known. */
  readonly probability?: Maybe<Scalars['Float']['output']>;
  readonly reading: GraphQuantity;
  /** simple: the estimate decides; guard-band: it must lie within the limits by the guard band. */
  readonly rule: Scalars['String']['output'];
  /** Standard uncertainty of the estimate; null: nobody has said how true the instrument is. */
  readonly uncertainty?: Maybe<GraphQuantity>;
  readonly verdict: GraphConformity;
};

/** A verdict that came out otherwise because of a later fact. */
export type GraphVerdictChange = {
  readonly __typename?: 'VerdictChange';
  /** The later fact, such as a calibration. */
  readonly cause: Scalars['ID']['output'];
  /** Null: there is none any more. */
  readonly is?: Maybe<GraphConformity>;
  /** The fact that judged the record again. */
  readonly judgement: GraphRecord;
  readonly pointer: Scalars['String']['output'];
  /** As given then, with what was known then. */
  readonly verdict?: Maybe<GraphVerdict>;
  /** Null: there was none. */
  readonly was?: Maybe<GraphConformity>;
};

export type GraphWhereabouts =
  | 'in'
  | 'out';



export type ResolverTypeWrapper<T> = Promise<T> | T;


export type ResolverWithResolve<TResult, TParent, TContext, TArgs> = {
  resolve: ResolverFn<TResult, TParent, TContext, TArgs>;
};
export type Resolver<TResult, TParent = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>, TArgs = Record<PropertyKey, never>> = ResolverFn<TResult, TParent, TContext, TArgs> | ResolverWithResolve<TResult, TParent, TContext, TArgs>;

export type ResolverFn<TResult, TParent, TContext, TArgs> = (
  parent: TParent,
  args: TArgs,
  context: TContext,
  info: GraphQLResolveInfo
) => Promise<TResult> | TResult;

export type SubscriptionSubscribeFn<TResult, TParent, TContext, TArgs> = (
  parent: TParent,
  args: TArgs,
  context: TContext,
  info: GraphQLResolveInfo
) => AsyncIterable<TResult> | Promise<AsyncIterable<TResult>>;

export type SubscriptionResolveFn<TResult, TParent, TContext, TArgs> = (
  parent: TParent,
  args: TArgs,
  context: TContext,
  info: GraphQLResolveInfo
) => TResult | Promise<TResult>;

export interface SubscriptionSubscriberObject<TResult, TKey extends string, TParent, TContext, TArgs> {
  subscribe: SubscriptionSubscribeFn<{ [key in TKey]: TResult }, TParent, TContext, TArgs>;
  resolve?: SubscriptionResolveFn<TResult, { [key in TKey]: TResult }, TContext, TArgs>;
}

export interface SubscriptionResolverObject<TResult, TParent, TContext, TArgs> {
  subscribe: SubscriptionSubscribeFn<any, TParent, TContext, TArgs>;
  resolve: SubscriptionResolveFn<TResult, any, TContext, TArgs>;
}

export type SubscriptionObject<TResult, TKey extends string, TParent, TContext, TArgs> =
  | SubscriptionSubscriberObject<TResult, TKey, TParent, TContext, TArgs>
  | SubscriptionResolverObject<TResult, TParent, TContext, TArgs>;

export type SubscriptionResolver<TResult, TKey extends string, TParent = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>, TArgs = Record<PropertyKey, never>> =
  | ((...args: any[]) => SubscriptionObject<TResult, TKey, TParent, TContext, TArgs>)
  | SubscriptionObject<TResult, TKey, TParent, TContext, TArgs>;

export type TypeResolveFn<TTypes, TParent = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>> = (
  parent: TParent,
  context: TContext,
  info: GraphQLResolveInfo
) => Maybe<TTypes> | Promise<Maybe<TTypes>>;

export type IsTypeOfResolverFn<T = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>> = (obj: T, context: TContext, info: GraphQLResolveInfo) => boolean | Promise<boolean>;

export type NextResolverFn<T> = () => Promise<T>;

export type DirectiveResolverFn<TResult = Record<PropertyKey, never>, TParent = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>, TArgs = Record<PropertyKey, never>> = (
  next: NextResolverFn<TResult>,
  parent: TParent,
  args: TArgs,
  context: TContext,
  info: GraphQLResolveInfo
) => TResult | Promise<TResult>;





/** Mapping between all available schema types and the resolvers types */
export type GraphResolversTypes = {
  Basis: GraphBasis;
  Boolean: ResolverTypeWrapper<Scalars['Boolean']['output']>;
  BuiltFor: ResolverTypeWrapper<GraphBuiltFor>;
  CheckResult: ResolverTypeWrapper<GraphCheckResult>;
  Claim: ResolverTypeWrapper<ClaimItem>;
  ClaimConnection: ResolverTypeWrapper<Omit<GraphClaimConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['ClaimEdge']> }>;
  ClaimEdge: ResolverTypeWrapper<Omit<GraphClaimEdge, 'node'> & { node: GraphResolversTypes['Claim'] }>;
  ClaimFilter: GraphClaimFilter;
  ClaimedLot: ResolverTypeWrapper<Omit<GraphClaimedLot, 'lot'> & { lot: GraphResolversTypes['Lot'] }>;
  ClaimedLotConnection: ResolverTypeWrapper<Omit<GraphClaimedLotConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['ClaimedLotEdge']> }>;
  ClaimedLotEdge: ResolverTypeWrapper<Omit<GraphClaimedLotEdge, 'node'> & { node: GraphResolversTypes['ClaimedLot'] }>;
  Clear: ResolverTypeWrapper<GraphClear>;
  Concession: ResolverTypeWrapper<ConcessionView>;
  ConcessionLimit: ResolverTypeWrapper<LimitView>;
  Conformity: GraphConformity;
  ContainedCount: ResolverTypeWrapper<Omit<GraphContainedCount, 'containment'> & { containment: GraphResolversTypes['Containment'] }>;
  ContainedCountConnection: ResolverTypeWrapper<Omit<GraphContainedCountConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['ContainedCountEdge']> }>;
  ContainedCountEdge: ResolverTypeWrapper<Omit<GraphContainedCountEdge, 'node'> & { node: GraphResolversTypes['ContainedCount'] }>;
  ContainedFilter: GraphContainedFilter;
  ContainedUnit: ResolverTypeWrapper<Contained>;
  ContainedUnitConnection: ResolverTypeWrapper<Omit<GraphContainedUnitConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['ContainedUnitEdge']> }>;
  ContainedUnitEdge: ResolverTypeWrapper<Omit<GraphContainedUnitEdge, 'node'> & { node: GraphResolversTypes['ContainedUnit'] }>;
  Containment: ResolverTypeWrapper<ContainmentView>;
  Contradiction: ResolverTypeWrapper<GraphContradiction>;
  Control: ResolverTypeWrapper<UnitView>;
  ConversionCount: ResolverTypeWrapper<GraphConversionCount>;
  ConversionCountConnection: ResolverTypeWrapper<GraphConversionCountConnection>;
  ConversionCountEdge: ResolverTypeWrapper<GraphConversionCountEdge>;
  ConversionFilter: GraphConversionFilter;
  Custody: ResolverTypeWrapper<CustodyView>;
  DueFilter: GraphDueFilter;
  EvenDrift: ResolverTypeWrapper<GraphEvenDrift>;
  ExposedUnit: ResolverTypeWrapper<ExposedUnit>;
  ExposedUnitConnection: ResolverTypeWrapper<Omit<GraphExposedUnitConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['ExposedUnitEdge']> }>;
  ExposedUnitEdge: ResolverTypeWrapper<Omit<GraphExposedUnitEdge, 'node'> & { node: GraphResolversTypes['ExposedUnit'] }>;
  Finding: ResolverTypeWrapper<GraphFinding>;
  Fitness: ResolverTypeWrapper<GraphFitness>;
  FittedPart: ResolverTypeWrapper<FittedParent>;
  Float: ResolverTypeWrapper<Scalars['Float']['output']>;
  Held: ResolverTypeWrapper<GraphHeld>;
  HeldFilter: GraphHeldFilter;
  History: ResolverTypeWrapper<Past>;
  HistoryEntry: ResolverTypeWrapper<PastEntry>;
  HistoryEntryConnection: ResolverTypeWrapper<Omit<GraphHistoryEntryConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['HistoryEntryEdge']> }>;
  HistoryEntryEdge: ResolverTypeWrapper<Omit<GraphHistoryEntryEdge, 'node'> & { node: GraphResolversTypes['HistoryEntry'] }>;
  ID: ResolverTypeWrapper<Scalars['ID']['output']>;
  Instant: ResolverTypeWrapper<Scalars['Instant']['output']>;
  Int: ResolverTypeWrapper<Scalars['Int']['output']>;
  Interval: ResolverTypeWrapper<GraphInterval>;
  Limit: ResolverTypeWrapper<GraphLimit>;
  Lot: ResolverTypeWrapper<LotName>;
  LotConnection: ResolverTypeWrapper<Omit<GraphLotConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['LotEdge']> }>;
  LotEdge: ResolverTypeWrapper<Omit<GraphLotEdge, 'node'> & { node: GraphResolversTypes['Lot'] }>;
  LotExposure: ResolverTypeWrapper<Exposure>;
  LotUse: ResolverTypeWrapper<LotUse>;
  LotUseConnection: ResolverTypeWrapper<Omit<GraphLotUseConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['LotUseEdge']> }>;
  LotUseEdge: ResolverTypeWrapper<Omit<GraphLotUseEdge, 'node'> & { node: GraphResolversTypes['LotUse'] }>;
  Measurement: ResolverTypeWrapper<Omit<GraphMeasurement, 'conditions' | 'instrument'> & { conditions: ReadonlyArray<GraphResolversTypes['NamedQuantity']>, instrument: GraphResolversTypes['Named'] }>;
  Mounting: ResolverTypeWrapper<MountingParent>;
  MountingConnection: ResolverTypeWrapper<Omit<GraphMountingConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['MountingEdge']> }>;
  MountingEdge: ResolverTypeWrapper<Omit<GraphMountingEdge, 'node'> & { node: GraphResolversTypes['Mounting'] }>;
  Named: ResolverTypeWrapper<GraphNamed>;
  NamedQuantity: ResolverTypeWrapper<GraphNamedQuantity>;
  OpenFinding: ResolverTypeWrapper<FindingView>;
  Order: GraphOrder;
  PageInfo: ResolverTypeWrapper<GraphPageInfo>;
  Pump: ResolverTypeWrapper<UnitView>;
  Quantity: ResolverTypeWrapper<GraphQuantity>;
  Query: ResolverTypeWrapper<Record<PropertyKey, never>>;
  Record: ResolverTypeWrapper<RecordSeen>;
  RecordConnection: ResolverTypeWrapper<Omit<GraphRecordConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['RecordEdge']> }>;
  RecordEdge: ResolverTypeWrapper<Omit<GraphRecordEdge, 'node'> & { node: GraphResolversTypes['Record'] }>;
  RecordFilter: GraphRecordFilter;
  RemovedPart: ResolverTypeWrapper<Omit<GraphRemovedPart, 'element'> & { element: GraphResolversTypes['Named'] }>;
  RenewedSeal: ResolverTypeWrapper<SealParent>;
  RuleCount: ResolverTypeWrapper<GraphRuleCount>;
  RuleCountConnection: ResolverTypeWrapper<GraphRuleCountConnection>;
  RuleCountEdge: ResolverTypeWrapper<GraphRuleCountEdge>;
  SettingReading: ResolverTypeWrapper<SettingReadingParent>;
  SettingValue: ResolverTypeWrapper<SettingParent>;
  StandingCount: ResolverTypeWrapper<GraphStandingCount>;
  StandingCountConnection: ResolverTypeWrapper<GraphStandingCountConnection>;
  StandingCountEdge: ResolverTypeWrapper<GraphStandingCountEdge>;
  StationContent: ResolverTypeWrapper<StationParent>;
  Status: GraphStatus;
  Still: GraphStill;
  String: ResolverTypeWrapper<Scalars['String']['output']>;
  TorqueReading: ResolverTypeWrapper<TorqueParent>;
  Unit: ResolverTypeWrapper<UnitView>;
  UnitFinding: ResolverTypeWrapper<StandingView>;
  UnitFindingConnection: ResolverTypeWrapper<Omit<GraphUnitFindingConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversTypes['UnitFindingEdge']> }>;
  UnitFindingEdge: ResolverTypeWrapper<Omit<GraphUnitFindingEdge, 'node'> & { node: GraphResolversTypes['UnitFinding'] }>;
  UnitStill: GraphUnitStill;
  UnitThen: ResolverTypeWrapper<UnitThenParent>;
  Verdict: ResolverTypeWrapper<VerdictKept>;
  VerdictChange: ResolverTypeWrapper<VerdictChangeParent>;
  Whereabouts: GraphWhereabouts;
};

/** Mapping between all available schema types and the resolvers parents */
export type GraphResolversParentTypes = {
  Boolean: Scalars['Boolean']['output'];
  BuiltFor: GraphBuiltFor;
  CheckResult: GraphCheckResult;
  Claim: ClaimItem;
  ClaimConnection: Omit<GraphClaimConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['ClaimEdge']> };
  ClaimEdge: Omit<GraphClaimEdge, 'node'> & { node: GraphResolversParentTypes['Claim'] };
  ClaimFilter: GraphClaimFilter;
  ClaimedLot: Omit<GraphClaimedLot, 'lot'> & { lot: GraphResolversParentTypes['Lot'] };
  ClaimedLotConnection: Omit<GraphClaimedLotConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['ClaimedLotEdge']> };
  ClaimedLotEdge: Omit<GraphClaimedLotEdge, 'node'> & { node: GraphResolversParentTypes['ClaimedLot'] };
  Clear: GraphClear;
  Concession: ConcessionView;
  ConcessionLimit: LimitView;
  ContainedCount: Omit<GraphContainedCount, 'containment'> & { containment: GraphResolversParentTypes['Containment'] };
  ContainedCountConnection: Omit<GraphContainedCountConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['ContainedCountEdge']> };
  ContainedCountEdge: Omit<GraphContainedCountEdge, 'node'> & { node: GraphResolversParentTypes['ContainedCount'] };
  ContainedFilter: GraphContainedFilter;
  ContainedUnit: Contained;
  ContainedUnitConnection: Omit<GraphContainedUnitConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['ContainedUnitEdge']> };
  ContainedUnitEdge: Omit<GraphContainedUnitEdge, 'node'> & { node: GraphResolversParentTypes['ContainedUnit'] };
  Containment: ContainmentView;
  Contradiction: GraphContradiction;
  Control: UnitView;
  ConversionCount: GraphConversionCount;
  ConversionCountConnection: GraphConversionCountConnection;
  ConversionCountEdge: GraphConversionCountEdge;
  ConversionFilter: GraphConversionFilter;
  Custody: CustodyView;
  DueFilter: GraphDueFilter;
  EvenDrift: GraphEvenDrift;
  ExposedUnit: ExposedUnit;
  ExposedUnitConnection: Omit<GraphExposedUnitConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['ExposedUnitEdge']> };
  ExposedUnitEdge: Omit<GraphExposedUnitEdge, 'node'> & { node: GraphResolversParentTypes['ExposedUnit'] };
  Finding: GraphFinding;
  Fitness: GraphFitness;
  FittedPart: FittedParent;
  Float: Scalars['Float']['output'];
  Held: GraphHeld;
  HeldFilter: GraphHeldFilter;
  History: Past;
  HistoryEntry: PastEntry;
  HistoryEntryConnection: Omit<GraphHistoryEntryConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['HistoryEntryEdge']> };
  HistoryEntryEdge: Omit<GraphHistoryEntryEdge, 'node'> & { node: GraphResolversParentTypes['HistoryEntry'] };
  ID: Scalars['ID']['output'];
  Instant: Scalars['Instant']['output'];
  Int: Scalars['Int']['output'];
  Interval: GraphInterval;
  Limit: GraphLimit;
  Lot: LotName;
  LotConnection: Omit<GraphLotConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['LotEdge']> };
  LotEdge: Omit<GraphLotEdge, 'node'> & { node: GraphResolversParentTypes['Lot'] };
  LotExposure: Exposure;
  LotUse: LotUse;
  LotUseConnection: Omit<GraphLotUseConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['LotUseEdge']> };
  LotUseEdge: Omit<GraphLotUseEdge, 'node'> & { node: GraphResolversParentTypes['LotUse'] };
  Measurement: Omit<GraphMeasurement, 'conditions' | 'instrument'> & { conditions: ReadonlyArray<GraphResolversParentTypes['NamedQuantity']>, instrument: GraphResolversParentTypes['Named'] };
  Mounting: MountingParent;
  MountingConnection: Omit<GraphMountingConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['MountingEdge']> };
  MountingEdge: Omit<GraphMountingEdge, 'node'> & { node: GraphResolversParentTypes['Mounting'] };
  Named: GraphNamed;
  NamedQuantity: GraphNamedQuantity;
  OpenFinding: FindingView;
  PageInfo: GraphPageInfo;
  Pump: UnitView;
  Quantity: GraphQuantity;
  Query: Record<PropertyKey, never>;
  Record: RecordSeen;
  RecordConnection: Omit<GraphRecordConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['RecordEdge']> };
  RecordEdge: Omit<GraphRecordEdge, 'node'> & { node: GraphResolversParentTypes['Record'] };
  RecordFilter: GraphRecordFilter;
  RemovedPart: Omit<GraphRemovedPart, 'element'> & { element: GraphResolversParentTypes['Named'] };
  RenewedSeal: SealParent;
  RuleCount: GraphRuleCount;
  RuleCountConnection: GraphRuleCountConnection;
  RuleCountEdge: GraphRuleCountEdge;
  SettingReading: SettingReadingParent;
  SettingValue: SettingParent;
  StandingCount: GraphStandingCount;
  StandingCountConnection: GraphStandingCountConnection;
  StandingCountEdge: GraphStandingCountEdge;
  StationContent: StationParent;
  String: Scalars['String']['output'];
  TorqueReading: TorqueParent;
  Unit: UnitView;
  UnitFinding: StandingView;
  UnitFindingConnection: Omit<GraphUnitFindingConnection, 'edges'> & { edges: ReadonlyArray<GraphResolversParentTypes['UnitFindingEdge']> };
  UnitFindingEdge: Omit<GraphUnitFindingEdge, 'node'> & { node: GraphResolversParentTypes['UnitFinding'] };
  UnitThen: UnitThenParent;
  Verdict: VerdictKept;
  VerdictChange: VerdictChangeParent;
};

export type GraphBuiltForResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['BuiltFor'] = GraphResolversParentTypes['BuiltFor']> = {
  rotation?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  size?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  voltage?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
};

export type GraphCheckResultResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['CheckResult'] = GraphResolversParentTypes['CheckResult']> = {
  check?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  reason?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  result?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  value?: Resolver<Maybe<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
};

export type GraphClaimResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Claim'] = GraphResolversParentTypes['Claim']> = {
  distributor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  failed?: Resolver<GraphResolversTypes['Interval'], ParentType, ContextType>;
  failureMode?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  id?: Resolver<GraphResolversTypes['ID'], ParentType, ContextType>;
  part?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  raised?: Resolver<GraphResolversTypes['Interval'], ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  recordedAt?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
  reference?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  reopened?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  status?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  symptom?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  unit?: Resolver<Maybe<GraphResolversTypes['Unit']>, ParentType, ContextType>;
};

export type GraphClaimConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ClaimConnection'] = GraphResolversParentTypes['ClaimConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['ClaimEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphClaimEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ClaimEdge'] = GraphResolversParentTypes['ClaimEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['Claim'], ParentType, ContextType>;
};

export type GraphClaimedLotResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ClaimedLot'] = GraphResolversParentTypes['ClaimedLot']> = {
  claims?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  lot?: Resolver<GraphResolversTypes['Lot'], ParentType, ContextType>;
};

export type GraphClaimedLotConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ClaimedLotConnection'] = GraphResolversParentTypes['ClaimedLotConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['ClaimedLotEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphClaimedLotEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ClaimedLotEdge'] = GraphResolversParentTypes['ClaimedLotEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['ClaimedLot'], ParentType, ContextType>;
};

export type GraphClearResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Clear'] = GraphResolversParentTypes['Clear']> = {
  kind?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  place?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphConcessionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Concession'] = GraphResolversParentTypes['Concession']> = {
  ended?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  limits?: Resolver<ReadonlyArray<GraphResolversTypes['ConcessionLimit']>, ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  until?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
};

export type GraphConcessionLimitResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ConcessionLimit'] = GraphResolversParentTypes['ConcessionLimit']> = {
  atMost?: Resolver<Maybe<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
  text?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  what?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
};

export type GraphContainedCountResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ContainedCount'] = GraphResolversParentTypes['ContainedCount']> = {
  containment?: Resolver<GraphResolversTypes['Containment'], ParentType, ContextType>;
  distributor?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  done?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  overdue?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  shop?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  units?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
};

export type GraphContainedCountConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ContainedCountConnection'] = GraphResolversParentTypes['ContainedCountConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['ContainedCountEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphContainedCountEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ContainedCountEdge'] = GraphResolversParentTypes['ContainedCountEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['ContainedCount'], ParentType, ContextType>;
};

export type GraphContainedUnitResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ContainedUnit'] = GraphResolversParentTypes['ContainedUnit']> = {
  addedAt?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  atIssue?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  containment?: Resolver<GraphResolversTypes['Containment'], ParentType, ContextType>;
  distributor?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  done?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  dueBy?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  overdue?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  shop?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  step?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  toldAt?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  unit?: Resolver<Maybe<GraphResolversTypes['Unit']>, ParentType, ContextType>;
};

export type GraphContainedUnitConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ContainedUnitConnection'] = GraphResolversParentTypes['ContainedUnitConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['ContainedUnitEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphContainedUnitEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ContainedUnitEdge'] = GraphResolversParentTypes['ContainedUnitEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['ContainedUnit'], ParentType, ContextType>;
};

export type GraphContainmentResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Containment'] = GraphResolversParentTypes['Containment']> = {
  dueWithin?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  id?: Resolver<GraphResolversTypes['ID'], ParentType, ContextType>;
  instruction?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  issuedAt?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
  issuedBy?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  reason?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  reference?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  severity?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphContradictionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Contradiction'] = GraphResolversParentTypes['Contradiction']> = {
  before?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
  found?: Resolver<Maybe<ReadonlyArray<GraphResolversTypes['Held']>>, ParentType, ContextType>;
  station?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphControlResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Control'] = GraphResolversParentTypes['Control']> = {
  body?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  builtAt?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  builtFor?: Resolver<GraphResolversTypes['BuiltFor'], ParentType, ContextType>;
  custody?: Resolver<Maybe<GraphResolversTypes['Custody']>, ParentType, ContextType>;
  findings?: Resolver<ReadonlyArray<GraphResolversTypes['OpenFinding']>, ParentType, ContextType>;
  fit?: Resolver<ReadonlyArray<GraphResolversTypes['StationContent']>, ParentType, ContextType>;
  function?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  history?: Resolver<GraphResolversTypes['History'], ParentType, ContextType, Partial<GraphControlHistoryArgs>>;
  hours?: Resolver<Maybe<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
  id?: Resolver<GraphResolversTypes['ID'], ParentType, ContextType>;
  maker?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  mergedInto?: Resolver<Maybe<GraphResolversTypes['Unit']>, ParentType, ContextType>;
  mountings?: Resolver<GraphResolversTypes['MountingConnection'], ParentType, ContextType, RequireFields<GraphControlMountingsArgs, 'first'>>;
  name?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  pump?: Resolver<Maybe<GraphResolversTypes['Pump']>, ParentType, ContextType>;
  retiredSince?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  settings?: Resolver<ReadonlyArray<GraphResolversTypes['SettingValue']>, ParentType, ContextType>;
  status?: Resolver<GraphResolversTypes['Status'], ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type GraphConversionCountResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ConversionCount'] = GraphResolversParentTypes['ConversionCount']> = {
  conversions?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  distributor?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  firstPass?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  function?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  month?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  shop?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
};

export type GraphConversionCountConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ConversionCountConnection'] = GraphResolversParentTypes['ConversionCountConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['ConversionCountEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphConversionCountEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ConversionCountEdge'] = GraphResolversParentTypes['ConversionCountEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['ConversionCount'], ParentType, ContextType>;
};

export type GraphCustodyResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Custody'] = GraphResolversParentTypes['Custody']> = {
  is?: Resolver<GraphResolversTypes['Whereabouts'], ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  shop?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  since?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
};

export type GraphEvenDriftResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['EvenDrift'] = GraphResolversParentTypes['EvenDrift']> = {
  estimate?: Resolver<GraphResolversTypes['Quantity'], ParentType, ContextType>;
  probability?: Resolver<Maybe<GraphResolversTypes['Float']>, ParentType, ContextType>;
  verdict?: Resolver<GraphResolversTypes['Conformity'], ParentType, ContextType>;
};

export type GraphExposedUnitResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ExposedUnit'] = GraphResolversParentTypes['ExposedUnit']> = {
  claims?: Resolver<ReadonlyArray<GraphResolversTypes['Claim']>, ParentType, ContextType>;
  records?: Resolver<ReadonlyArray<GraphResolversTypes['Record']>, ParentType, ContextType>;
  still?: Resolver<GraphResolversTypes['UnitStill'], ParentType, ContextType>;
  unit?: Resolver<Maybe<GraphResolversTypes['Unit']>, ParentType, ContextType>;
};

export type GraphExposedUnitConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ExposedUnitConnection'] = GraphResolversParentTypes['ExposedUnitConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['ExposedUnitEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphExposedUnitEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['ExposedUnitEdge'] = GraphResolversParentTypes['ExposedUnitEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['ExposedUnit'], ParentType, ContextType>;
};

export type GraphFindingResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Finding'] = GraphResolversParentTypes['Finding']> = {
  because?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  clearedBy?: Resolver<ReadonlyArray<GraphResolversTypes['Clear']>, ParentType, ContextType>;
  expected?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  found?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  pointer?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  rule?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  severity?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphFitnessResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Fitness'] = GraphResolversParentTypes['Fitness']> = {
  fit?: Resolver<Maybe<GraphResolversTypes['Boolean']>, ParentType, ContextType>;
  partOfRange?: Resolver<Maybe<GraphResolversTypes['Float']>, ParentType, ContextType>;
  ratio?: Resolver<Maybe<GraphResolversTypes['Float']>, ParentType, ContextType>;
};

export type GraphFittedPartResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['FittedPart'] = GraphResolversParentTypes['FittedPart']> = {
  element?: Resolver<GraphResolversTypes['Named'], ParentType, ContextType>;
  lot?: Resolver<Maybe<GraphResolversTypes['Lot']>, ParentType, ContextType>;
  quantity?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  station?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphHeldResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Held'] = GraphResolversParentTypes['Held']> = {
  element?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  quantity?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
};

export type GraphHistoryResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['History'] = GraphResolversParentTypes['History']> = {
  entries?: Resolver<GraphResolversTypes['HistoryEntryConnection'], ParentType, ContextType, RequireFields<GraphHistoryEntriesArgs, 'first' | 'order'>>;
  horizon?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
  known?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  mountings?: Resolver<GraphResolversTypes['MountingConnection'], ParentType, ContextType, RequireFields<GraphHistoryMountingsArgs, 'first'>>;
  performed?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  settled?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  state?: Resolver<GraphResolversTypes['UnitThen'], ParentType, ContextType>;
};

export type GraphHistoryEntryResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['HistoryEntry'] = GraphResolversParentTypes['HistoryEntry']> = {
  correctedBy?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  counts?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  kind?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  performed?: Resolver<GraphResolversTypes['Interval'], ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  recordedAt?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
};

export type GraphHistoryEntryConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['HistoryEntryConnection'] = GraphResolversParentTypes['HistoryEntryConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['HistoryEntryEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphHistoryEntryEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['HistoryEntryEdge'] = GraphResolversParentTypes['HistoryEntryEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['HistoryEntry'], ParentType, ContextType>;
};

export interface GraphInstantScalarConfig extends GraphQLScalarTypeConfig<GraphResolversTypes['Instant'], any> {
  name: 'Instant';
}

export type GraphIntervalResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Interval'] = GraphResolversParentTypes['Interval']> = {
  from?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
  to?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
};

export type GraphLimitResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Limit'] = GraphResolversParentTypes['Limit']> = {
  from?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  unit?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  value?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphLotResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Lot'] = GraphResolversParentTypes['Lot']> = {
  claims?: Resolver<GraphResolversTypes['ClaimConnection'], ParentType, ContextType, RequireFields<GraphLotClaimsArgs, 'first'>>;
  exposure?: Resolver<GraphResolversTypes['LotExposure'], ParentType, ContextType>;
  maker?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  number?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  parts?: Resolver<ReadonlyArray<GraphResolversTypes['String']>, ParentType, ContextType>;
  units?: Resolver<GraphResolversTypes['ExposedUnitConnection'], ParentType, ContextType, RequireFields<GraphLotUnitsArgs, 'first'>>;
  uses?: Resolver<GraphResolversTypes['LotUseConnection'], ParentType, ContextType, RequireFields<GraphLotUsesArgs, 'first'>>;
};

export type GraphLotConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['LotConnection'] = GraphResolversParentTypes['LotConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['LotEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphLotEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['LotEdge'] = GraphResolversParentTypes['LotEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['Lot'], ParentType, ContextType>;
};

export type GraphLotExposureResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['LotExposure'] = GraphResolversParentTypes['LotExposure']> = {
  accepted?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  claimed?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  claims?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  declined?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  goodwill?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  moreEvidence?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  now?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  once?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  open?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  units?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  unknown?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
};

export type GraphLotUseResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['LotUse'] = GraphResolversParentTypes['LotUse']> = {
  item?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  place?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  quantity?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  role?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  still?: Resolver<GraphResolversTypes['Still'], ParentType, ContextType>;
  through?: Resolver<Maybe<GraphResolversTypes['Lot']>, ParentType, ContextType>;
  unit?: Resolver<Maybe<GraphResolversTypes['Unit']>, ParentType, ContextType>;
};

export type GraphLotUseConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['LotUseConnection'] = GraphResolversParentTypes['LotUseConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['LotUseEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphLotUseEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['LotUseEdge'] = GraphResolversParentTypes['LotUseEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['LotUse'], ParentType, ContextType>;
};

export type GraphMeasurementResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Measurement'] = GraphResolversParentTypes['Measurement']> = {
  conditions?: Resolver<ReadonlyArray<GraphResolversTypes['NamedQuantity']>, ParentType, ContextType>;
  instrument?: Resolver<GraphResolversTypes['Named'], ParentType, ContextType>;
  measured?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  reading?: Resolver<GraphResolversTypes['Quantity'], ParentType, ContextType>;
};

export type GraphMountingResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Mounting'] = GraphResolversParentTypes['Mounting']> = {
  from?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
  to?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  unit?: Resolver<Maybe<GraphResolversTypes['Unit']>, ParentType, ContextType>;
};

export type GraphMountingConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['MountingConnection'] = GraphResolversParentTypes['MountingConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['MountingEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphMountingEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['MountingEdge'] = GraphResolversParentTypes['MountingEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['Mounting'], ParentType, ContextType>;
};

export type GraphNamedResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Named'] = GraphResolversParentTypes['Named']> = {
  id?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  unknown?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
};

export type GraphNamedQuantityResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['NamedQuantity'] = GraphResolversParentTypes['NamedQuantity']> = {
  name?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  quantity?: Resolver<GraphResolversTypes['Quantity'], ParentType, ContextType>;
};

export type GraphOpenFindingResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['OpenFinding'] = GraphResolversParentTypes['OpenFinding']> = {
  clearedBy?: Resolver<ReadonlyArray<GraphResolversTypes['Clear']>, ParentType, ContextType>;
  concession?: Resolver<Maybe<GraphResolversTypes['Concession']>, ParentType, ContextType>;
  handedOver?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  pointer?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  rule?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  severity?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphPageInfoResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['PageInfo'] = GraphResolversParentTypes['PageInfo']> = {
  endCursor?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  hasNextPage?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  hasPreviousPage?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  startCursor?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
};

export type GraphPumpResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Pump'] = GraphResolversParentTypes['Pump']> = {
  builtAt?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  control?: Resolver<Maybe<GraphResolversTypes['Control']>, ParentType, ContextType>;
  custody?: Resolver<Maybe<GraphResolversTypes['Custody']>, ParentType, ContextType>;
  findings?: Resolver<ReadonlyArray<GraphResolversTypes['OpenFinding']>, ParentType, ContextType>;
  fit?: Resolver<ReadonlyArray<GraphResolversTypes['StationContent']>, ParentType, ContextType>;
  fluid?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  function?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  history?: Resolver<GraphResolversTypes['History'], ParentType, ContextType, Partial<GraphPumpHistoryArgs>>;
  hours?: Resolver<Maybe<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
  id?: Resolver<GraphResolversTypes['ID'], ParentType, ContextType>;
  maker?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  mergedInto?: Resolver<Maybe<GraphResolversTypes['Unit']>, ParentType, ContextType>;
  mountings?: Resolver<GraphResolversTypes['MountingConnection'], ParentType, ContextType, RequireFields<GraphPumpMountingsArgs, 'first'>>;
  name?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  retiredSince?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  rotation?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  series?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  settings?: Resolver<ReadonlyArray<GraphResolversTypes['SettingValue']>, ParentType, ContextType>;
  size?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  status?: Resolver<GraphResolversTypes['Status'], ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type GraphQuantityResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Quantity'] = GraphResolversParentTypes['Quantity']> = {
  unit?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  value?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphQueryResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Query'] = GraphResolversParentTypes['Query']> = {
  claimedLots?: Resolver<GraphResolversTypes['ClaimedLotConnection'], ParentType, ContextType, RequireFields<GraphQueryClaimedLotsArgs, 'first' | 'maker'>>;
  contained?: Resolver<GraphResolversTypes['ContainedUnitConnection'], ParentType, ContextType, RequireFields<GraphQueryContainedArgs, 'first'>>;
  containedCounts?: Resolver<GraphResolversTypes['ContainedCountConnection'], ParentType, ContextType, RequireFields<GraphQueryContainedCountsArgs, 'first'>>;
  control?: Resolver<Maybe<GraphResolversTypes['Control']>, ParentType, ContextType, RequireFields<GraphQueryControlArgs, 'maker' | 'serial'>>;
  conversionRules?: Resolver<GraphResolversTypes['RuleCountConnection'], ParentType, ContextType, RequireFields<GraphQueryConversionRulesArgs, 'first'>>;
  conversions?: Resolver<GraphResolversTypes['ConversionCountConnection'], ParentType, ContextType, RequireFields<GraphQueryConversionsArgs, 'first'>>;
  due?: Resolver<GraphResolversTypes['UnitFindingConnection'], ParentType, ContextType, RequireFields<GraphQueryDueArgs, 'first'>>;
  dueCounts?: Resolver<GraphResolversTypes['StandingCountConnection'], ParentType, ContextType, RequireFields<GraphQueryDueCountsArgs, 'first'>>;
  held?: Resolver<GraphResolversTypes['UnitFindingConnection'], ParentType, ContextType, RequireFields<GraphQueryHeldArgs, 'first'>>;
  heldCounts?: Resolver<GraphResolversTypes['StandingCountConnection'], ParentType, ContextType, RequireFields<GraphQueryHeldCountsArgs, 'first'>>;
  lot?: Resolver<Maybe<GraphResolversTypes['Lot']>, ParentType, ContextType, RequireFields<GraphQueryLotArgs, 'maker' | 'number'>>;
  lots?: Resolver<GraphResolversTypes['LotConnection'], ParentType, ContextType, RequireFields<GraphQueryLotsArgs, 'first'>>;
  pump?: Resolver<Maybe<GraphResolversTypes['Pump']>, ParentType, ContextType, RequireFields<GraphQueryPumpArgs, 'maker' | 'serial'>>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType, RequireFields<GraphQueryRecordArgs, 'id'>>;
  records?: Resolver<GraphResolversTypes['RecordConnection'], ParentType, ContextType, RequireFields<GraphQueryRecordsArgs, 'first' | 'order'>>;
};

export type GraphRecordResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Record'] = GraphResolversParentTypes['Record']> = {
  checks?: Resolver<ReadonlyArray<GraphResolversTypes['CheckResult']>, ParentType, ContextType>;
  concerns?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  correctedBy?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  edition?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  findings?: Resolver<ReadonlyArray<GraphResolversTypes['Finding']>, ParentType, ContextType>;
  fitted?: Resolver<ReadonlyArray<GraphResolversTypes['FittedPart']>, ParentType, ContextType>;
  function?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  grade?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  id?: Resolver<GraphResolversTypes['ID'], ParentType, ContextType>;
  judgedAgain?: Resolver<ReadonlyArray<GraphResolversTypes['Record']>, ParentType, ContextType>;
  kind?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  maker?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  measurements?: Resolver<ReadonlyArray<GraphResolversTypes['Measurement']>, ParentType, ContextType>;
  note?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  open?: Resolver<ReadonlyArray<GraphResolversTypes['OpenFinding']>, ParentType, ContextType>;
  performed?: Resolver<GraphResolversTypes['Interval'], ParentType, ContextType>;
  recordedAt?: Resolver<GraphResolversTypes['Instant'], ParentType, ContextType>;
  reference?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  removed?: Resolver<ReadonlyArray<GraphResolversTypes['RemovedPart']>, ParentType, ContextType>;
  ruleset?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  seals?: Resolver<ReadonlyArray<GraphResolversTypes['RenewedSeal']>, ParentType, ContextType>;
  settings?: Resolver<ReadonlyArray<GraphResolversTypes['SettingReading']>, ParentType, ContextType>;
  shop?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  status?: Resolver<GraphResolversTypes['Status'], ParentType, ContextType>;
  technician?: Resolver<Maybe<GraphResolversTypes['Named']>, ParentType, ContextType>;
  torques?: Resolver<ReadonlyArray<GraphResolversTypes['TorqueReading']>, ParentType, ContextType>;
  units?: Resolver<ReadonlyArray<GraphResolversTypes['Unit']>, ParentType, ContextType>;
  workOrder?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
};

export type GraphRecordConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['RecordConnection'] = GraphResolversParentTypes['RecordConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['RecordEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphRecordEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['RecordEdge'] = GraphResolversParentTypes['RecordEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['Record'], ParentType, ContextType>;
};

export type GraphRemovedPartResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['RemovedPart'] = GraphResolversParentTypes['RemovedPart']> = {
  element?: Resolver<GraphResolversTypes['Named'], ParentType, ContextType>;
  quantity?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  station?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphRenewedSealResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['RenewedSeal'] = GraphResolversParentTypes['RenewedSeal']> = {
  joint?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  lot?: Resolver<Maybe<GraphResolversTypes['Lot']>, ParentType, ContextType>;
  quantity?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  seal?: Resolver<GraphResolversTypes['Named'], ParentType, ContextType>;
};

export type GraphRuleCountResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['RuleCount'] = GraphResolversParentTypes['RuleCount']> = {
  held?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  refused?: Resolver<Maybe<GraphResolversTypes['Int']>, ParentType, ContextType>;
  rule?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphRuleCountConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['RuleCountConnection'] = GraphResolversParentTypes['RuleCountConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['RuleCountEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphRuleCountEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['RuleCountEdge'] = GraphResolversParentTypes['RuleCountEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['RuleCount'], ParentType, ContextType>;
};

export type GraphSettingReadingResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['SettingReading'] = GraphResolversParentTypes['SettingReading']> = {
  conditions?: Resolver<ReadonlyArray<GraphResolversTypes['NamedQuantity']>, ParentType, ContextType>;
  instrument?: Resolver<GraphResolversTypes['Named'], ParentType, ContextType>;
  reading?: Resolver<GraphResolversTypes['Quantity'], ParentType, ContextType>;
  setting?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  verdict?: Resolver<Maybe<GraphResolversTypes['Verdict']>, ParentType, ContextType>;
  verdictChanges?: Resolver<ReadonlyArray<GraphResolversTypes['VerdictChange']>, ParentType, ContextType>;
};

export type GraphSettingValueResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['SettingValue'] = GraphResolversParentTypes['SettingValue']> = {
  reading?: Resolver<GraphResolversTypes['Quantity'], ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  setting?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphStandingCountResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['StandingCount'] = GraphResolversParentTypes['StandingCount']> = {
  findings?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  fromDays?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
  overdue?: Resolver<Maybe<GraphResolversTypes['Int']>, ParentType, ContextType>;
  rule?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  shop?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  toDays?: Resolver<Maybe<GraphResolversTypes['Int']>, ParentType, ContextType>;
  units?: Resolver<GraphResolversTypes['Int'], ParentType, ContextType>;
};

export type GraphStandingCountConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['StandingCountConnection'] = GraphResolversParentTypes['StandingCountConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['StandingCountEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphStandingCountEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['StandingCountEdge'] = GraphResolversParentTypes['StandingCountEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['StandingCount'], ParentType, ContextType>;
};

export type GraphStationContentResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['StationContent'] = GraphResolversParentTypes['StationContent']> = {
  basis?: Resolver<GraphResolversTypes['Basis'], ParentType, ContextType>;
  elements?: Resolver<Maybe<ReadonlyArray<GraphResolversTypes['Held']>>, ParentType, ContextType>;
  record?: Resolver<Maybe<GraphResolversTypes['Record']>, ParentType, ContextType>;
  station?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
};

export type GraphTorqueReadingResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['TorqueReading'] = GraphResolversParentTypes['TorqueReading']> = {
  how?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  instrument?: Resolver<GraphResolversTypes['Named'], ParentType, ContextType>;
  joint?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  readings?: Resolver<ReadonlyArray<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
  verdictChanges?: Resolver<ReadonlyArray<GraphResolversTypes['VerdictChange']>, ParentType, ContextType>;
  verdicts?: Resolver<ReadonlyArray<GraphResolversTypes['Verdict']>, ParentType, ContextType>;
};

export type GraphUnitResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Unit'] = GraphResolversParentTypes['Unit']> = {
  __resolveType: TypeResolveFn<'Control' | 'Pump', ParentType, ContextType>;
};

export type GraphUnitFindingResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['UnitFinding'] = GraphResolversParentTypes['UnitFinding']> = {
  dueBy?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  finding?: Resolver<GraphResolversTypes['OpenFinding'], ParentType, ContextType>;
  overdue?: Resolver<Maybe<GraphResolversTypes['Boolean']>, ParentType, ContextType>;
  unit?: Resolver<GraphResolversTypes['Unit'], ParentType, ContextType>;
};

export type GraphUnitFindingConnectionResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['UnitFindingConnection'] = GraphResolversParentTypes['UnitFindingConnection']> = {
  edges?: Resolver<ReadonlyArray<GraphResolversTypes['UnitFindingEdge']>, ParentType, ContextType>;
  pageInfo?: Resolver<GraphResolversTypes['PageInfo'], ParentType, ContextType>;
};

export type GraphUnitFindingEdgeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['UnitFindingEdge'] = GraphResolversParentTypes['UnitFindingEdge']> = {
  cursor?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<GraphResolversTypes['UnitFinding'], ParentType, ContextType>;
};

export type GraphUnitThenResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['UnitThen'] = GraphResolversParentTypes['UnitThen']> = {
  changedUnrecorded?: Resolver<ReadonlyArray<GraphResolversTypes['Contradiction']>, ParentType, ContextType>;
  findings?: Resolver<ReadonlyArray<GraphResolversTypes['OpenFinding']>, ParentType, ContextType>;
  fit?: Resolver<ReadonlyArray<GraphResolversTypes['StationContent']>, ParentType, ContextType>;
  function?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  hours?: Resolver<Maybe<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
  mounted?: Resolver<Maybe<GraphResolversTypes['Unit']>, ParentType, ContextType>;
  mountedSince?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  registered?: Resolver<GraphResolversTypes['Boolean'], ParentType, ContextType>;
  retiredSince?: Resolver<Maybe<GraphResolversTypes['Instant']>, ParentType, ContextType>;
  settings?: Resolver<ReadonlyArray<GraphResolversTypes['SettingValue']>, ParentType, ContextType>;
  status?: Resolver<GraphResolversTypes['Status'], ParentType, ContextType>;
};

export type GraphVerdictResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['Verdict'] = GraphResolversParentTypes['Verdict']> = {
  basis?: Resolver<Maybe<GraphResolversTypes['String']>, ParentType, ContextType>;
  calibration?: Resolver<Maybe<GraphResolversTypes['ID']>, ParentType, ContextType>;
  estimate?: Resolver<Maybe<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
  fitness?: Resolver<Maybe<GraphResolversTypes['Fitness']>, ParentType, ContextType>;
  foundBy?: Resolver<Maybe<GraphResolversTypes['ID']>, ParentType, ContextType>;
  guardBand?: Resolver<Maybe<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
  instrument?: Resolver<Maybe<GraphResolversTypes['ID']>, ParentType, ContextType>;
  linear?: Resolver<Maybe<GraphResolversTypes['EvenDrift']>, ParentType, ContextType>;
  max?: Resolver<Maybe<GraphResolversTypes['Limit']>, ParentType, ContextType>;
  min?: Resolver<Maybe<GraphResolversTypes['Limit']>, ParentType, ContextType>;
  pointer?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  probability?: Resolver<Maybe<GraphResolversTypes['Float']>, ParentType, ContextType>;
  reading?: Resolver<GraphResolversTypes['Quantity'], ParentType, ContextType>;
  rule?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  uncertainty?: Resolver<Maybe<GraphResolversTypes['Quantity']>, ParentType, ContextType>;
  verdict?: Resolver<GraphResolversTypes['Conformity'], ParentType, ContextType>;
};

export type GraphVerdictChangeResolvers<ContextType = GraphContext, ParentType extends GraphResolversParentTypes['VerdictChange'] = GraphResolversParentTypes['VerdictChange']> = {
  cause?: Resolver<GraphResolversTypes['ID'], ParentType, ContextType>;
  is?: Resolver<Maybe<GraphResolversTypes['Conformity']>, ParentType, ContextType>;
  judgement?: Resolver<GraphResolversTypes['Record'], ParentType, ContextType>;
  pointer?: Resolver<GraphResolversTypes['String'], ParentType, ContextType>;
  verdict?: Resolver<Maybe<GraphResolversTypes['Verdict']>, ParentType, ContextType>;
  was?: Resolver<Maybe<GraphResolversTypes['Conformity']>, ParentType, ContextType>;
};

export type GraphResolvers<ContextType = GraphContext> = {
  BuiltFor?: GraphBuiltForResolvers<ContextType>;
  CheckResult?: GraphCheckResultResolvers<ContextType>;
  Claim?: GraphClaimResolvers<ContextType>;
  ClaimConnection?: GraphClaimConnectionResolvers<ContextType>;
  ClaimEdge?: GraphClaimEdgeResolvers<ContextType>;
  ClaimedLot?: GraphClaimedLotResolvers<ContextType>;
  ClaimedLotConnection?: GraphClaimedLotConnectionResolvers<ContextType>;
  ClaimedLotEdge?: GraphClaimedLotEdgeResolvers<ContextType>;
  Clear?: GraphClearResolvers<ContextType>;
  Concession?: GraphConcessionResolvers<ContextType>;
  ConcessionLimit?: GraphConcessionLimitResolvers<ContextType>;
  ContainedCount?: GraphContainedCountResolvers<ContextType>;
  ContainedCountConnection?: GraphContainedCountConnectionResolvers<ContextType>;
  ContainedCountEdge?: GraphContainedCountEdgeResolvers<ContextType>;
  ContainedUnit?: GraphContainedUnitResolvers<ContextType>;
  ContainedUnitConnection?: GraphContainedUnitConnectionResolvers<ContextType>;
  ContainedUnitEdge?: GraphContainedUnitEdgeResolvers<ContextType>;
  Containment?: GraphContainmentResolvers<ContextType>;
  Contradiction?: GraphContradictionResolvers<ContextType>;
  Control?: GraphControlResolvers<ContextType>;
  ConversionCount?: GraphConversionCountResolvers<ContextType>;
  ConversionCountConnection?: GraphConversionCountConnectionResolvers<ContextType>;
  ConversionCountEdge?: GraphConversionCountEdgeResolvers<ContextType>;
  Custody?: GraphCustodyResolvers<ContextType>;
  EvenDrift?: GraphEvenDriftResolvers<ContextType>;
  ExposedUnit?: GraphExposedUnitResolvers<ContextType>;
  ExposedUnitConnection?: GraphExposedUnitConnectionResolvers<ContextType>;
  ExposedUnitEdge?: GraphExposedUnitEdgeResolvers<ContextType>;
  Finding?: GraphFindingResolvers<ContextType>;
  Fitness?: GraphFitnessResolvers<ContextType>;
  FittedPart?: GraphFittedPartResolvers<ContextType>;
  Held?: GraphHeldResolvers<ContextType>;
  History?: GraphHistoryResolvers<ContextType>;
  HistoryEntry?: GraphHistoryEntryResolvers<ContextType>;
  HistoryEntryConnection?: GraphHistoryEntryConnectionResolvers<ContextType>;
  HistoryEntryEdge?: GraphHistoryEntryEdgeResolvers<ContextType>;
  Instant?: GraphQLScalarType;
  Interval?: GraphIntervalResolvers<ContextType>;
  Limit?: GraphLimitResolvers<ContextType>;
  Lot?: GraphLotResolvers<ContextType>;
  LotConnection?: GraphLotConnectionResolvers<ContextType>;
  LotEdge?: GraphLotEdgeResolvers<ContextType>;
  LotExposure?: GraphLotExposureResolvers<ContextType>;
  LotUse?: GraphLotUseResolvers<ContextType>;
  LotUseConnection?: GraphLotUseConnectionResolvers<ContextType>;
  LotUseEdge?: GraphLotUseEdgeResolvers<ContextType>;
  Measurement?: GraphMeasurementResolvers<ContextType>;
  Mounting?: GraphMountingResolvers<ContextType>;
  MountingConnection?: GraphMountingConnectionResolvers<ContextType>;
  MountingEdge?: GraphMountingEdgeResolvers<ContextType>;
  Named?: GraphNamedResolvers<ContextType>;
  NamedQuantity?: GraphNamedQuantityResolvers<ContextType>;
  OpenFinding?: GraphOpenFindingResolvers<ContextType>;
  PageInfo?: GraphPageInfoResolvers<ContextType>;
  Pump?: GraphPumpResolvers<ContextType>;
  Quantity?: GraphQuantityResolvers<ContextType>;
  Query?: GraphQueryResolvers<ContextType>;
  Record?: GraphRecordResolvers<ContextType>;
  RecordConnection?: GraphRecordConnectionResolvers<ContextType>;
  RecordEdge?: GraphRecordEdgeResolvers<ContextType>;
  RemovedPart?: GraphRemovedPartResolvers<ContextType>;
  RenewedSeal?: GraphRenewedSealResolvers<ContextType>;
  RuleCount?: GraphRuleCountResolvers<ContextType>;
  RuleCountConnection?: GraphRuleCountConnectionResolvers<ContextType>;
  RuleCountEdge?: GraphRuleCountEdgeResolvers<ContextType>;
  SettingReading?: GraphSettingReadingResolvers<ContextType>;
  SettingValue?: GraphSettingValueResolvers<ContextType>;
  StandingCount?: GraphStandingCountResolvers<ContextType>;
  StandingCountConnection?: GraphStandingCountConnectionResolvers<ContextType>;
  StandingCountEdge?: GraphStandingCountEdgeResolvers<ContextType>;
  StationContent?: GraphStationContentResolvers<ContextType>;
  TorqueReading?: GraphTorqueReadingResolvers<ContextType>;
  Unit?: GraphUnitResolvers<ContextType>;
  UnitFinding?: GraphUnitFindingResolvers<ContextType>;
  UnitFindingConnection?: GraphUnitFindingConnectionResolvers<ContextType>;
  UnitFindingEdge?: GraphUnitFindingEdgeResolvers<ContextType>;
  UnitThen?: GraphUnitThenResolvers<ContextType>;
  Verdict?: GraphVerdictResolvers<ContextType>;
  VerdictChange?: GraphVerdictChangeResolvers<ContextType>;
};


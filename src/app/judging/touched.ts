/** What a fact touches, other than what it is about. */
export type Touched =
  /** The records that follow on the units of the fact, whoever's they are. */
  | { readonly what: 'following' }
  /** No record, but the units that this containment reaches, or that it was lifted from. */
  | { readonly what: 'containment'; readonly containment: string }
  | TouchedOfOne;

/** Records of one owner whose judgement it may change. */
export type TouchedOfOne =
  /** The records that name this instrument, by the shop's own id. */
  | { readonly what: 'instrument'; readonly key: string }
  /** The records that name this person, by the service's id; `since`: with work done at this instant or later. */
  | { readonly what: 'technician'; readonly key: string; readonly since?: string }
  /** The records that this distributor made in this shop, by its own id: what touches them may be the maker's. */
  | { readonly what: 'shop'; readonly owner: string; readonly key: string; readonly since: string }
  /** The records that parts of this lot went in by, as far as they are now overdrawn, or are no more. */
  | { readonly what: 'lot'; readonly maker: string; readonly number: string };

/** What the use cases need of the world besides the database: ids, randomness and the key that signs receipts. */
export type Effects = {
  /** A new id: a uuid v7. */
  readonly newId: () => string;
  readonly randomBytes: (count: number) => Uint8Array;
  /** The id of the key that signs receipts, and the signature of a text in base64. */
  readonly signingKey: string;
  readonly sign: (text: string) => string;
};

/** How much one document may ask for. A report that needs more is two reports. */
export const limits = Object.freeze({
  /** Lexical tokens, before anything is parsed. */
  tokens: 1_000,
  /** Fields on the way from the root to a leaf, the leaf with them. */
  depth: 8,
  /** Aliased fields, each as often as its fragment is spread. */
  aliases: 15,
  /** Fields of the query type. */
  roots: 5,
  /** Objects on one page. */
  first: 100,
  /** Fields of the answer, by the most that every page may hold. */
  cost: 20_000,
  /** What a list without pages is taken to hold. */
  listLength: 5,
});

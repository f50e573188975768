/** What rows stand on, opened when the first of them asks for it. */

export type Scale = {
  readonly records: number;
  readonly seed: number;
  /** Small amounts: that everything runs, not how fast it is. */
  readonly quick: boolean;
};

export type Ground = Scale & { readonly tell: (line: string) => void };

export function openGround(scale: Scale, tell: Ground['tell']): Ground & { readonly close: () => Promise<void> } {
  return { ...scale, tell, close: async () => {} };
}

/** A job sheet: a plan with the units that it is for, its cautions first, and its texts in the reader's language. */
import type { Edition } from '../catalogue/edition.ts';
import { sealsFitting } from '../catalogue/lookup.ts';
import { languageFor } from '../catalogue/names.ts';
import { cautionsFor } from './cautions.ts';
import type { Plan } from './plan.ts';
import { sheetDigest } from './sheet-digest.ts';
import { sheetLayout } from './sheet-layout.ts';
import type { Requirement } from './shop-bench.ts';
import { frameLanguages } from './step-frames.ts';
import { withTexts } from './step-texts.ts';
import type { Supply } from './supply.ts';
import type { BuiltFor, PumpAtHand } from './target-function.ts';

export type SheetHeads = {
  readonly control: NamedUnit & { readonly body: string; readonly builtFor: BuiltFor };
  readonly pump: (NamedUnit & PumpAtHand) | null;
  readonly from: { readonly function: string | null; readonly fit: string };
  readonly to: { readonly function: string | null };
};
type NamedUnit = { readonly unit: string; readonly maker: string; readonly name: string | null };

/** What a shop has for the work; kits are those on its shelf then. */
export type AtShop = {
  readonly shop: string;
  readonly supply: Supply;
  readonly requirements: readonly Requirement[];
};

export type Sheet = ReturnType<typeof sheetOf>;

/** Cautions first, on paper as in JSON. With each joint come the seals that fit it and stand the fluid. */
export function sheetOf(
  plan: Plan,
  edition: Edition,
  languages: readonly string[],
  heads: SheetHeads,
  atShop: AtShop | null = null,
) {
  const { cover: ofAll, joints, steps, ...work } = plan;
  const cover = atShop?.supply.cover ?? ofAll;
  const fluid = heads.pump?.fluid ?? null;
  const language = languageFor(edition, frameLanguages, languages);
  const layout = sheetLayout(edition, heads);
  const fitting = (size: string) =>
    sealsFitting(edition, size)
      .filter(
        ({ fluids, retired }) => retired !== true && (fluid === null || fluids === undefined || fluids.includes(fluid)),
      )
      .map(({ id }) => id);
  return {
    sheet: sheetDigest(plan),
    edition: edition.edition,
    language,
    ...heads,
    cautions: cautionsFor(edition, language).map(({ text }) => text),
    ...work,
    steps: withTexts(steps, { edition, layout, settings: work.settings, language }),
    joints: joints.map((joint) => ({
      ...joint,
      seals: joint.seals.map(({ seal, quantity }) => ({ seal, quantity, fitting: fitting(seal) })),
    })),
    kits: cover.kits,
    loose: cover.loose,
    leftOver: cover.leftOver,
    atShop:
      atShop === null
        ? null
        : {
            shop: atShop.shop,
            pieces: atShop.supply.pieces,
            buy: atShop.supply.buy,
            requirements: atShop.requirements,
          },
    cost: cover.cost,
  };
}

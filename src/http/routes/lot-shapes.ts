/** Answers about what comes into lots and leaves them. */
import { z } from 'zod';
import { moveKinds } from '../../core/stock/ledger.ts';
import { asKept, instant, list, pageOf, settledFields, uuid } from './common-shapes.ts';
import { checkedOf, id, receipt } from './record-shapes.ts';
import { lotName } from './stock-shapes.ts';

const number = z.number().meta({ type: 'integer' });

const moved = (what: string, name: string) => {
  const outcome = z
    .strictObject({ id, lot: lotName, shop: z.string(), quantity: number, receipt })
    .meta({ id: `${name}Outcome`, description: `${what} as kept` });
  return { 200: checkedOf(outcome, `${name}Checked`), 201: outcome };
};
export const moveOutcomes = {
  intake: moved('The intake', 'Intake'),
  scrapping: moved('The scrapping', 'Scrapping'),
  return: moved('The return', 'Return'),
  count: moved('The count', 'Count'),
};
const restockingOutcome = z
  .strictObject({
    id,
    record: uuid,
    lot: lotName.nullable().meta({ description: 'The lot that it is from; null: not known' }),
    ...{ shop: z.string(), element: z.string(), quantity: number, receipt },
  })
  .meta({ id: 'RestockingOutcome', description: 'The restocking as kept' });
export const restockingOutcomes = {
  200: checkedOf(restockingOutcome, 'RestockingChecked'),
  201: restockingOutcome,
};

const piece = z.strictObject({ item: z.string(), quantity: number });
const move = z
  .strictObject({
    id: uuid,
    what: z.enum(moveKinds),
    reference: z.string().meta({ description: "The shop's own number of it" }),
    performedAt: asKept('When it was, as it was sent: a time, or {"at", "precision"}', ['string', 'object']),
    lot: z.string().meta({ description: 'MAKER/NUMBER' }),
    shop: z.string(),
    location: z.string().nullable(),
    quantity: number,
    counts: z
      .string()
      .nullable()
      .meta({ description: 'kits or pieces, where it was said; else kits of a lot of kits' }),
    item: z.string().nullable().meta({ description: "What the pieces are; null: the lot's part" }),
    loose: list(piece).meta({ description: 'Of a count: the pieces beside whole kits' }),
    origin: z
      .strictObject({ record: uuid, station: z.string().nullable() })
      .nullable()
      .meta({ description: 'Of a restocking: the record and the station that it came out of' }),
  })
  .meta({ id: 'LotMove' });
export const movePage = pageOf(move, 'In the order in which they were recorded');

const item = z
  .strictObject({
    item: z.string().meta({ description: 'The element or seal; of a part that no edition knows, that part' }),
    takenIn: number,
    restocked: number,
    used: number,
    scrapped: number,
    returned: number,
    counted: number.nullable().meta({
      description:
        'What the last count found beyond what should have been there: it came in unrecorded, or left unrecorded where this is negative',
    }),
    balance: number.nullable().meta({
      description: 'taken in + restocked - used - scrapped - returned + counted; null: not known',
    }),
    overdrawn: number.nullable().meta({ description: 'How far the balance is below nothing' }),
  })
  .meta({ id: 'ItemBalance', description: 'In pieces' });
const stands = {
  known: z.boolean().meta({ description: 'Whether anything is known to have come in: without that, no balance' }),
  kits: z
    .strictObject({
      takenIn: number.meta({ description: 'Less those that left whole' }),
      opened: number.meta({ description: 'Of at least so many a piece is gone' }),
      remainder: list(piece).meta({ description: 'What is left of opened ones' }),
    })
    .nullable()
    .meta({ description: 'Of a lot of kits' }),
  items: list(item),
};
const thenFields = { performed: instant.nullable().optional(), ...settledFields };

export const lotAnswer = z
  .strictObject({
    ...{ maker: z.string(), number: z.string(), part: z.string(), version: number, record: uuid },
    madeAt: asKept('As it was sent; null: not stated', ['string', 'object']).nullable(),
    components: list(z.strictObject({ element: z.string(), lot: lotName })),
    withdrawn: z.strictObject({ from: asKept('As it was sent', ['string', 'object']), why: z.string() }).nullable(),
    shops: list(z.strictObject({ shop: z.string(), ...stands }).meta({ id: 'LotAtShop' })),
    ...thenFields,
  })
  .meta({ id: 'LotAnswer', description: 'A lot of your own as stated last, and how it stands at each shop' });
export const stockAtPage = pageOf(
  z
    .strictObject({ lot: z.string().meta({ description: 'MAKER/NUMBER' }), part: z.string(), ...stands })
    .meta({ id: 'LotInStock' }),
  'Lots by their names',
)
  .extend(thenFields)
  .meta({ description: 'Lots by their names' });
